"""The random bases of every rule, with news of their checks on top. All is invented.

The first check is in work in bay A with progress told of it as a whole or stage by stage.
"""

from dataclasses import replace
from datetime import timedelta
from random import Random

from capacity.facts import Base, Check, ExtraReason, ExtraWork, ReadyDate, Status, WorkProgress
from tests.reference.every_rule_bases import NARROW, PAINT, every_rule_base


def base_with_news(rng: Random) -> Base:
    """Return a base of every rule with a check in work that progress is told of."""
    base = every_rule_base(rng)
    first = base.checks[0]
    since = base.first_day - timedelta(days=rng.randint(1, 5))
    first = replace(
        first,
        status=Status.FIXED,
        type=NARROW.name,
        price=0.0,
        fixed_bay="A",
        fixed_in=since,
        earliest_in=since,
        latest_in=since,
        remaining=None,
    )
    return with_news(rng, base.replace(checks=(first, *base.checks[1:])))


def base_with_a_check_between_two_bays(rng: Random) -> Base:
    """Return a base of every rule whose first check stands in bay A, with nothing left to do there.

    It is to be painted next; whatever of its package comes before the paint is done.
    """
    base = base_with_news(rng)
    first = replace(base.checks[0], package="painted")
    stages = base.package("painted").stages
    assert first.fixed_in is not None
    as_of = max(first.fixed_in, base.first_day - timedelta(days=rng.randint(0, 2)))
    before_paint = stages[: [stage.work for stage in stages].index(PAINT)]
    told = [WorkProgress(first.name, as_of, stage.name, done=1.0) for stage in before_paint]
    others = tuple(row for row in base.extra_work if row.check != first.name)
    ready = tuple(row for row in base.ready_dates if row.check != first.name)
    return base.replace(
        checks=(first, *base.checks[1:]), progress=tuple(told), extra_work=others, ready_dates=ready
    )


def with_news(rng: Random, base: Base) -> Base:
    """Return a base with extra work and Ready dates, and progress of what is in before it begins.

    What is in has no share that remains any more.
    """
    checks = [
        replace(check, remaining=None) if _is_in(check, base) else check for check in base.checks
    ]
    base = base.replace(checks=tuple(checks))
    base = base.replace(extra_work=tuple(_extra_work(rng, base)))
    told = [row for check in checks if _is_in(check, base) for row in _progress(rng, base, check)]
    base = base.replace(progress=tuple(told))
    return base.replace(ready_dates=tuple(_ready_dates(rng, base)))


def _is_in(check: Check, base: Base) -> bool:
    return check.fixed_in is not None and check.fixed_in <= base.first_day


def _extra_work(rng: Random, base: Base) -> list[ExtraWork]:
    """Give some checks more hours on a stage, and some a new stage or two."""
    rows = []
    for check in base.checks:
        package = base.package(check.package)
        names = [stage.name for stage in package.stages]
        skill = rng.choice(base.skills).name
        if rng.random() < 0.3:
            reason = ExtraReason.DEFERRED_DEFECT
            rows.append(ExtraWork(check.name, rng.choice(names), skill, 30.0, reason))
        for new in ("N1", "N2")[: rng.choice([0, 0, 1, 1, 2])]:
            after = rng.choice([None, (), (rng.choice(names),)])
            work, days = package.stages[0].work, rng.randint(1, 2)
            reason = ExtraReason.MODIFICATION
            rows.append(ExtraWork(check.name, new, skill, 25.0, reason, after, work, days))
            names.append(new)
    return rows


def _ready_dates(rng: Random, base: Base) -> list[ReadyDate]:
    """Let stages of some checks wait, one stage for two things at times."""
    rows = []
    for check in base.checks:
        for stage in base.package_of(check).stages:
            if rng.random() < 0.3:
                until = max(check.latest_in, base.first_day) + timedelta(days=rng.randint(-1, 6))
                rows.append(ReadyDate(check.name, stage.name, until, "part"))
                if rng.random() < 0.2:
                    sooner = until - timedelta(days=2)
                    rows.append(ReadyDate(check.name, stage.name, sooner, "tool"))
    return rows


def _progress(rng: Random, base: Base, first: Check) -> list[WorkProgress]:
    """Tell of the whole check, of some of its stages, or of both; seldom of an earlier day too."""
    stages = base.package_of(first).stages
    as_of = base.first_day - timedelta(days=rng.randint(0, 2))
    as_of = max(as_of, first.fixed_in or as_of)
    rows = []
    if rng.random() < 0.5:
        rows.append(_row(rng, WorkProgress(first.name, as_of), 150.0))
    for stage in stages[: rng.randint(0 if rows else 1, len(stages))]:
        if rng.random() < 0.7 or not rows:
            planned = sum(stage.man_hours.values())
            rows.append(_row(rng, WorkProgress(first.name, as_of, stage.name), planned))
            if rng.random() < 0.3:
                rows.append(replace(rows[-1], as_of=as_of - timedelta(days=1), done=0.1))
    return rows


def _row(rng: Random, row: WorkProgress, planned: float) -> WorkProgress:
    if rng.random() < 0.2:
        return replace(row, finished=row.as_of)
    if rng.random() < 0.4:
        to_go = planned * rng.choice([0.0, 0.3, 1.0, 1.6])
        return replace(row, hours_to_go=to_go, hours_booked=rng.choice([None, 20.0]))
    return replace(row, done=rng.choice([0.0, 0.25, 0.5, 0.8, 1.0]))
