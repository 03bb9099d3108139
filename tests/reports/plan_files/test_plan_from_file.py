"""A summary read back is the plan that was written; everything else is refused with its place."""

import json
from functools import cache
from pathlib import Path
from random import Random
from typing import Any

import pytest

import capacity
from capacity import InputError
from capacity.facts import AircraftType, Base, Status
from capacity.labour.calendar import calendar_of
from capacity.questions.asking.places import choice_of
from capacity.questions.asking.single_bays import single_bays
from capacity.reports.plan.summary import summary, write_summary
from capacity.reports.plan_files.plan_from_file import plan_as_written, plan_from_file
from capacity.slots.candidates import find_slots
from capacity.slots.program.build import program_over
from capacity.slots.program.plan_of import plan_of
from tests.reference import stories
from tests.reference.random_bases import small_base
from tests.reference.stories import bays, visit
from tests.slots.program.test_day_sets import two_days
from tests.slots.rich_bases import rich_base

BASE = stories.base(
    bays(2),
    visit("A", 5, 0, 0),
    visit("B", 3, 1, 4),
    visit("Wide", 3, 2, 2, type="Broad"),
    visit("O", 3, 2, 2, status=Status.OPTION, price=5.0),
).replace(
    types=(
        AircraftType("Twin", 34.0, 38.0, 12.0),
        AircraftType("Broad", 90.0, 38.0, 12.0),
    )
)


def planned(base: Base) -> capacity.Planned | None:
    outcome = capacity.plan(base, capacity.Settings(seconds=2))
    return outcome if isinstance(outcome, capacity.Planned) else None


@cache
def planned_of(kind: Any, seed: int) -> tuple[Base, capacity.Planned | None]:
    """Any plan of a random base will do."""
    base = kind(Random(seed))
    outcome = capacity.plan(base, capacity.Settings(seconds=0.3))
    return base, outcome if isinstance(outcome, capacity.Planned) else None


def written() -> dict[str, Any]:
    outcome = planned(BASE)
    assert outcome is not None
    told: dict[str, Any] = summary(BASE, outcome, ())
    return told


def messages_of(told: object, base: Base = BASE) -> list[str]:
    with pytest.raises(InputError) as caught:
        plan_from_file(base, json.dumps(told))
    assert all(message.where and message.remedy for message in caught.value.messages)
    return [f"{message.where}: {message.what}" for message in caught.value.messages]


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("kind", [small_base, rich_base])
def test_what_was_written_is_read_back(kind: Any, seed: int, tmp_path: Path) -> None:
    base, outcome = planned_of(kind, seed)
    if outcome is None:
        return
    path = tmp_path / "plan.json"
    write_summary(base, outcome, (), path)
    for source in (path, str(path), path.read_text(encoding="utf-8")):
        back = plan_from_file(base, source)
        assert set(back.placements) == set(outcome.plan.placements)
        assert set(back.not_placed) == set(outcome.plan.not_placed)
        assert set(back.refused) == set(outcome.plan.refused)
        assert capacity.audit(base, back) == capacity.audit(base, outcome.plan)


def test_the_days_of_levelled_hours_are_read_back_or_refused_with_their_place() -> None:
    base = two_days(1.5)
    outcome = planned(base)
    assert outcome is not None
    told = summary(base, outcome, ())
    back = plan_from_file(base, json.dumps(told))
    assert set(back.placements) == set(outcome.plan.placements)
    assert capacity.audit(base, back) == capacity.audit(base, outcome.plan)
    days = told["placements"][0]["stages"][0]["hours"][0]["days"]
    assert [one["day"] for one in days] == ["2027-01-04", "2027-01-05"]
    days[0]["day"] = "2027-01-11"
    (message,) = messages_of(told, base)
    assert message.startswith("placements[0].stages[0].hours[0].days[0].day: 2027-01-11")


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("kind", [small_base, rich_base])
def test_the_columns_of_a_plan_give_the_same_plan(kind: Any, seed: int) -> None:
    base, outcome = planned_of(kind, seed)
    if outcome is None:
        return
    slots = single_bays(find_slots(base, calendar_of(base)))
    program = program_over(slots, base)
    chosen = choice_of(outcome.plan, slots, program)
    assert plan_of(chosen, program, slots) == outcome.plan
    assert program.holds(chosen)
    goals = outcome.audit.goals
    assert program.cost(chosen) == (goals.days_past_latest_in, pytest.approx(goals.money, abs=0.01))


def test_options_without_a_place_are_refused_and_the_others_not_placed() -> None:
    plan = plan_from_file(BASE, json.dumps(written()))
    assert plan.not_placed == ("Wide",)
    assert plan.refused == ("O",)
    assert plan_as_written(json.dumps(written())).refused == ()


def test_every_fault_is_told_with_its_place() -> None:
    told = written()
    told["placements"][0]["in"] = "4 January"
    told["placements"][0]["stages"][0]["to"] = None
    del told["placements"][1]["bay"]
    told["not_placed"] = ["Wide", 7]
    assert messages_of(told) == [
        "placements[0].in: a date such as 2027-01-31 is wanted here.",
        "placements[0].stages[0].to: a date such as 2027-01-31 is wanted here.",
        "placements[1].bay: it is missing.",
        "not_placed[1]: text is wanted here.",
    ]


def test_ranges_run_forward() -> None:
    told = written()
    told["placements"][0]["out"] = "2026-12-01"
    told["placements"][1]["stages"][0]["to"] = "2026-12-01"
    assert [line.partition(":")[0] for line in messages_of(told)] == [
        "placements[0].out",
        "placements[1].stages[0].to",
    ]


def test_names_that_the_base_does_not_have_are_told() -> None:
    told = written()
    told["placements"][0]["bay"] = "B3"
    told["placements"][1]["check"] = "BB"
    told["placements"][1]["stages"][0]["stage"] = "Wrok"
    lines = messages_of(told)
    assert len(lines) == 3
    assert "'B3' is not in the sheet Bays" in lines[0]
    assert "'BB' is not in the sheet Checks" in lines[1]
    assert "'Wrok' is not in the sheet Packages" in lines[2]


def test_a_plan_that_breaks_a_rule_is_refused_with_the_rule() -> None:
    told = written()
    told["placements"][1]["bay"] = told["placements"][0]["bay"]
    (line,) = messages_of(told)
    assert "B1" in line


@pytest.mark.parametrize("told", [{"outcome": "impossible"}, [], {}, 7])
def test_what_is_no_plan_is_refused(told: object, tmp_path: Path) -> None:
    path = tmp_path / "plan.json"
    path.write_text(json.dumps(told), encoding="utf-8")
    with pytest.raises(InputError):
        plan_from_file(BASE, path)


@pytest.mark.parametrize("content", [b"", b"{", b"\xff\xfe{", b"[" * 100_000, b"PK\x03\x04"])
def test_what_is_no_json_is_refused(content: bytes, tmp_path: Path) -> None:
    path = tmp_path / "plan.json"
    path.write_bytes(content)
    with pytest.raises(InputError, match=r"plan\.json"):
        plan_from_file(BASE, path)


def test_a_file_that_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="cannot be opened"):
        plan_from_file(BASE, tmp_path / "none.json")
