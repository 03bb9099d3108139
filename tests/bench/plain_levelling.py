"""Levelled man-hours of the plainest bases, from the facts alone, for peers.

Each skill of each stage is levelled by itself: hours of a week at most peak x even share of a day x
days in that week. Stages in a row have no float.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np
from scipy.optimize import linprog
from scipy.sparse import coo_array

from capacity.facts import Base
from capacity.plans.plan import Placement, Plan, WeekHours
from capacity.plans.weeks import week_name
from tests.bench.plain_man_hours import WeekAndSkill, given_hours
from tests.bench.plain_stays import PlainStay, assert_plain, plain_stays


@dataclass(frozen=True)
class PlainStrand:
    """The ``hours`` of one skill of a stage, and at ``most`` how many by the week's Monday."""

    stage: str
    skill: str
    hours: float
    most: Mapping[date, float]


def assert_plain_levelling(base: Base) -> None:
    """Say so when levelling is bound by more than the peak of each stage.

    Raises
    ------
    AssertionError
        Naming the first such rule.
    """
    assert_plain(base)
    for package in base.packages:
        for stage in package.stages:
            assert stage.max_heads is None, "heads"


def strands(facts: PlainStay, in_day: int, first_day: date) -> Iterator[PlainStrand]:
    """Yield what can be levelled of a check that comes in on a day."""
    for stage, offset in zip(facts.stages, facts.offsets, strict=False):
        begins = first_day + timedelta(days=in_day + offset)
        days = Counter(_monday(begins + timedelta(days=n)) for n in range(stage.days))
        factor = 1 + stage.findings * facts.check.findings_factor
        for skill, routine in stage.man_hours.items():
            hours = routine * factor
            of_a_day = stage.daily_peak * hours / stage.days
            most = {monday: min(hours, of_a_day * count) for monday, count in days.items()}
            yield PlainStrand(stage.name, skill, hours, most)


def levelled_plan(plan: Plan, base: Base) -> Plan:
    """Return the plan with its hours where they are cheapest in its slots, by one linear program.

    Hours of a strand in a week, and hours bought of each kind in a week and skill, all at least 0::

        of a strand, over its weeks     = its hours
        of a strand in a week          <= the most of that week
        of all strands in week, skill  <= regular + bought
    """
    assert_plain_levelling(base)
    facts = {stay.check.name: stay for stay in plain_stays(base)}
    known = [
        (placement.check, strand)
        for placement in plan.placements
        for strand in strands(
            facts[placement.check], (placement.in_day - base.first_day).days, base.first_day
        )
    ]
    cells = [(n, monday) for n, (_, strand) in enumerate(known) for monday in strand.most]
    hours = _cheapest(base, [strand for _, strand in known], cells)
    laid: defaultdict[tuple[str, str], list[WeekHours]] = defaultdict(list)
    for (number, monday), amount in zip(cells, hours, strict=True):
        check, strand = known[number]
        laid[check, strand.stage].append(WeekHours(strand.skill, week_name(monday), amount))
    return replace(plan, placements=tuple(_with_hours(p, laid) for p in plan.placements))


def _cheapest(
    base: Base, known: list[PlainStrand], cells: list[tuple[int, date]]
) -> Iterable[float]:
    """Return the hours of each cell, a strand and a week."""
    weeks = list(dict.fromkeys((monday, known[number].skill) for number, monday in cells))
    tiers = [(row, *tier) for row, week in enumerate(weeks) for tier in _tiers(base, week)]
    row_of = {week: row for row, week in enumerate(weeks)}
    strand_of = np.array([number for number, _ in cells])
    week_of = np.array([row_of[monday, known[number].skill] for number, monday in cells])
    column = np.arange(len(cells))
    bought = len(cells) + np.arange(len(tiers))
    width = len(cells) + len(tiers)
    load = coo_array(
        (
            np.r_[np.ones(len(cells)), -np.ones(len(tiers))],
            (np.r_[week_of, [row for row, *_ in tiers]], np.r_[column, bought]),
        ),
        shape=(len(weeks), width),
    )
    whole = coo_array((np.ones(len(cells)), (strand_of, column)), shape=(len(known), width))
    most = [known[number].most[monday] for number, monday in cells]
    answer = linprog(
        np.r_[np.zeros(len(cells)), [price for _, _, price in tiers]],
        A_ub=load,
        b_ub=[given_hours(base, *week) for week in weeks],
        A_eq=whole,
        b_eq=[strand.hours for strand in known],
        bounds=[(0.0, top) for top in (*most, *(top for _, top, _ in tiers))],
    )
    assert answer.status == 0, answer.message
    return np.clip(answer.x[: len(cells)], 0.0, most).tolist()


def _tiers(base: Base, week: WeekAndSkill) -> Iterator[tuple[float | None, float]]:
    """Yield cap and price of overtime and contract labour, then of overload without a cap."""
    skill = base.skill(week[1])
    regular = given_hours(base, *week)
    yield skill.overtime_cap * regular, skill.overtime_cost
    yield skill.contract_cap * regular, skill.contract_cost
    yield None, base.overload_cost


def _with_hours(placement: Placement, laid: Mapping[tuple[str, str], list[WeekHours]]) -> Placement:
    stages = tuple(
        replace(stage, hours=tuple(laid[placement.check, stage.stage]))
        for stage in placement.stages
    )
    return replace(placement, stages=stages)


def _monday(day: date) -> date:
    return day - timedelta(days=day.weekday())
