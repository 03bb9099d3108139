"""How much of each stage is left by the progress that is stated for a check."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from capacity.facts import WorkProgress, latest_by_stage

TOLERANCE = 1e-9


@dataclass(frozen=True, slots=True)
class Planned:
    """A stage as it is planned: its man-hours with findings, and what it waits for.

    One that ``is_extra`` is none of the package but added to the check.
    """

    stage: str
    man_hours: float
    after: tuple[str, ...]
    is_extra: bool = False


@dataclass(frozen=True, slots=True)
class Left:
    """``shares`` of the stages' man-hours and days that are left, and the stages ``begun``.

    A stage with nothing left has no share; one that has grown a share above 1.
    """

    shares: Mapping[str, float]
    begun: frozenset[str]


def left_by_stage(planned: Sequence[Planned], progress: Iterable[WorkProgress]) -> Left:
    """Return what is left of the stages of a check, which stand in network order.

    A stage with a row of its own has ``share_left`` of it. Of the others those are done that a
    stage begun or done waits for, itself or by way of others; but not extra ones, which are
    found late. For the rest the row of the
    whole check counts: what is done of all man-hours is taken off the front; where more than
    all is to go, each of them grows alike. Without such a row they are left whole.
    """
    rows = latest_by_stage(progress)
    whole = rows.get(None)
    own = {
        one.stage: share_left(rows[one.stage], one.man_hours)
        for one in planned
        if one.stage in rows
    }
    begun = {
        one.stage
        for one in planned
        if one.stage in rows and _is_begun(rows[one.stage], own[one.stage])
    }
    done = {name for name, share in own.items() if share <= TOLERANCE}
    extra = {one.stage for one in planned if one.is_extra}
    passed = _waited_for(planned, begun | done) - extra
    others = [one.stage for one in planned if one.stage not in own]
    shares = dict.fromkeys(others, 1.0)
    if whole is not None:
        total = sum(one.man_hours for one in planned)
        share = share_left(whole, total)
        if share >= 1 or share <= TOLERANCE:
            shares = dict.fromkeys(others, share)
        else:
            shares, stopped_in = _off_the_front(planned, (1 - share) * total)
            if stopped_in is not None and stopped_in not in own and stopped_in not in passed:
                begun.add(stopped_in)
    shares |= {name: 0.0 for name in others if name in passed} | own
    return Left(
        {one.stage: shares[one.stage] for one in planned if shares[one.stage] > TOLERANCE},
        frozenset(begun),
    )


def share_left(row: WorkProgress, planned: float) -> float:
    """Return the share of ``planned`` man-hours that is left by a row; above 1 where it grew.

    0 when finished, else hours to go / planned, else 1 - done. Hours to go of a stage that
    has no planned ones say nothing of a share: it is left whole.
    """
    if row.finished is not None:
        return 0.0
    if row.hours_to_go is not None:
        if planned <= TOLERANCE:
            return 1.0 if row.hours_to_go > TOLERANCE else 0.0
        return row.hours_to_go / planned
    return 1.0 if row.done is None else 1.0 - row.done


def _is_begun(row: WorkProgress, share: float) -> bool:
    """Return whether a stage is in work: not done, and something of it done or booked."""
    return share > TOLERANCE and (share < 1 - TOLERANCE or bool(row.hours_booked) or bool(row.done))


def _waited_for(planned: Sequence[Planned], stages: Iterable[str]) -> frozenset[str]:
    """Return all that some stages wait for, itself or by way of others."""
    after = {one.stage: one.after for one in planned}
    found: set[str] = set()
    ahead = [name for stage in stages for name in after[stage]]
    while ahead:
        name = ahead.pop()
        if name not in found:
            found.add(name)
            ahead += after[name]
    return frozenset(found)


def _off_the_front(planned: Sequence[Planned], done: float) -> tuple[dict[str, float], str | None]:
    """Return the shares left when ``done`` man-hours are taken off, and the stage they end in."""
    shares: dict[str, float] = {}
    gone, stopped_in = 0.0, None
    for one in planned:
        before, gone = gone, gone + one.man_hours
        if done > TOLERANCE and gone <= done + TOLERANCE:
            shares[one.stage] = 0.0
        elif before < done - TOLERANCE:
            shares[one.stage] = (gone - done) / one.man_hours
            stopped_in = one.stage
        else:
            shares[one.stage] = 1.0
    return shares, stopped_in
