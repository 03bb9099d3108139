"""What a plan says of stages that wait: sheet, messages, and what the late part costs, by hand.

C1 is open for 2 days, repair takes 3 and wash 6 beside each other, close 1. It comes in on day 5
and is to be out by day 14; every day later costs 100 EUR.
"""

import io

import openpyxl
import pytest

import capacity
from capacity.facts import Base, ReadyDate
from capacity.messages import Level
from capacity.plans.outcome import Planned
from capacity.questions.why.explain import explain
from capacity.questions.worth.selling import worth_of
from capacity.questions.worth.wording import worth_sentences
from capacity.reports.plan.messages import plan_messages
from capacity.reports.plan.workbook import plan_workbook
from capacity.slots.rules.ready_dates import READY_AT_ONCE
from tests.bases import day
from tests.plans.stories import base, check
from tests.plans.test_waiting import HEAVY, until

SETTINGS = capacity.Settings(seconds=40)


def late(*ready: ReadyDate) -> Base:
    one = check(
        package="Heavy",
        earliest_in=day(5),
        latest_in=day(5),
        agreed_out=day(14),
        late_cost_per_day=100.0,
    )
    return base(one, packages=(HEAVY,), ready_dates=ready)


@pytest.fixture(scope="module")
def world() -> Base:
    return late(until("repair", 12), until("wash", 6, "tool"))


@pytest.fixture(scope="module")
def outcome(world) -> Planned:
    found = capacity.plan(world, SETTINGS)
    assert isinstance(found, capacity.Planned)
    return found


def test_the_plan_waits_and_is_two_days_late(world, outcome):
    assert outcome.plan.placements[0].out_day == day(16)
    assert outcome.audit.goals.money == pytest.approx(200)


def test_the_sheet_says_what_waits_for_what(world, outcome):
    book = openpyxl.load_workbook(io.BytesIO(plan_workbook(world, outcome, ())))
    headings, *lines = book["Ready dates"].iter_rows(values_only=True)
    first, second = (dict(zip(headings, line, strict=True)) for line in lines)
    assert (first["Stage"], first["Waits for"], first["Days it waits"]) == ("repair", "part", 5)
    assert first["Days later out for it"] == 2
    assert second["Remarks"] == "holds nothing back in this plan"


def test_a_note_says_it_too(world, outcome):
    (note,) = [m for m in plan_messages(outcome, world) if m.where == "Ready dates"]
    assert note.level is Level.NOTE
    assert note.what == (
        "'repair' of C1 waits 5 days for 'part', until Sat 16 Jan 2027; C1 is out 2 days later "
        "for it."
    )


def test_what_each_late_part_costs_is_searched_anew(world, outcome):
    found = worth_of(world, outcome.plan, SETTINGS, more=(READY_AT_ONCE,))
    by_row = {worth.row: worth for worth in found.worths}
    assert by_row[0].saves == pytest.approx(200)
    assert (by_row[0].least, by_row[0].most) == (pytest.approx(200), pytest.approx(200))
    assert by_row[1].saves == pytest.approx(0)
    text = "\n".join(worth_sentences(found, world))
    assert "'repair' of C1 not before Sat 16 Jan 2027 (part): ready at once" in text
    assert "saves 200 EUR, proven" in text
    assert "Each Ready date is taken away by itself" in text


def test_explain_names_the_part_that_keeps_a_check_late(world, outcome):
    text = "\n".join(explain(world, outcome.plan, check="C1").sentences)
    assert (
        "could be out 2 days earlier, on Mon 18 Jan 2027, but for this: 'repair' of C1 not before "
        "Sat 16 Jan 2027 (part)"
    ) in text


def test_without_ready_dates_nothing_is_said_of_them():
    plain = late()
    found = capacity.plan(plain, SETTINGS)
    assert isinstance(found, capacity.Planned)
    book = openpyxl.load_workbook(io.BytesIO(plan_workbook(plain, found, ())))
    assert "Ready dates" not in book.sheetnames
    assert not [m for m in plan_messages(found, plain) if "Ready" in m.where]
