"""How far the work on a check is that is in already."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta


@dataclass(frozen=True, slots=True)
class WorkProgress:
    """What is done of one stage, or with ``stage`` None of a check as a whole.

    It is the state at the start of the day ``as_of``. ``done`` is a share from 0 to 1;
    ``hours_to_go``, man-hours over all skills, goes before it, and ``finished``, the last day of
    the work, before both. ``hours_booked`` are man-hours spent so far; they move nothing.
    """

    check: str
    as_of: date
    stage: str | None = None
    done: float | None = None
    hours_booked: float | None = None
    hours_to_go: float | None = None
    finished: date | None = None

    @property
    def over_on(self) -> date | None:
        """The day by which it is done: after ``finished``, else ``as_of``; None while it is not.

        Items that leave at its end are at their shop from then on.
        """
        if self.finished is not None:
            return self.finished + timedelta(days=1)
        is_done = self.done == 1 if self.hours_to_go is None else self.hours_to_go == 0
        return self.as_of if is_done else None


def leaves_on(progress: Sequence[WorkProgress], stages: Iterable[str]) -> date | None:
    """Return the day after the last one ``finished`` of a check that is finished as a whole.

    Of one whose row as a whole says so while no stage's own row has anything left, or each of
    whose ``stages`` does; None for any other, also one that is done without a day.
    """
    rows = latest_by_stage(progress)
    finished = {name: row.finished for name, row in rows.items() if row.finished is not None}
    whole = None in finished and all(row.over_on for row in rows.values())
    if not whole and any(stage not in finished for stage in stages):
        return None
    return max(finished.values()) + timedelta(days=1) if finished else None


def latest_by_stage(progress: Iterable[WorkProgress]) -> Mapping[str | None, WorkProgress]:
    """Return of one check's rows the latest of each stage; None stands for the whole check."""
    found: dict[str | None, WorkProgress] = {}
    for row in progress:
        before = found.get(row.stage)
        if before is None or row.as_of >= before.as_of:
            found[row.stage] = row
    return found
