"""The page Commercial beside a plan made by hand, which is the same in every run."""

import time
from datetime import date

from streamlit.testing.v1 import AppTest

from capacity.facts import Base
from capacity.plans.outcome import Planned
from capacity.plans.plan import Placement, Plan, StageDays
from capacity.plans.stays import StayLayout
from capacity.plans.worked_days import WorkedDays
from capacity.questions.asking.as_outcome import as_outcome
from capacity.settings import Settings
from tests.ui.ways_through import MOST_SECONDS, SAMPLES, button, desk_of
from ui.desk.desk import Desk
from ui.desk.opened_workbook import OpenedBook, opened_from_path
from ui.desk.plan_job import PLAN

PAGE = "pages/commercial.py"

STAYS = (
    ("T1", "Large bay", date(2027, 1, 4)),
    ("T3", "Small bay", date(2027, 1, 7)),
    ("T2", "Large bay", date(2027, 1, 11)),
    ("T4", "Large bay", date(2027, 1, 18)),
)
"""Where the checks of the smallest sample stand; the audit finds nothing against it."""


def opened_tiny() -> OpenedBook:
    """Return the smallest sample as a person opens it."""
    return opened_from_path(SAMPLES / "tiny.xlsx")


def planned_by_hand(base: Base) -> Planned:
    """Return the plan of ``STAYS`` at the normal pace, audited."""
    layout, checks = StayLayout(base, WorkedDays(base)), {c.name: c for c in base.checks}
    placements = []
    for name, bay, in_day in STAYS:
        stay = layout.lay_out(checks[name], bay, in_day)
        stages = tuple(StageDays(s.work.stage, s.first, s.until) for s in stay.stages)
        placements.append(Placement(name, bay, stages[0].stage, in_day, stay.out_day, stages))
    outcome = as_outcome(Plan(tuple(placements), (), ()), base, Settings(), 1.0, "proof")
    assert outcome.audit.broken == ()
    return outcome


def put_on(desk: Desk, opened: OpenedBook, outcome: Planned) -> None:
    """Open a workbook on a desk and let a run come to this outcome."""
    if desk.opened is not opened:
        desk.open(opened)
    job = desk.start(PLAN, opened, lambda tell, stop: outcome, 1.0)
    assert job is not None
    job.join(MOST_SECONDS)


def commercial_page(app: AppTest) -> AppTest:
    """Go to the page, with the plan on its desk."""
    opened = opened_tiny()
    put_on(desk_of(app), opened, planned_by_hand(opened.book.base))
    return app.switch_page(PAGE).run()


def field(app: AppTest, kind: str, label: str):
    """Return the field of a kind whose label begins so."""
    (found,) = (element for element in getattr(app, kind) if element.label.startswith(label))
    return found


def asked(app: AppTest) -> AppTest:
    """Press Ask and wait for the answer."""
    button(app, "Ask").click().run()
    give_up = time.monotonic() + MOST_SECONDS
    while desk_of(app).is_working and time.monotonic() < give_up:
        time.sleep(0.05)
    return app.run()
