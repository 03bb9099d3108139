"""Small random bases with days and agreements, in addition to every other rule.

``random.Random(seed)`` adds the same to a base for a seed. All is invented.
"""

from dataclasses import replace
from datetime import timedelta
from random import Random

from capacity.facts import Base, CalendarDays, Employment, Licence, Status


def with_spans_of_crews(base: Base, rng: Random) -> Base:
    """Return the base with some crews there from a day on, until a day, or both."""
    crews = []
    for crew in base.crews:
        first = base.first_day + timedelta(days=rng.randint(-3, 12))
        last = first + timedelta(days=rng.randint(0, 25))
        begins, ends = rng.choice([(None, None), (first, None), (None, last), (first, last)])
        crews.append(replace(crew, first=begins, last=ends))
    return base.replace(crews=tuple(crews))


def with_guarantees(base: Base, rng: Random) -> Base:
    """Return the base with hours guaranteed to its contract crews, and one such crew at least."""
    skills = tuple(skill.name for skill in base.skills)
    further = replace(
        base.crews[0],
        name="Guests for sure",
        skills=skills[: rng.randint(1, len(skills))],
        types=frozenset(),
        employment=Employment.CONTRACT,
        heads=rng.randint(1, 3),
    )
    return base.replace(
        crews=tuple(
            replace(crew, guaranteed_hours=float(rng.randint(5, 60)))
            if crew.employment is Employment.CONTRACT
            else crew
            for crew in (*base.crews, further)
        )
    )


def with_licences(base: Base, rng: Random) -> Base:
    """Return the base with some licences and authorisations of its crews that end."""
    rows = []
    types = [aircraft.name for aircraft in base.types]
    for crew in base.crews:
        for _ in range(rng.randint(0, 3)):
            of = rng.choice([*crew.skills, *crew.skills, *(sorted(crew.types) or types)])
            until = base.first_day + timedelta(days=rng.randint(-2, 20))
            rows.append(Licence(crew.name, of, rng.randint(1, 2), until))
    return base.replace(licences=tuple(rows))


def with_promises(base: Base, rng: Random) -> Base:
    """Return the base with days agreed that move with the in day, and a cost of Wanted in."""
    checks = []
    for check in base.checks:
        if rng.random() < 0.5:
            check = replace(check, agreed_out=None, agreed_days=rng.randint(2, 14))
            check = replace(check, late_cost_per_day=float(rng.randint(50, 400)))
        if rng.random() < 0.5:
            wanted = check.earliest_in + timedelta(days=rng.randint(-2, 6))
            cost = float(rng.randint(20, 300))
            check = replace(check, wanted_in=wanted, wanted_cost_per_day=cost)
        checks.append(check)
    return base.replace(checks=tuple(checks))


def with_agreements(base: Base, rng: Random) -> Base:
    """Return the base with checks held, options lapsed, and moves on worked days, by chance."""
    days_off = rng.random() < 0.4
    checks = []
    for check in base.checks:
        if check.status is Status.OPTION and rng.random() < 0.4:
            by = base.first_day + timedelta(days=rng.choice([-3, -1, 0, 5]))
            check = replace(check, decide_by=by, price=check.price + 20000.0)
        if check.status is not Status.FIXED and rng.random() < 0.4:
            day = max(check.earliest_in, base.first_day) + timedelta(days=rng.randint(0, 3))
            bay = rng.choice([bay.name for bay in base.bays])
            held = rng.choice([{"held_in": day}, {"held_bay": bay}])
            check = replace(check, **held)
        checks.append(check)
    return base.replace(
        checks=tuple(checks), comes_in_on_days_off=days_off, leaves_on_days_off=days_off
    )


def with_own_days(base: Base, rng: Random) -> Base:
    """Return the base closed on some days, at work on others, and with shortened days."""
    rows, first = [], base.first_day - timedelta(days=3)
    while len(rows) < 5:
        first += timedelta(days=rng.randint(0, 7))
        last = first + timedelta(days=rng.randint(0, 3))
        worked = rng.choice([True, False, False, None])
        share = 1.0 if worked is False else rng.choice([0.25, 0.5, 0.8, 1.0])
        rows.append(CalendarDays(first, last, worked, share))
        first = last + timedelta(days=1)
    return base.replace(calendar_days=tuple(rows))
