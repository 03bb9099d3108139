"""Next week's workbook on the page Planner: what becomes of each check, and going on with it."""

import time
from dataclasses import replace
from datetime import date

import pytest
from streamlit.testing.v1 import AppTest

from capacity.inputs.reading.edited_copy import SheetEdit
from capacity.questions.roll.files import roll_forward
from tests.ruled_out_words import faults_in
from tests.ui.enquiry_plans import SAMPLES, opened_tiny, planned_by_hand, put_on
from tests.ui.ways_through import MOST_SECONDS, button, desk_of, labels, said
from tests.ui.words_on_pages import texts_of_page
from ui.desk.desk import Desk
from ui.desk.job import State
from ui.desk.opened_workbook import with_edits
from ui.desk.plan_job import is_outdated, result_of
from ui.desk.roll_job import (
    ROLLED,
    Week,
    came_by_plan,
    name_of,
    next_week,
    plan_file_of,
    re_plan,
    start_roll,
)
from ui.parts.learnt import NOT_YET

NEXT = date(2027, 1, 11)


@pytest.fixture
def planned(app: AppTest) -> AppTest:
    opened = opened_tiny()
    put_on(desk_of(app), opened, planned_by_hand(opened.book.base))
    return app.run()


@pytest.fixture
def desk() -> Desk:
    """A desk with the plan, and no page."""
    opened, of = opened_tiny(), Desk("of a test")
    put_on(of, opened, planned_by_hand(opened.book.base))
    return of


def rolled(app: AppTest) -> AppTest:
    button(app, "Roll forward").click().run()
    give_up = time.monotonic() + MOST_SECONDS
    while desk_of(app).is_working and time.monotonic() < give_up:
        time.sleep(0.05)
    return app.run()


def test_the_page_rolls_as_the_command_does_and_goes_on_with_the_plan(planned):
    desk = desk_of(planned)
    plan = result_of(desk).outcome.plan
    expected = roll_forward(SAMPLES / "tiny.xlsx", plan, NEXT)
    assert NOT_YET in said(planned)
    rolled(planned)
    assert not planned.exception
    week = next_week(desk)
    assert week.told.rolled == expected.rolled
    (table,) = (t.value for t in planned.table if "Whose" in t.value.columns)
    became = dict(zip(table["Whose"], table["What"], strict=True))
    assert became["T1"] == "delivered"
    assert "What needs a person" in said(planned)
    assert "every slot is what it was" in said(planned)
    assert faults_in(list(texts_of_page(planned))) == []
    assert {"Next week's workbook (.xlsx)", "Plan file for it (.json)"} <= set(labels(planned))
    assert plan_file_of(week).startswith(b"{")
    button(planned, "Go on with it").click().run()
    assert not planned.exception
    assert desk.opened.name == "tiny-2027-01-11.xlsx"
    assert desk.opened.book.base.first_day == NEXT
    result = result_of(desk)
    assert result.outcome.stopped_by == ROLLED
    assert not is_outdated(desk)
    slots = result.outcome.plan.slots_by_check()
    before = plan.slots_by_check()
    assert {name: before[name] for name in ("T2", "T4")} == {n: slots[n] for n in ("T2", "T4")}
    assert next_week(desk) is None


def ended(desk: Desk, week: Week) -> None:
    job = start_roll(desk, week)
    assert job is not None
    job.join(MOST_SECONDS)


def test_who_did_not_come_is_still_to_be_planned(desk):
    base, outcome = result_of(desk).opened.book.base, result_of(desk).outcome
    assert came_by_plan(base, outcome, NEXT) == ("T1", "T3")
    ended(desk, Week(NEXT, not_in=("T3",)))
    assert next_week(desk).told.rolled.not_in == ("T3",)


def test_what_cannot_be_rolled_is_refused_with_its_cell(desk):
    ended(desk, Week(NEXT, book=("T2",)))
    assert desk.job.state is State.FAILED
    assert "not an option" in desk.job.refusal[0].what
    assert next_week(desk) is None


def test_an_answer_is_gone_once_the_workbook_is_another(desk):
    ended(desk, Week(NEXT))
    assert next_week(desk) is not None
    desk.use(with_edits(desk.opened, [SheetEdit("Checks", {3: {"Customer": "Aero"}})]))
    assert next_week(desk) is None


def test_a_plan_that_no_longer_stands_is_re_planned_from(desk):
    """T3 has done a tenth of its stage by the new first day, so it is out later than planned."""
    before = result_of(desk).outcome.plan
    (stage,) = {s.stage for p in before.by_check()["T3"] for s in p.stages[:1]}
    late = {"Check": "T3", "Stage": stage, "As of": NEXT, "Done %": 10.0}
    desk.use(with_edits(desk.opened, [SheetEdit("Progress", added=(late,))]))
    ended(desk, Week(NEXT))
    week = next_week(desk)
    assert week.planned is None
    assert week.broken
    job = re_plan(desk, week, 2.0)
    job.join(MOST_SECONDS)
    assert job.state is State.DONE, job.failure
    result = result_of(desk)
    assert desk.opened.book.base.first_day == NEXT
    assert result.opened.book.base.work_counts_from == NEXT
    after = result.outcome.plan.by_check()
    assert after["T3"][-1].out_day > before.by_check()["T3"][-1].out_day


def test_names_do_not_grow_from_week_to_week():
    opened = opened_tiny()
    assert name_of(opened, NEXT) == "tiny-2027-01-11.xlsx"
    named = replace(opened, name="tiny-2027-01-11.xlsx")
    assert name_of(named, date(2027, 1, 18)) == "tiny-2027-01-18.xlsx"
