"""What every crew plan keeps, in the order in which a planner would tell it."""

from collections import defaultdict
from collections.abc import Callable, Iterable

from ortools.sat.python import cp_model

from capacity.crews.model.variables import Expression, Variables


def stages_in_order(v: Variables) -> None:
    """Begin no task before those it waits for have ended: ``start >= end`` of each."""
    for number, task in enumerate(v.problem.tasks):
        for before in task.after:
            _keep(v, v.start(number) >= v.end(before))


def alone_is_alone(v: Variables) -> None:
    """On each day, at most one of two tasks that never run side by side."""
    for number, task in enumerate(v.problem.tasks):
        for other in task.apart:
            if other < number and number in v.problem.tasks[other].apart:
                continue
            for day in _days_of(v, (number, other)):
                both = [*v.lies_over(number, day), *v.lies_over(other, day)]
                if len(both) > 1:
                    _keep(v, sum(both) <= 1)


def equipment_lent(v: Variables) -> None:
    """On each day, ``pieces held <= pieces free`` of every pool."""
    for pool, free in (v.problem.free or {}).items():
        holders = [n for n, task in enumerate(v.problem.tasks) if pool in task.equipment]
        for day, pieces in enumerate(free):
            held = [way for number in holders for way in v.lies_over(number, day)]
            if len(held) > max(0, pieces):
                _keep(v, sum(held) <= max(0, pieces))


def man_hours_met(v: Variables) -> None:
    """For each task and skill: hours given + bought + short = hours asked."""
    given: defaultdict[tuple[int, str], list[Expression]] = defaultdict(list)
    for (_, served, skill), hours in v.hours.items():
        given[served, skill].append(hours)
    for number, task in enumerate(v.problem.tasks):
        for skill, asked in task.hundredths.items():
            key = (number, skill)
            bought = v.bought.get(key, 0)
            v.model.add(sum(given[key]) + bought + v.short[key] == asked)


def only_while_it_runs(v: Variables) -> None:
    """On a day on which a movable task is not worked, nobody gives it hours."""
    by_day: defaultdict[tuple[int, int, str], list[int]] = defaultdict(list)
    for shift, task, skill in v.hours:
        by_day[task, v.problem.shifts[shift].day, skill].append(shift)
    for (task, day, skill), shifts in by_day.items():
        ways = v.is_worked(task, day)
        if not v.problem.tasks[task].moves or len(ways) == len(v.problem.tasks[task].spans):
            continue
        most = min(
            v.problem.tasks[task].hundredths[skill],
            sum(_most_of(v, s) for s in shifts),
        )
        v.model.add(sum(v.hours[s, task, skill] for s in shifts) <= most * sum(ways))


def people_give_hours(v: Variables) -> None:
    """On an aircraft: hours <= heads x hundredths + overtime, overtime <= heads x extra."""
    given: defaultdict[tuple[int, str, str], list[Expression]] = defaultdict(list)
    for (number, task, skill), hours in v.hours.items():
        given[number, v.problem.tasks[task].check, skill].append(hours)
    for key, heads in v.heads.items():
        shift = v.problem.shifts[key[0]]
        overtime = v.overtime.get(key, 0)
        v.model.add(sum(given[key]) <= shift.hundredths * heads + overtime)
        if key in v.overtime:
            v.model.add(overtime <= shift.extra * heads)


def heads_there(v: Variables) -> None:
    """Of each crew-shift, people at work on all aircraft <= people present."""
    for shift, served in v.heads_by_shift.items():
        heads = [v.heads[shift, check, skill] for check, skill in served]
        v.model.add(sum(heads) <= v.problem.shifts[shift].heads * v.problem.parts)


def licences_last(v: Variables) -> None:
    """Of each crew-shift, people at work where some may not be any more <= the others present.

    For every number of such people: heads in skills and on types that so many or more have lost.
    Those who have lost one thing are taken to have lost others too.
    """
    for number, served in v.heads_by_shift.items():
        shift = v.problem.shifts[number]
        if not shift.lapsed:
            continue
        without = {
            (check, skill): shift.people_without(skill, v.problem.type_of.get(check, ""))
            for check, skill in served
        }
        for people in sorted(set(without.values()) - {0}):
            heads = [v.heads[number, *key] for key, few in without.items() if few >= people]
            v.model.add(sum(heads) <= max(0, shift.heads - people) * v.problem.parts)


def called_in_once(v: Variables) -> None:
    """In any seven days, people of a crew called in <= people of the crew.

    So everybody can keep a day off in any seven, where the pattern has two.
    """
    called: defaultdict[str, dict[int, list[int]]] = defaultdict(dict)
    for number in v.heads_by_shift:
        shift = v.problem.shifts[number]
        if shift.called_in:
            called[shift.crew].setdefault(shift.day, []).append(number)
    for by_day in called.values():
        for first in by_day:
            window = [n for day in range(first, first + 7) for n in by_day.get(day, [])]
            heads = [v.heads[n, c, s] for n in window for c, s in v.heads_by_shift[n]]
            if len(window) > 1:
                most = max(v.problem.shifts[n].heads for n in window)
                v.model.add(sum(heads) <= most * v.problem.parts)


def weekly_caps(v: Variables) -> None:
    """By skill and week: overtime <= cap; by skill: contract hours bought <= cap.

    All that people give on a day off is overtime.
    """
    for caps in v.problem.caps:
        overtime = [
            hours
            for (shift, _, skill), hours in v.overtime.items()
            if skill == caps.skill and v.problem.shifts[shift].day in caps.days
        ]
        called_in = [
            hours
            for (shift, _, skill), hours in v.hours.items()
            if skill == caps.skill
            and v.problem.shifts[shift].day in caps.days
            and v.problem.shifts[shift].called_in
        ]
        if overtime or called_in:
            v.model.add(sum(overtime) + sum(called_in) <= caps.overtime)
    for skill in dict.fromkeys(caps.skill for caps in v.problem.caps):
        bought = [hundredths for (_, name), hundredths in v.bought.items() if name == skill]
        most = sum(caps.contract for caps in v.problem.caps if caps.skill == skill)
        if bought:
            v.model.add(sum(bought) <= most)


def working_time_held(v: Variables) -> None:
    """Over the days of each limit: overtime of a crew <= people there x overtime of a person.

    People share it evenly. The people are the fewest on any of the crew's shifts there.
    """
    for limit in v.problem.overtime_limits:
        there = [
            n
            for n in v.heads_by_shift
            if v.problem.shifts[n].crew == limit.crew and v.problem.shifts[n].day in limit.days
        ]
        keys = [(n, c, s) for n in there for c, s in v.heads_by_shift[n]]
        overtime = [v.overtime[key] for key in keys if key in v.overtime]
        if overtime:
            people = min(v.problem.shifts[n].heads for n in there)
            v.model.add(sum(overtime) <= people * limit.hundredths)


def heads_on_a_stage(v: Variables) -> None:
    """In each shift: hours given to a stage <= its most heads x hours of a person."""
    for (task, _, _), given in v.gifts.items():
        most = v.problem.tasks[task].max_heads
        if most is not None:
            person = v.problem.parts * max(v.problem.shifts[s].hundredths for s, _ in given)
            v.model.add(sum(v.hours[s, task, k] for s, k in given) <= most * person)


def licences_present(v: Variables) -> None:
    """In a shift in which an aircraft is worked on, somebody of each licence asked for.

    For each stage and licence category that it asks for: people with it on the aircraft, in
    this shift or one that meets it, >= 1 when anybody gives hours to the stage.
    """
    licence_of = v.problem.licence_of or {}
    for task, day, shift in v.gifts:
        check = v.problem.tasks[task].check
        wanted = {licence_of.get(skill, "") for skill in v.problem.tasks[task].hundredths} - {""}
        if not wanted:
            continue
        used = _used(v, task, day, shift)
        for licence in sorted(wanted):
            there = _there(v, check, day, shift)
            holders = [v.heads[s, check, k] for s, k in there if licence_of.get(k, "") == licence]
            v.model.add(sum(holders) >= used)


def two_on_critical_work(v: Variables) -> None:
    """In a shift in which a critical stage is worked: qualified people there >= 2.

    They are on the aircraft in this shift or one that meets it. Qualified are those who
    work in a licensed skill that it asks for; in any skill of it, where none is licensed.
    """
    licence_of = v.problem.licence_of or {}
    for task, day, shift in v.gifts:
        if not v.problem.tasks[task].critical:
            continue
        asked = list(v.problem.tasks[task].hundredths)
        licensed = [skill for skill in asked if licence_of.get(skill, "")] or asked
        check = v.problem.tasks[task].check
        qualified: defaultdict[int, list[str]] = defaultdict(list)
        for number, skill in _there(v, check, day, shift):
            if skill in licensed:
                qualified[number].append(skill)
        people = [_people(v, s, check, tuple(skills)) for s, skills in qualified.items()]
        v.model.add(sum(people) >= 2 * _used(v, task, day, shift))


def contract_at_most_half(v: Variables) -> None:
    """In each hangar and shift: contract people <= employed people, where it is a rule."""
    if not v.problem.share_contract:
        return
    teams: defaultdict[tuple[str, int, str], list[tuple[int, str, str]]] = defaultdict(list)
    for number, check, skill in v.heads:
        shift = v.problem.shifts[number]
        hangar = (v.problem.hangar_of or {}).get((check, shift.day), "")
        teams[hangar, shift.day, shift.shift].append((number, check, skill))
    for keys in teams.values():
        contract = [v.heads[key] for key in keys if v.problem.shifts[key[0]].contract]
        employed = [v.heads[key] for key in keys if not v.problem.shifts[key[0]].contract]
        if contract:
            v.model.add(sum(contract) <= sum(employed))


Rule = Callable[[Variables], None]
"""Posts the rows of a rule."""

RULES: tuple[Rule, ...] = (
    stages_in_order,
    alone_is_alone,
    equipment_lent,
    man_hours_met,
    only_while_it_runs,
    people_give_hours,
    heads_there,
    licences_last,
    called_in_once,
    weekly_caps,
    working_time_held,
    heads_on_a_stage,
    licences_present,
    two_on_critical_work,
    contract_at_most_half,
)


def _keep(v: Variables, row: Expression) -> None:
    """Post a row; one between stages that do not move is kept, or no plan can be."""
    if row is not True:
        v.model.add(row)


def _days_of(v: Variables, tasks: Iterable[int]) -> range:
    spans = [span for number in tasks for span in v.problem.tasks[number].spans]
    return range(min(span.first for span in spans), max(span.until for span in spans))


def _most_of(v: Variables, shift: int) -> int:
    """Return the hundredths that a crew-shift can give, overtime included."""
    there = v.problem.shifts[shift]
    return there.heads * v.problem.parts * (there.hundredths + there.extra)


def _people(v: Variables, shift: int, check: str, skills: tuple[str, ...]) -> Expression:
    """Return how many different people the parts can be: no more than the crew has there."""
    heads = sum(v.heads[shift, check, skill] for skill in skills)
    if v.problem.shifts[shift].heads > 1:
        return heads
    key = (shift, check, skills)
    if key not in v.person:
        v.person[key] = v.model.new_bool_var("")
        v.model.add(v.person[key] <= heads)
    return v.person[key]


def _there(v: Variables, check: str, day: int, shift: str) -> list[tuple[int, str]]:
    """Return who may be on an aircraft in a shift and those that meet it in time."""
    return [
        team
        for name in sorted(v.problem.met_by(shift))
        for team in v.teams.get((check, day, name), [])
    ]


def _used(v: Variables, task: int, day: int, shift: str) -> cp_model.IntVar:
    """Return a 0/1 decision that is 1 when anybody gives the task hours in the shift."""
    key = (task, day, shift)
    if key in v.used:
        return v.used[key]
    v.used[key] = used = v.model.new_bool_var("")
    given = v.gifts[key]
    for skill in dict.fromkeys(skill for _, skill in given):
        shifts = [s for s, k in given if k == skill]
        hours = [v.hours[s, task, skill] for s in shifts]
        most = sum(_most_of(v, s) for s in shifts)
        v.model.add(sum(hours) <= min(v.problem.tasks[task].hundredths[skill], most) * used)
    return used
