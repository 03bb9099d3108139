"""The levers worth trying on a plan: which bases, or plans, they would make."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from math import ceil

import numpy as np
from numpy.typing import NDArray

from capacity.facts import Absence, Base, Crew, Employment, Pattern, Shift, Skill, Status
from capacity.plans.audit import Auditor, audit
from capacity.plans.man_hours import week_name
from capacity.plans.plan import Plan, WeekLoad
from capacity.questions.overtime_limits import mondays_of
from capacity.questions.standing_plan import stand

# The skills and the runs of weeks with most money bought that are looked at.
MOST_SKILLS, MOST_RUNS, MOST_CHECKS = 3, 2, 4
DAYS_TO_MOVE = 7
TINY_HOURS = 0.05


@dataclass(frozen=True, slots=True)
class Trial:
    """A lever to try: a changed ``base`` to search anew, or a changed ``plan`` to audit.

    ``head_weeks`` are the weeks of people that it asks and the workbook does not price.
    What the crew ``paid_crew`` gives costs ``paid_cost`` an hour on top.
    """

    kind: str
    what: str
    base: Base
    plan: Plan
    search: bool
    head_weeks: float = 0.0
    paid_crew: str = ""
    paid_cost: float = 0.0


@dataclass(frozen=True, slots=True)
class Run:
    """Consecutive weeks in which a skill buys hours, and their money."""

    skill: str
    weeks: tuple[date, ...]
    hours: float
    money: float


def trials_of(plan: Plan, base: Base) -> tuple[Trial, ...]:
    """Return the levers to try, those for the dearest skills and weeks.

    None where no hours are bought.
    """
    runs = dear_runs(audit(plan, base).weeks, base)
    if not runs:
        return ()
    skills = list(dict.fromkeys(run.skill for run in runs))[:MOST_SKILLS]
    return (
        *(trial for skill in skills for trial in _one_more_head(skill, plan, base)),
        *(_contract_team(run, plan, base) for run in runs[:MOST_RUNS]),
        *_checks_moved(runs, plan, base),
        *_bays_open_again(plan, base),
    )


def dear_runs(weeks: Sequence[WeekLoad], base: Base) -> list[Run]:
    """Return the runs of weeks in which hours are bought, the dearest first."""
    monday_of = {week_name(m): m for m in mondays_of(base, weeks[-1].week if weeks else None)}
    runs: list[Run] = []
    for skill in base.skills:
        current: list[tuple[date, float, float]] = []
        loads = [load for load in weeks if load.skill == skill.name]
        for load in (*loads, None):
            bought = 0.0 if load is None else load.overtime + load.contract + load.overload
            if load is not None and bought > TINY_HOURS:
                money = (
                    load.overtime * skill.overtime_cost
                    + load.contract * skill.contract_cost
                    + load.overload * base.overload_cost
                )
                current.append((monday_of[load.week], bought, money))
            elif current:
                mondays = tuple(monday for monday, _, _ in current)
                hours = sum(hours for _, hours, _ in current)
                runs.append(Run(skill.name, mondays, hours, sum(m for _, _, m in current)))
                current = []
    return sorted(runs, key=lambda run: -run.money)


def _one_more_head(skill: str, plan: Plan, base: Base) -> Iterator[Trial]:
    """One head more in the largest employed crew of the skill, all quarter."""
    crews = [
        crew
        for crew in base.crews
        if crew.skills[0] == skill and crew.employment is Employment.EMPLOYED
    ]
    if crews:
        chosen = max(crews, key=lambda crew: crew.heads)
        bigger = replace(chosen, heads=chosen.heads + 1)
        crews_then = tuple(bigger if crew is chosen else crew for crew in base.crews)
        yield Trial(
            kind="one more head",
            what=f"one more head in {chosen.name} ({skill}), all {base.weeks} weeks",
            base=base.replace(crews=crews_then),
            plan=plan,
            search=True,
            head_weeks=float(base.weeks),
        )


def _contract_team(run: Run, plan: Plan, base: Base) -> Trial:
    """Return a contract team for the weeks of a run, enough for the mean of what is bought.

    It works five day shifts a week, at the contract cost of the skill, and its hours come
    before overtime. So it stands in the trial as a crew whose hours are there anyhow, with a
    skill of its own ahead of the one that it gives, so that no cap grows; they are paid
    afterwards.
    """
    shift = _day_shift(base)
    heads = max(1, ceil(run.hours / len(run.weeks) / (5 * shift.hours * base.productivity)))
    first, last = run.weeks[0], run.weeks[-1] + timedelta(days=6)
    name = _free_name(f"Contract team {run.skill}", {crew.name for crew in base.crews})
    own = Skill(_free_name(name, {skill.name for skill in base.skills}), 0.0, 0.0, 0.0, 0.0)
    pattern = Pattern(
        _free_name("Five days", {p.name for p in base.patterns}), (*[shift.name] * 5, None, None)
    )
    team = Crew(name, (own.name, run.skill), heads, pattern.name, starts_cycle_on=first)
    away = [
        Absence(name, date.min, first - timedelta(days=1), heads, "not hired yet"),
        Absence(name, last + timedelta(days=1), date.max, heads, "not hired any more"),
    ]
    weeks = f"{len(run.weeks)} week{'s' if len(run.weeks) > 1 else ''}"
    return Trial(
        kind="contract team",
        what=(
            f"a contract team of {heads} in {run.skill} from {first:%-d %b %Y} for {weeks}, "
            f"on {shift.name} shifts"
        ),
        base=base.replace(
            skills=(*base.skills, own),
            crews=(*base.crews, team),
            patterns=(*base.patterns, pattern),
            absences=(*base.absences, *away),
        ),
        plan=plan,
        search=False,
        paid_crew=name,
        paid_cost=next(skill.contract_cost for skill in base.skills if skill.name == run.skill),
    )


def _day_shift(base: Base) -> Shift:
    """Return the longest of the day shifts; of all shifts where there is none."""
    days = [shift for shift in base.shifts if not shift.night] or list(base.shifts)
    return max(days, key=lambda shift: shift.hours)


def _free_name(wanted: str, taken: set[str]) -> str:
    name, number = wanted, 2
    while name in taken:
        name, number = f"{wanted} {number}", number + 1
    return name


def _checks_moved(runs: Sequence[Run], plan: Plan, base: Base) -> Iterator[Trial]:
    """Each check with most work in the dear weeks, at its cheapest place within a week.

    All others stay where they are.
    """
    weight = _work_in(runs, plan, base)
    status = {check.name: check.status for check in base.checks}
    names = [name for name in sorted(weight, key=lambda n: -weight[n]) if weight[name] > 0]
    movable = [name for name in names if status[name] is not Status.FIXED][:MOST_CHECKS]
    for name in movable:
        standing = stand(base, plan, may_move=(name,))
        check = standing.number_of(name)
        stays = standing.slots.candidates[check]
        day_now = next(p.in_day for p in plan.placements if p.check == name)
        room = standing.room()
        own = standing.program.footprint[[standing.chosen[check]]].sum(axis=0)
        best: tuple[float, int] | None = None
        for column in range(*standing.program.first_column[check : check + 2]):
            place = column - standing.program.first_column[check]
            in_day = stays.courses.stays.in_day[stays.course[place]]
            moved = int(in_day) - standing.slots.calendar.number(day_now)
            if column == standing.chosen[check] or not 0 < abs(moved) <= DAYS_TO_MOVE:
                continue
            if not standing.program.stands(_one(column), room + own)[0]:
                continue
            past, money = standing.program.cost(standing.with_place(check, column))
            if past <= standing.cost[0] and (best is None or money < best[0]):
                best = (money, column)
        if best is not None:
            made, _ = standing.plan_with(standing.with_place(check, best[1]))
            to = next(p for p in made.placements if p.check == name)
            days_moved = (to.in_day - day_now).days
            days = f"{abs(days_moved)} day{'s' if abs(days_moved) > 1 else ''}"
            yield Trial(
                kind="a check moved",
                what=f"{name} {days} {'later' if days_moved > 0 else 'earlier'}, "
                f"into {to.bay} on {to.in_day:%-d %b %Y}",
                base=base,
                plan=made,
                search=False,
            )


def _work_in(runs: Sequence[Run], plan: Plan, base: Base) -> dict[str, float]:
    """Return the hours bought less in the dear weeks, by the audit without the check."""
    now = audit(plan, base)
    auditor = Auditor(base)
    dear = {(week_name(monday), run.skill) for run in runs for monday in run.weeks}
    weight: dict[str, float] = {}
    for name in dict.fromkeys(placement.check for placement in plan.placements):
        others = tuple(p for p in plan.placements if p.check != name)
        without = {
            (w.week, w.skill): w for w in auditor.audit(replace(plan, placements=others)).weeks
        }
        weight[name] = sum(
            _bought(load) - _bought(without.get((load.week, load.skill)))
            for load in now.weeks
            if (load.week, load.skill) in dear
        )
    return weight


def _bought(load: WeekLoad | None) -> float:
    """Return the hours bought; none in a week after the last check is out."""
    return 0.0 if load is None else load.overtime + load.contract + load.overload


def _one(column: int) -> NDArray[np.int64]:
    return np.array([column], dtype=np.int64)


def _bays_open_again(plan: Plan, base: Base) -> Iterator[Trial]:
    """Each closure taken away."""
    for number, closure in enumerate(base.closures):
        others = tuple(c for n, c in enumerate(base.closures) if n != number)
        yield Trial(
            kind="a bay open again",
            what=(
                f"{closure.bay} open from {closure.first:%-d %b %Y} to "
                f"{closure.last:%-d %b %Y}" + (f" ({closure.reason})" if closure.reason else "")
            ),
            base=base.replace(closures=others),
            plan=plan,
            search=True,
        )
