"""Peer: one CP-SAT model of the whole, from the facts, in the usual form.

A literal for every in day of a check, an optional interval for every bay that it fits, and
man-hours by week and skill as whole hours with their tiers. Where hours may be levelled, those of
each skill of each stage in each week are variables of their own.
"""

import math
import time
from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from functools import partial

from ortools.sat.python import cp_model

from capacity.facts import Base, Skill
from capacity.plans.plan import Plan
from tests.bench.plain_levelling import assert_plain_levelling, levelled_plan, strands
from tests.bench.plain_man_hours import WeekAndSkill, asked_hours, given_hours
from tests.bench.plain_stays import PlainStay, assert_plain, plain_stays
from tests.bench.result import Found, audited_goals, checked_bound

# Fewer workers than eight leave out whole kinds of search, also on two cores.
WORKERS = 8
HAS_PLAN = (cp_model.OPTIMAL, cp_model.FEASIBLE)


@dataclass(frozen=True)
class _Stay:
    """One check in the model; ``starts`` by in day, ``present`` by bay."""

    facts: PlainStay
    starts: Mapping[int, cp_model.IntVar]
    present: Mapping[str, cp_model.IntVar]
    left_out: cp_model.IntVar


@dataclass(frozen=True)
class _Tier:
    """Hours that can be bought in one week and skill, at a price an hour."""

    bought: cp_model.IntVar
    width: int
    price: int


# What is asked of a week and skill: a variable, and how many whole hours each of it asks.
_Terms = list[tuple[cp_model.IntVar, int]]
_Asked = Mapping[WeekAndSkill, _Terms]


@dataclass(frozen=True)
class _Cell:
    """A week and skill: whole hours asked, those there are, those to be bought."""

    asked: _Terms
    regular: int
    tiers: list[_Tier]


def one_cp_sat_model(base: Base, seconds: float, seed: int) -> Found:
    """Solve the base with every stage's hours spread evenly.

    Goal 1, in half the time at most, then money with no more days past. The second search is
    given the answer of the first, as is usual, and nothing else. Hours asked are rounded down and
    hours there are up, so that the bound holds for the base itself.
    """
    assert_plain(base)
    return _solved(base, seconds, seed, _evenly, lambda plan: plan)


def levelled_cp_sat_model(base: Base, seconds: float, seed: int) -> Found:
    """Solve the base with the freedom that its peaks give, in the same two searches.

    With whole hours asked, whole limits and whole hours there are, slots settled, what is left is
    a flow, which is cheapest in whole hours; limits are rounded up, so that the bound holds. Where
    the hours lie in the slots found is then settled exactly, by ``levelled_plan``.
    """
    assert_plain_levelling(base)
    return _solved(base, seconds, seed, _levelled, lambda plan: levelled_plan(plan, base))


def _solved(
    base: Base,
    seconds: float,
    seed: int,
    asking: Callable[[cp_model.CpModel, Iterable[_Stay], Base], _Asked],
    with_hours: Callable[[Plan], Plan],
) -> Found:
    began = time.monotonic()
    model = cp_model.CpModel()
    stays = [_stay(model, facts) for facts in plain_stays(base)]
    _bays(model, stays, base)
    cells = _man_hours(model, asking(model, stays, base), base)
    past, money = _past(stays, base), _money(stays, cells)

    model.minimize(past)
    solver = _solver((seconds - (time.monotonic() - began)) / 2, seed)
    status = solver.solve(model)
    if status not in HAS_PLAN:
        return Found(time.monotonic() - began, "time: no plan")
    days, days_bound = round(solver.objective_value), math.ceil(solver.best_objective_bound)
    plan, closed, bound = _plan(solver, stays, base), False, -math.inf

    _hint(model, solver, cells)
    model.add(past <= days)
    model.minimize(money)
    left = seconds - (time.monotonic() - began)
    if left > 0:
        solver = _solver(left, seed)
        found = solver.solve(model)
        if found in HAS_PLAN:
            plan, bound = _plan(solver, stays, base), solver.best_objective_bound
            closed = found == status == cp_model.OPTIMAL
    goals = audited_goals(with_hours(plan), base)
    return Found(
        seconds=time.monotonic() - began,
        stopped_by="proof" if closed else "time",
        days_past=goals.days_past_latest_in,
        money=goals.money,
        days_bound=days_bound,
        bound=checked_bound(bound, goals.money),
    )


def _stay(model: cp_model.CpModel, facts: PlainStay) -> _Stay:
    """A check comes in on one day into one bay, or is left out."""
    days = range(facts.first_in, facts.last_in + 1)
    stay = _Stay(
        facts,
        {day: model.new_bool_var("") for day in days},
        {bay: model.new_bool_var("") for bay in facts.bays},
        model.new_bool_var(""),
    )
    model.add_exactly_one([*stay.starts.values(), stay.left_out])
    model.add_exactly_one([*stay.present.values(), stay.left_out])
    return stay


def _bays(model: cp_model.CpModel, stays: Iterable[_Stay], base: Base) -> None:
    """In each bay one at a time; among bays that the same checks fit no more than there are."""
    in_bay = defaultdict(list)
    shut = defaultdict(list)
    within = defaultdict(list)
    for closure in base.closures:
        first, days = (closure.first - base.first_day).days, (closure.last - closure.first).days
        shut[closure.bay].append(model.new_fixed_size_interval_var(first, days + 1, ""))
    for stay in stays:
        if not stay.starts:
            continue
        start = model.new_int_var(stay.facts.first_in, stay.facts.last_in, "")
        for day, literal in stay.starts.items():
            model.add(start == day).only_enforce_if(literal)
        interval = partial(model.new_optional_fixed_size_interval_var, start, stay.facts.days)
        for bay, literal in stay.present.items():
            in_bay[bay].append(interval(literal, ""))
        within[stay.facts.bays].append(interval(~stay.left_out, ""))
    for bay, intervals in in_bay.items():
        model.add_no_overlap(intervals + shut[bay])
    for bays in within:
        # Implied, and without it the bound hardly moves.
        inside = [i for some, each in within.items() if set(some) <= set(bays) for i in each]
        inside += [interval for bay in bays for interval in shut[bay]]
        model.add_cumulative(inside, [1] * len(inside), len(bays))


def _evenly(model: cp_model.CpModel, stays: Iterable[_Stay], base: Base) -> _Asked:
    """Each in day asks its hours, evenly spread; the model needs nothing more for it."""
    asked: defaultdict[WeekAndSkill, _Terms] = defaultdict(list)
    for stay in stays:
        for day, literal in stay.starts.items():
            for cell, hours in asked_hours(stay.facts, day, base.first_day).items():
                asked[cell].append((literal, math.floor(hours)))
    return asked


def _levelled(model: cp_model.CpModel, stays: Iterable[_Stay], base: Base) -> _Asked:
    """Hours of each skill of each stage by week are variables, within what the in day allows.

    For each of them, unless the check is left out::

        hours of a week <= sum over in days of (in day chosen x most of that week)
        hours of all weeks >= hours of the stage
    """
    asked: defaultdict[WeekAndSkill, _Terms] = defaultdict(list)
    for stay in stays:
        whole: dict[tuple[str, str], int] = {}
        most: defaultdict[tuple[str, str], defaultdict[date, _Terms]]
        most = defaultdict(lambda: defaultdict(list))
        for day, literal in stay.starts.items():
            for strand in strands(stay.facts, day, base.first_day):
                key = strand.stage, strand.skill
                whole[key] = math.floor(strand.hours)
                for monday, hours in strand.most.items():
                    most[key][monday].append((literal, math.ceil(hours)))
        for key, weeks in most.items():
            here = []
            for monday, terms in weeks.items():
                hours = model.new_int_var(0, whole[key], "")
                model.add(hours <= cp_model.LinearExpr.weighted_sum(*zip(*terms, strict=True)))
                asked[monday, key[1]].append((hours, 1))
                here.append(hours)
            model.add(sum(here) + whole[key] * stay.left_out >= whole[key])
    return asked


def _man_hours(model: cp_model.CpModel, asked: _Asked, base: Base) -> dict[WeekAndSkill, _Cell]:
    """Asked <= regular + overtime + contract + overload, for each week and skill."""
    skills = {skill.name: skill for skill in base.skills}
    cells = {}
    for (monday, name), terms in asked.items():
        regular = given_hours(base, monday, name)
        tiers = _tiers(model, skills[name], regular, _most(terms), base)
        cells[monday, name] = _Cell(terms, math.ceil(regular), tiers)
        model.add(
            cp_model.LinearExpr.weighted_sum(*zip(*terms, strict=True))
            <= math.ceil(regular) + sum(tier.bought for tier in tiers)
        )
    return cells


def _most(terms: _Terms) -> int:
    """Return the hours asked if all of it were asked at once."""
    # As a list: counted from its end, the solver's own sequence gives a wrong number.
    return sum(hours * list(variable.proto.domain)[-1] for variable, hours in terms)


def _tiers(
    model: cp_model.CpModel, skill: Skill, regular: float, most: int, base: Base
) -> list[_Tier]:
    """Overtime and contract within their caps, then overload, cheapest first."""
    tiers = [
        (math.ceil(skill.overtime_cap * regular), skill.overtime_cost),
        (math.ceil(skill.contract_cap * regular), skill.contract_cost),
        (most, base.overload_cost),
    ]
    return [
        _Tier(model.new_int_var(0, width, ""), width, _whole(price))
        for width, price in sorted(tiers, key=lambda tier: tier[1])
    ]


def _past(stays: Iterable[_Stay], base: Base) -> cp_model.LinearExprT:
    """Goal 1; a check left out counts the longest delay and a day."""
    return sum(
        sum(stay.facts.past(day) * literal for day, literal in stay.starts.items())
        + (base.longest_delay_days + 1) * stay.left_out
        for stay in stays
    )


def _money(stays: Iterable[_Stay], cells: Mapping[WeekAndSkill, _Cell]) -> cp_model.LinearExprT:
    """Goal 2: early and late days, and the hours bought."""
    of_stays = sum(
        _whole(stay.facts.money(day)) * literal
        for stay in stays
        for day, literal in stay.starts.items()
    )
    return of_stays + sum(
        tier.price * tier.bought for cell in cells.values() for tier in cell.tiers
    )


def _whole(money: float) -> int:
    assert money == int(money), "money that is not whole"
    return int(money)


def _solver(seconds: float, seed: int) -> cp_model.CpSolver:
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = WORKERS
    solver.parameters.random_seed = seed
    solver.parameters.max_time_in_seconds = max(0.0, seconds)
    return solver


def _hint(
    model: cp_model.CpModel, solver: cp_model.CpSolver, cells: Mapping[WeekAndSkill, _Cell]
) -> None:
    """Hint the whole answer, with no more hours bought than it needs."""
    bought = {}
    for cell in cells.values():
        over = sum(hours * solver.value(literal) for literal, hours in cell.asked) - cell.regular
        for tier in cell.tiers:
            taken = min(max(0, over), tier.width)
            bought[tier.bought.index] = taken
            over -= taken
    for index in range(len(model.proto.variables)):
        variable = model.get_int_var_from_proto_index(index)
        model.add_hint(variable, bought.get(index, solver.value(variable)))


def _plan(solver: cp_model.CpSolver, stays: Iterable[_Stay], base: Base) -> Plan:
    placements, missing = [], []
    for stay in stays:
        if solver.value(stay.left_out):
            missing.append(stay.facts.check.name)
            continue
        day = next(day for day, literal in stay.starts.items() if solver.value(literal))
        bay = next(bay for bay, literal in stay.present.items() if solver.value(literal))
        placements.append(stay.facts.placement(bay, day, base.first_day))
    return Plan(tuple(placements), tuple(missing))
