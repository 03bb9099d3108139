"""Which share of each stage is left, from the progress that is told of a check."""

from collections.abc import Sequence
from dataclasses import dataclass

from capacity.facts import WorkProgress, latest_by_stage

TINY = 1e-9


@dataclass(frozen=True)
class Asked:
    """A stage by its number among the check's: its name, man-hours, and what it waits for.

    One that ``is_extra`` is none of the package but added to the check.
    """

    name: str
    man_hours: float
    after: tuple[int, ...]
    is_extra: bool = False


@dataclass(frozen=True)
class Share:
    """The share of a stage's man-hours and days that is left, and whether it is in work."""

    left: float
    in_work: bool


def shares_left(stages: Sequence[Asked], progress: Sequence[WorkProgress]) -> tuple[Share, ...]:
    """Return the share left of each stage; the stages stand behind those that they wait for.

    By a row of its own where it has one. What a stage in work or done waits for is done, where it
    has none and is no extra stage: these are found late. What is left over goes by the row of the
    whole check: its done man-hours, counted over all stages, end those in front, and a share above
    1 lets every one of them grow.
    """
    rows = latest_by_stage(progress)
    told = [rows.get(stage.name) for stage in stages]
    shares = [_of_row(row, stage.man_hours) for row, stage in zip(told, stages, strict=True)]
    in_work = [_in_work(row, share) for row, share in zip(told, shares, strict=True)]
    must_be_done = _must_be_done(stages, shares, in_work)
    whole = rows.get(None)
    of_whole = _of_whole(stages, whole)
    found = []
    for number, row in enumerate(told):
        if row is not None:
            found.append(Share(shares[number], in_work[number]))
        elif must_be_done[number] and not stages[number].is_extra:
            found.append(Share(0.0, False))
        else:
            found.append(of_whole[number])
    return tuple(found)


def _of_row(row: WorkProgress | None, man_hours: float) -> float:
    if row is None:
        return 1.0
    if row.finished is not None:
        return 0.0
    if row.hours_to_go is None:
        return 1.0 - (row.done or 0.0)
    if man_hours > TINY:
        return row.hours_to_go / man_hours
    return float(row.hours_to_go > TINY)


def _in_work(row: WorkProgress | None, share: float) -> bool:
    if row is None or share <= TINY:
        return False
    return share < 1.0 - TINY or bool(row.done) or bool(row.hours_booked)


def _must_be_done(
    stages: Sequence[Asked], shares: Sequence[float], in_work: Sequence[bool]
) -> list[bool]:
    """Return which stages are waited for by one in work or done, from the last to the first."""
    must = [False] * len(stages)
    for number in reversed(range(len(stages))):
        if must[number] or in_work[number] or shares[number] <= TINY:
            for before in stages[number].after:
                must[before] = True
    return must


def _of_whole(stages: Sequence[Asked], row: WorkProgress | None) -> list[Share]:
    """Return the shares by the row of the whole check alone."""
    total = sum(stage.man_hours for stage in stages)
    share = _of_row(row, total)
    if share <= TINY or share >= 1.0:
        return [Share(share, False)] * len(stages)
    done = (1.0 - share) * total
    found, until = [], 0.0
    for stage in stages:
        until += stage.man_hours
        left = until - done
        if done > TINY and left <= TINY:
            found.append(Share(0.0, False))
        elif done > TINY and left < stage.man_hours - TINY:
            found.append(Share(left / stage.man_hours, True))
        else:
            found.append(Share(1.0, False))
    return found
