"""What progress has earned and cost in man-hours, and what a check will have taken at its end.

The measures are those of earned value management, in man-hours instead of money::

    earned value            EV  = planned hours x share done
    performance factor      CPI = EV / hours booked
    estimate at completion  EAC = hours booked + hours to go
                                = planned hours / CPI, where nobody has estimated what is to go

Source: cost performance index, EAC = ACWP + work remaining / performance factor, with BCWP / ACWP
for the factor, and EAC = AC + ETC (Defense Acquisition University, lesson "Estimates at
Completion"; its names BCWP and ACWP are EV and AC).
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from math import fsum

from capacity.facts import Base, Check, WorkProgress, latest_by_stage
from capacity.plans.progress_left import left_by_stage
from capacity.plans.work_left import planned_stages

TINY = 1e-9


@dataclass(frozen=True, slots=True)
class Earned:
    """A stage of a check in work, or with ``stage`` None the check as a whole; man-hours.

    ``planned`` are the hours with findings, ``earned`` those of the work done, ``to_go`` what
    the plan counts as left. ``booked``, ``factor`` (earned / booked) and ``estimate``, what it
    will have taken at its end, are None where they are not known. With ``is_estimated`` somebody
    has stated what is to go; otherwise it follows from the share done. A stage without a row has
    no ``as_of``; a check that ``is_summed`` adds up its stages.
    """

    check: str
    stage: str | None
    as_of: date | None
    planned: float
    earned: float
    booked: float | None
    to_go: float
    factor: float | None
    estimate: float | None
    is_estimated: bool
    is_summed: bool = False

    @property
    def grown(self) -> float | None:
        """How far the estimate is above the planned hours; negative below, None if unknown."""
        return None if self.estimate is None else self.estimate - self.planned

    @property
    def to_go_at_factor(self) -> float | None:
        """The hours to go if the rest goes on at the same factor; None if that is unknown."""
        if self.factor is None or self.factor <= TINY:
            return None
        return max(0.0, self.planned - self.earned) / self.factor


def earned_by_check(base: Base) -> Mapping[str, tuple[Earned, ...]]:
    """Return the stages of each check with progress in network order, the whole check last."""
    told = {row.check for row in base.progress}
    return {check.name: tuple(_lines(base, check)) for check in base.checks if check.name in told}


def _lines(base: Base, check: Check) -> Iterator[Earned]:
    told = base.progress_of(check.name)
    rows = latest_by_stage(told)
    planned = planned_stages(base, check)
    left = left_by_stage(planned, told)
    stages = [
        earned_of(
            check.name,
            one.stage,
            rows.get(one.stage),
            one.man_hours,
            left.shares.get(one.stage, 0.0) * one.man_hours,
        )
        for one in planned
    ]
    yield from stages
    whole, hours = rows.get(None), fsum(one.man_hours for one in planned)
    to_go = fsum(stage.to_go for stage in stages)
    if whole is not None and whole.hours_booked is not None:
        yield earned_of(check.name, None, whole, hours, to_go)
    else:
        yield _summed(check.name, max(row.as_of for row in told), stages)


def earned_of(
    check: str, stage: str | None, row: WorkProgress | None, planned: float, to_go: float
) -> Earned:
    """Return the figures of a row of progress; ``to_go`` is what the plan counts as left.

    The share done is ``Done %`` where it is given, and all when it is finished. With booked
    hours and hours to go it is booked / (booked + to go).
    """
    booked = None if row is None else row.hours_booked
    earned = max(0.0, planned - to_go)
    is_estimated = row is not None and row.hours_to_go is not None
    if row is not None and row.finished is None:
        if row.done is not None:
            earned = planned * row.done
        elif booked is not None and booked + to_go > TINY:
            earned = planned * booked / (booked + to_go)
    factor = earned / booked if booked is not None and booked > TINY else None
    estimate = None
    if booked is not None and (is_estimated or to_go <= TINY):
        estimate = booked + to_go
    elif booked is None and is_estimated and to_go > planned:
        estimate = to_go  # it has grown, and nobody has booked anything on it
    elif factor is not None and factor > TINY:
        estimate = planned / factor
    as_of = None if row is None else row.as_of
    return Earned(
        check, stage, as_of, planned, earned, booked, to_go, factor, estimate, is_estimated
    )


def _summed(check: str, as_of: date, stages: list[Earned]) -> Earned:
    """Add up the stages; the factor is that of those with booked hours.

    A stage without an estimate counts with its earned hours and those to go.
    """
    with_hours = [stage for stage in stages if stage.booked is not None]
    booked = fsum(stage.booked or 0.0 for stage in with_hours)
    factor = fsum(stage.earned for stage in with_hours) / booked if booked > TINY else None
    estimates = [
        stage.earned + stage.to_go if stage.estimate is None else stage.estimate for stage in stages
    ]
    return Earned(
        check=check,
        stage=None,
        as_of=as_of,
        planned=fsum(stage.planned for stage in stages),
        earned=fsum(stage.earned for stage in stages),
        booked=booked if with_hours else None,
        to_go=fsum(stage.to_go for stage in stages),
        factor=factor,
        estimate=fsum(estimates) if any(s.estimate is not None for s in stages) else None,
        is_estimated=any(stage.is_estimated for stage in stages),
        is_summed=True,
    )
