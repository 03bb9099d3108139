"""What the dashboard's process apart does for the year laid by hand: its plan is known."""

import sys
import time
from dataclasses import dataclass
from threading import Event

from capacity.plans.outcome import Progress
from tests.ui.year_plan import year_base, year_outcome
from ui.desk.job import Tell
from ui.desk.plan_job import PlanWork

SEARCH_SECONDS = 1.0
"""Long enough for the page to show how the search goes, as it does before every plan."""

PLAN_IS_THERE = "plan is there at "
"""Before the seconds since 1970 on a line of the server's log."""


@dataclass(frozen=True, slots=True)
class KnownOrSearched(PlanWork):
    """Answers the plan of the year for the year, and searches for any other base."""

    def __call__(self, tell: Tell, stop: Event) -> object:
        """Return the outcome, and say in the log when it is there."""
        if self.base != year_base():
            return PlanWork.__call__(self, tell, stop)
        known = year_outcome()
        goals = known.audit.goals
        tell(Progress(0.0, goals.days_past_latest_in, goals.money, None, None, "laid by hand"))
        stop.wait(SEARCH_SECONDS)
        sys.stderr.write(f"{PLAN_IS_THERE}{time.time()}\n")
        sys.stderr.flush()
        return known
