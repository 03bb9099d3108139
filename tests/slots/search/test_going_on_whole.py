"""A plan that still holds is what a search begins with, whole, and its answer is never worse."""

import json
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from random import Random

import pytest

import capacity
from capacity.cli import main
from capacity.facts import Base, Closure, Package, Stage, Status
from capacity.plans.plan import StageDays
from tests.inputs import books
from tests.reference import stories
from tests.reference.stories import bays, day, visit
from tests.slots.rich_bases import rich_base

# Rich bases with a check in already that may wait for its turn at a shop or for the paint bay.
WITH_A_CHOICE = (13, 52, 100, 112, 127)


def planned(base: Base, seconds: float, begin: capacity.Plan | None = None) -> capacity.Planned:
    outcome = capacity.plan(base, capacity.Settings(seconds=seconds), begin=begin)
    assert isinstance(outcome, capacity.Planned)
    return outcome


def goals(outcome: capacity.Planned) -> tuple[int, float]:
    found = outcome.audit.goals
    return found.days_past_latest_in, round(found.money, 2)


@pytest.mark.parametrize("seed", WITH_A_CHOICE)
def test_of_the_unchanged_base_the_answer_is_never_worse(seed: int) -> None:
    base = rich_base(Random(seed))
    first = planned(base, 5)
    again = planned(base, 0.1, first.plan)
    assert goals(again) <= goals(first)
    assert again.history[0].source == "earlier plan"
    assert (again.history[0].days_past, round(again.history[0].money, 2)) == goals(first)


@pytest.mark.parametrize("seed", WITH_A_CHOICE[:3])
def test_who_has_to_go_takes_nobody_else_along(seed: int) -> None:
    base = rich_base(Random(seed))
    first = planned(base, 5)
    gone = next(c for c in reversed(base.checks) if c.status is not Status.FIXED)
    fewer = base.replace(checks=tuple(check for check in base.checks if check != gone))
    again = planned(fewer, 0.1, first.plan)
    assert again.audit.goals.days_past_latest_in <= first.audit.goals.days_past_latest_in
    left = replace(
        first.plan,
        placements=tuple(p for p in first.plan.placements if p.check != gone.name),
        not_placed=tuple(n for n in first.plan.not_placed if n != gone.name),
        refused=tuple(n for n in first.plan.refused if n != gone.name),
    )
    of_old = capacity.audit(fewer, left).goals
    assert goals(again) <= (of_old.days_past_latest_in, round(of_old.money, 2))


def test_a_check_that_a_closure_pushes_out_leaves_the_others_where_they_are() -> None:
    crowd = stories.base(
        bays(2), *(visit(name, 5, 0, 20, early_cost_per_day=10.0) for name in "ABCDEF")
    )
    first = stories.proven(crowd)
    one = first.plan.placements[-1]
    closed = crowd.replace(closures=(Closure(one.bay, one.in_day, one.in_day),))
    again = planned(closed, 0.1, first.plan)
    assert not again.plan.not_placed
    assert again.history[0].source == "earlier plan"


def test_a_plan_that_holds_but_is_not_among_the_ways_looked_at_is_kept() -> None:
    """In on Friday for 4 days, 2 at the shortest and 6 at the longest; by hand, 5.

    110 h in 5 days are 66 h in the first week, in which 70 h are there, and 44 h in the second.
    In 4 days they would be 82.5 h in the first; 6 days end past Agreed out.
    """
    hours = {"Mechanic": 110.0}
    stage = Stage("Work", "maintenance", 4, hours, shortest_days=2, longest_days=6)
    friday = visit("A", 4, 4, 4, agreed_out=day(9), late_cost_per_day=100.0)
    base = stories.base(bays(1), friday, packages=(Package("4 days", (stage,)),))
    stages = (StageDays("Work", day(4), day(9)),)
    by_hand = capacity.Plan((capacity.Placement("A", "B1", "Work", day(4), day(9), stages),))
    assert capacity.audit(base, by_hand).broken == ()
    again = planned(base, 5, by_hand)
    assert again.audit.goals.money == 0.0
    assert again.bound is None or again.bound <= 0.0


def shop_book(folder: Path) -> Path:
    """F1 is fixed; C1 needs the shop on the same days, and its delay is the dearer one."""
    sheets = books.with_shops(books.valid())
    books.change(sheets, "Base", "Longest delay days", "Value", 2)
    sheets["Base"].append(["Longest wait days", 4])
    sheets["Base"][4][1] = "Mon-Sun"
    sheets["Shops"][1][1] = 1
    checks = sheets["Checks"]
    sheets["Checks"] = [checks[0], checks[1], checks[3]]
    for name, heading, value in (
        ("C1", "Latest in", date(2027, 1, 4)),
        ("C1", "Agreed out", date(2027, 1, 10)),
        ("C1", "Type", "T40"),
        ("C3", "Remaining %", None),
        ("C3", "Fixed in", date(2027, 1, 4)),
    ):
        books.change(sheets, "Checks", name, heading, value)
    return books.write_workbook(sheets, folder / "shop.xlsx")


def test_by_the_command_line_a_plan_that_waits_at_a_shop_is_kept(tmp_path: Path) -> None:
    book, first, again = shop_book(tmp_path), tmp_path / "a.json", tmp_path / "b.json"
    for seconds, options in (
        ("5", ["--plan-out", str(first)]),
        ("0.1", ["--plan-out", str(again)]),
    ):
        earlier = ["--plan", str(first)] if first.exists() else []
        with pytest.raises(SystemExit) as ended:
            main(["plan", str(book), "--seconds", seconds, *options, *earlier])
        assert ended.value.code == 0
    told = [json.loads(path.read_text(encoding="utf-8")) for path in (first, again)]
    old, new = ((t["goals"]["days_past_latest_in"], t["goals"]["money"]) for t in told)
    assert new <= old
    waits = {p["check"]: waited(p["stages"]) for p in told[0]["placements"]}
    assert waits["C3"] > 0  # else the test says nothing
    assert told[1]["placements"] == told[0]["placements"]


def waited(stages: list[dict[str, str]]) -> int:
    """Return the days between the last two stages, less those that the shop works: three."""
    before, last = sorted(stages, key=lambda stage: stage["from"])[-2:]
    gap = date.fromisoformat(last["from"]) - date.fromisoformat(before["to"])
    return max(0, (gap - timedelta(days=1)).days)
