"""Who has to be told of a check that changed: customer, bays, crews, shops, licence holders."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from capacity.facts import Base, Crew, Stage
from capacity.plans.plan import Placement

ONE_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Concerned:
    """Whom a change concerns, by the names of the workbook; empty where nobody of a kind.

    ``customer`` is blank where in day and out day are as before. ``licences`` are categories
    with the skill that they stand for, such as ``B1 (Airframe)``. ``is_known`` says whether a
    workbook has the check: without it only its bays are known.
    """

    customer: str = ""
    bays: tuple[str, ...] = ()
    crews: tuple[str, ...] = ()
    shops: tuple[str, ...] = ()
    licences: tuple[str, ...] = ()
    is_known: bool = True


def concerned_by(
    check: str,
    before: Sequence[Placement],
    after: Sequence[Placement],
    base: Base,
    old_base: Base | None = None,
) -> Concerned:
    """Return whom it concerns that a check has the slot ``after`` and no longer that ``before``.

    Bays are those that it leaves, and those that it has on other days. Crews are those that have
    a skill of a stage whose days or bay changed, may work on the type, and have a shift on one
    of its days, before or after; shops those to which the stages that changed send items. A check
    that the base no longer has is looked up in ``old_base``.
    """
    bays = _bays(before, after)
    where = next((b for b in (base, old_base) if b is not None and b.has_check(check)), None)
    if where is None:
        return Concerned(bays=bays, is_known=False)
    fact = where.check(check)
    days = _days_of_stages(before, after)
    stages = [s for s in where.package_of(fact).stages if s.name in days]
    same_dates = before and after and (before[0].in_day, before[-1].out_day) == _dates_of(after)
    skills = dict.fromkeys(skill for stage in stages for skill in _skills(stage))
    return Concerned(
        customer="" if same_dates else fact.customer,
        bays=bays,
        crews=tuple(
            crew.name
            for crew in where.crews
            if (not crew.types or fact.type in crew.types)
            and any(_works_on(crew, stage, days[stage.name], where) for stage in stages)
        ),
        shops=tuple(
            dict.fromkeys(
                loop.shop
                for loop in where.shop_loops
                if loop.package == fact.package and {loop.leave_at, loop.back_for} & set(days)
            )
        ),
        licences=tuple(
            f"{where.skill(skill).licence} ({skill})"
            for skill in skills
            if where.skill(skill).licence
        ),
    )


def _dates_of(stay: Sequence[Placement]) -> tuple[date, date]:
    return stay[0].in_day, stay[-1].out_day


def _bays(before: Sequence[Placement], after: Sequence[Placement]) -> tuple[str, ...]:
    """Return the bays that a check has on other days now, in the order in which it had them."""
    old, new = ([(p.bay, p.in_day, p.out_day) for p in stay] for stay in (before, after))
    others = [*(v for v in old if v not in new), *(v for v in new if v not in old)]
    return tuple(dict.fromkeys(bay for bay, _, _ in sorted(others, key=lambda visit: visit[1])))


def _days_of_stages(
    before: Sequence[Placement], after: Sequence[Placement]
) -> dict[str, frozenset[date]]:
    """Return the days, before or after, of each stage that has other days or another bay."""
    old, new = (dict(_stages(stay)) for stay in (before, after))
    return {
        name: frozenset(_days(old.get(name))) | frozenset(_days(new.get(name)))
        for name in dict.fromkeys((*old, *new))
        if old.get(name) != new.get(name)
    }


def _stages(stay: Sequence[Placement]) -> Iterator[tuple[str, tuple[str, date, date]]]:
    for placement in stay:
        for stage in placement.stages:
            yield stage.stage, (placement.bay, stage.first, stage.until)


def _days(told: tuple[str, date, date] | None) -> Iterator[date]:
    if told is None:
        return
    _, day, until = told
    while day < until:
        yield day
        day += ONE_DAY


def _skills(stage: Stage) -> list[str]:
    """Return the skills that a stage asks for, extra work counted."""
    return [skill for skill, hours in stage.asked_hours(1.0).items() if hours > 0]


def _works_on(crew: Crew, stage: Stage, days: frozenset[date], base: Base) -> bool:
    """Return whether a crew has a skill of the stage and a shift on one of the days."""
    if set(crew.skills).isdisjoint(_skills(stage)):
        return False
    cycle = base.pattern(crew.pattern).cycle
    return any(
        crew.is_there_on(day) and cycle[(day - crew.starts_cycle_on).days % len(cycle)] is not None
        for day in days
    )
