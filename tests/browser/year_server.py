"""Serve the dashboard, with the plan of one workbook known beforehand: the year laid by hand.

Takes the arguments of ``ui.serving.server``. A search for a year goes on for minutes; what a
page does with its plan does not hang on how it was found. Every other workbook is searched as ever.
"""

import sys
import time
from pathlib import Path
from threading import Event

ROOT = str(Path(__file__).parents[2])
if ROOT not in sys.path:
    sys.path.append(ROOT)

import ui.desk.plan_job  # noqa: E402
import ui.serving.server  # noqa: E402
from capacity.facts import Base  # noqa: E402
from capacity.planning import plan  # noqa: E402
from capacity.plans.outcome import Outcome, Progress  # noqa: E402
from capacity.plans.plan import Plan  # noqa: E402
from capacity.settings import Settings  # noqa: E402
from tests.ui.year_plan import year_base, year_outcome  # noqa: E402
from ui.desk.job import Tell  # noqa: E402

SEARCH_SECONDS = 1.0
"""Long enough for the page to show how the search goes, as it does before every plan."""

PLAN_IS_THERE = "plan is there at "
"""Before the seconds since 1970 on a line of the server's log."""


def known_or_searched(
    base: Base, settings: Settings, tell: Tell, stop: Event, begin: Plan | None = None
) -> Outcome:
    """Return the plan of the year for the year, and search for any other base."""
    if base != year_base():
        return plan(base, settings, tell, stop, begin)
    known = year_outcome()
    goals = known.audit.goals
    tell(Progress(0.0, goals.days_past_latest_in, goals.money, None, None, "laid by hand"))
    stop.wait(SEARCH_SECONDS)
    sys.stdout.write(f"{PLAN_IS_THERE}{time.time()}\n")
    sys.stdout.flush()
    return known


if __name__ == "__main__":
    ui.desk.plan_job.plan = known_or_searched
    ui.serving.server.run()
