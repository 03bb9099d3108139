"""The measures worth trying on a plan: which bases, or plans, they would make."""

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import partial
from math import ceil, fsum

import numpy as np

from capacity.facts import Absence, Base, Closure, Crew, Pattern, Shift, Skill, Status
from capacity.plans.audit import Audit, audit
from capacity.plans.laid_plan import stays_of
from capacity.plans.man_hours import asked_by
from capacity.plans.plan import Plan, WeekLoad
from capacity.plans.weeks import week_name
from capacity.questions.asking.changes import A_HEAD, BAY_OPEN_AGAIN, changes_of
from capacity.questions.asking.standing_plan import StandingPlan, standing_plan
from capacity.questions.overtime.limits import mondays_of
from capacity.slots.rules.one_more import OneMore
from capacity.words import counted, day

# The skills and the runs of weeks with most money bought that are looked at.
MOST_SKILLS, MOST_RUNS, MOST_CHECKS = 3, 2, 4
DAYS_TO_MOVE = 7
TINY_HOURS = 0.05


@dataclass(frozen=True, slots=True)
class Trial:
    """A measure to try: a changed ``base`` to search anew, or a changed ``plan`` to audit.

    ``head_weeks`` are the weeks of people that it asks and the workbook does not price.
    What the crew ``paid_crew`` gives costs ``paid_cost`` an hour on top. ``opened`` is the closure
    that it takes away, and ``for_whom`` the checks that would most want that bay, worst first.
    """

    kind: str
    what: str
    base: Base
    plan: Plan
    search: bool
    head_weeks: float = 0.0
    paid_crew: str = ""
    paid_cost: float = 0.0
    opened: Closure | None = None
    for_whom: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Run:
    """Consecutive weeks in which a skill buys hours, and their money."""

    skill: str
    weeks: tuple[date, ...]
    hours: float
    money: float


@dataclass(frozen=True, slots=True)
class Attempt:
    """A measure that could be tried: ``make`` works it out, None where it has no place.

    ``search`` says that its base is searched anew, which takes time; the others are audited.
    """

    what: str
    search: bool
    make: Callable[[], Trial | None]


def trials_of(plan: Plan, base: Base) -> tuple[Trial, ...]:
    """Return all measures that have a place in the plan, worked out; see ``attempts_of``."""
    attempts = attempts_of(plan, base, lambda names: standing_plan(base, plan, may_move=names))
    made = [attempt.make() for attempt in attempts]
    return tuple(trial for trial in made if trial is not None)


def attempts_of(
    plan: Plan, base: Base, standing: Callable[[Collection[str]], StandingPlan]
) -> tuple[Attempt, ...]:
    """Return the measures to try, those for the dearest skills and weeks first.

    None where no hours are bought. To list them takes no time to speak of. ``standing`` gives
    the plan with the checks of some names free to move; it is asked for when one is to be moved,
    each time with the same names.
    """
    found = audit(base, plan)
    runs = dear_runs(found.weeks, base)
    if not runs:
        return ()
    skills = list(dict.fromkeys(run.skill for run in runs))[:MOST_SKILLS]
    changes = tuple(changes_of(base))
    movable = _movable(runs, found, plan, base)
    for_whom = tuple(dict.fromkeys([*_without_their_wish(found, plan, base), *movable]))
    bays = _bays_open_again(runs, changes, base)
    trials = (
        *(_contract_team(run, plan, base) for run in runs[:MOST_RUNS]),
        *(_searched_anew(one, plan, float(base.weeks)) for one in _more_heads(skills, changes)),
        *(
            replace(_searched_anew(one, plan), opened=base.closures[one.row], for_whom=for_whom)
            for one in bays
        ),
    )
    made = [Attempt(trial.what, trial.search, partial(_itself, trial)) for trial in trials]
    free = not_in_yet(movable, plan, base)
    moved = [
        Attempt(
            f"{name} moved by up to {DAYS_TO_MOVE} days",
            False,
            partial(_check_moved, name, plan, base, partial(standing, free)),
        )
        for name in movable
    ]
    return (
        *(attempt for attempt in made if not attempt.search),
        *moved,
        *(attempt for attempt in made if attempt.search),
    )


def not_in_yet(names: Sequence[str], plan: Plan, base: Base) -> tuple[str, ...]:
    """Return the checks that may move still: in a re-plan nobody does who is in."""
    today, by_check = base.work_counts_from, plan.by_check()
    return tuple(
        name
        for name in names
        if today is None or name not in by_check or by_check[name][0].in_day >= today
    )


def _itself(trial: Trial) -> Trial:
    return trial


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
                    + load.contract_paid * skill.contract_cost
                    + load.overload * base.overload_cost
                )
                current.append((monday_of[load.week], bought, money))
            elif current:
                mondays = tuple(monday for monday, _, _ in current)
                hours = sum(hours for _, hours, _ in current)
                runs.append(Run(skill.name, mondays, hours, sum(m for _, _, m in current)))
                current = []
    return sorted(runs, key=lambda run: -run.money)


def _searched_anew(change: OneMore, plan: Plan, head_weeks: float = 0.0) -> Trial:
    """Return a change of the base as a measure: the plan is searched anew with it."""
    return Trial(
        kind=change.more.name,
        what=change.what,
        base=change.base,
        plan=plan,
        search=True,
        head_weeks=head_weeks,
    )


def _more_heads(skills: Sequence[str], changes: Sequence[OneMore]) -> list[OneMore]:
    """Return the changes by a head more, in the order of the skills."""
    heads = [change for change in changes if change.more == A_HEAD and change.skill in skills]
    return sorted(heads, key=lambda change: skills.index(change.skill))


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
    weeks = counted(len(run.weeks), "week")
    return Trial(
        kind="contract team",
        what=(
            f"a contract team of {heads} in {run.skill} from {day(first)} for {weeks}, "
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
        paid_cost=base.skill(run.skill).contract_cost,
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


def _movable(runs: Sequence[Run], found: Audit, plan: Plan, base: Base) -> list[str]:
    """Return the checks with most work in the dear weeks that are not fixed, most first."""
    weight = _work_in(runs, found, plan, base)
    fixed = {check.name for check in base.checks if check.status is Status.FIXED}
    names = sorted(weight, key=lambda name: -weight[name])
    return [name for name in names if weight[name] > 0 and name not in fixed][:MOST_CHECKS]


def _without_their_wish(found: Audit, plan: Plan, base: Base) -> list[str]:
    """Return the booked checks without a slot, then those past ``Latest in`` or late, worst first.

    No more of them than checks are moved.
    """
    worst = sorted(
        (account for account in found.accounts if account.days_past_latest_in or account.late_days),
        key=lambda account: (-account.days_past_latest_in, -account.late_money, account.check),
    )
    names = [*filter(base.has_check, plan.not_placed), *(account.check for account in worst)]
    free = [name for name in names if base.check(name).status is not Status.FIXED]
    return free[:MOST_CHECKS]


def _work_in(runs: Sequence[Run], found: Audit, plan: Plan, base: Base) -> dict[str, float]:
    """Return the hours of each check in the dear weeks, at most what is bought in each."""
    dear = {(monday, run.skill) for run in runs for monday in run.weeks}
    bought = {
        (load.week, load.skill): load.overtime + load.contract + load.overload
        for load in found.weeks
    }
    weight: dict[str, float] = {}
    for name, stay in stays_of(plan, base).items():
        asked = asked_by(stay, base.first_day)
        weight[name] = fsum(
            min(hours, bought.get((week_name(monday), skill), 0.0))
            for (monday, skill), hours in asked.items()
            if (monday, skill) in dear
        )
    return weight


def _check_moved(
    name: str, plan: Plan, base: Base, standing_plan: Callable[[], StandingPlan]
) -> Trial | None:
    """Return a check at its cheapest place within a week, all others where they are."""
    standing = standing_plan()
    check, program = standing.number_of(name), standing.program
    stays = standing.slots.candidates[check]
    day_now = next(p.in_day for p in plan.placements if p.check == name)
    columns = program.columns_of(check)
    in_day = stays.courses.stays.in_day[stays.course]
    moved = np.abs(in_day - standing.slots.calendar.number(day_now))
    columns = columns[(columns != standing.chosen[check]) & (moved > 0) & (moved <= DAYS_TO_MOVE)]
    own = program.footprint[[standing.chosen[check]]].sum(axis=0)
    columns = columns[program.fits(columns, program.slack(standing.chosen) + own)]
    best: tuple[float, int] | None = None
    # What a place costs depends on its course in time only: the first bay stands for all.
    alike = np.stack([program.course[columns], program.money[columns], program.past[columns]])
    for column in columns[np.sort(np.unique(alike, axis=1, return_index=True)[1])]:
        past, money = program.cost(standing.with_place(check, int(column)))
        if past <= standing.cost[0] and (best is None or money < best[0]):
            best = (money, int(column))
    if best is None:
        return None
    made, _ = standing.plan_with(standing.with_place(check, best[1]))
    to = next(p for p in made.placements if p.check == name)
    days_moved = (to.in_day - day_now).days
    by = counted(abs(days_moved), "day")
    return Trial(
        kind="a check moved",
        what=f"{name} {by} {'later' if days_moved > 0 else 'earlier'}, "
        f"into {to.bay} on {day(to.in_day)}",
        base=base,
        plan=made,
        search=False,
    )


def _bays_open_again(runs: Sequence[Run], changes: Sequence[OneMore], base: Base) -> list[OneMore]:
    """Return each closure taken away, those with most days in the dear weeks first.

    Then the longest.
    """
    dear = {monday + timedelta(days=n) for run in runs for monday in run.weeks for n in range(7)}

    def weight(change: OneMore) -> tuple[int, int]:
        closure = base.closures[change.row]
        inside = sum(closure.first <= day <= closure.last for day in dear)
        return -inside, -(closure.last - closure.first).days

    return sorted((one for one in changes if one.more == BAY_OPEN_AGAIN), key=weight)
