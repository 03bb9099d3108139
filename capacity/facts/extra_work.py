"""Work that one check has beyond its package."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from capacity.facts.packages import Package, Stage


class ExtraReason(StrEnum):
    """Why a check has work beyond its package."""

    MODIFICATION = "modification"
    AIRWORTHINESS_DIRECTIVE = "airworthiness directive"
    DEFERRED_DEFECT = "deferred defect"
    CUSTOMER_REQUEST = "customer request"
    GROWN_FINDING = "grown finding"


@dataclass(frozen=True, slots=True)
class ExtraWork:
    """``man_hours`` of a skill added to a stage of one check; no findings come on top of them.

    A stage that its package does not have is a new one: a row of it says what kind of ``work``
    it is and its ``days``, and what it comes ``after``; None is the last stage of the package.
    """

    check: str
    stage: str
    skill: str
    man_hours: float
    reason: ExtraReason
    after: tuple[str, ...] | None = None
    work: str | None = None
    days: int | None = None


def with_extra(package: Package, extra: Sequence[ExtraWork]) -> Package:
    """Return a package as a check with extra work has it, new stages behind its own.

    The last stage of the package waits for each new one too, unless that waits for it itself or
    by way of others: nothing is closed up before.
    """
    own = {stage.name for stage in package.stages}
    stages = [
        replace(stage, extra_hours=_by_skill(row for row in extra if row.stage == stage.name))
        for stage in package.stages
    ]
    last = stages[-1]
    new = [
        _new_stage(name, [row for row in extra if row.stage == name], last.name)
        for name in dict.fromkeys(row.stage for row in extra if row.stage not in own)
    ]
    after = {stage.name: stage.after for stage in (*stages, *new)}
    waited_for = [stage.name for stage in new if not _waits_for(stage.name, last.name, after)]
    stages[-1] = replace(last, after=(*last.after, *waited_for))
    return replace(package, stages=(*stages, *new))


def _new_stage(name: str, rows: Sequence[ExtraWork], last: str) -> Stage:
    after = next((row.after for row in rows if row.after is not None), (last,))
    return Stage(
        name=name,
        work=next((row.work for row in rows if row.work is not None), ""),
        days=next((row.days for row in rows if row.days is not None), 1),
        man_hours=_by_skill(rows),
        after=after,
        is_extra=True,
    )


def _by_skill(rows: Iterable[ExtraWork]) -> Mapping[str, float]:
    found: dict[str, float] = {}
    for row in rows:
        found[row.skill] = found.get(row.skill, 0.0) + row.man_hours
    return found


def _waits_for(stage: str, other: str, after: Mapping[str, tuple[str, ...]]) -> bool:
    """Return whether a stage waits for another one, itself or by way of others."""
    seen, ahead = set[str](), [stage]
    while ahead:
        for name in after.get(ahead.pop(), ()):
            if name == other:
                return True
            if name not in seen:
                seen.add(name)
                ahead.append(name)
    return False
