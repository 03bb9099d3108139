"""Which man-hours levelling moved: from which week to which, stage by stage and skill by skill."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from capacity.plans.levelled import StageWeek
from capacity.plans.week_hours import TOLERANCE


@dataclass(frozen=True, slots=True)
class MovedHours:
    """Man-hours of one skill of a stage that lie in another ISO week than evenly."""

    check: str
    stage: str
    skill: str
    left: str
    went_to: str
    hours: float

    @property
    def are_put_off(self) -> bool:
        """Whether they lie later than evenly; otherwise they were brought forward."""
        return self.left < self.went_to


def moved_hours(weeks: Iterable[StageWeek]) -> tuple[MovedHours, ...]:
    """Return the moves from the even spread to the plan, in the order of the stages.

    Hours keep their order in time: the first that leave a week are the first to come into
    another, so that as few as possible are moved as short a way as possible.
    """
    of: dict[tuple[str, str, str], list[StageWeek]] = {}
    for one in weeks:
        of.setdefault((one.check, one.stage, one.skill), []).append(one)
    return tuple(move for mine in of.values() for move in _moves(mine))


def _moves(weeks: Sequence[StageWeek]) -> Iterator[MovedHours]:
    in_turn = sorted(weeks, key=lambda one: one.week)
    out = [(one, -one.moved) for one in in_turn if one.moved < -TOLERANCE]
    into = [(one, one.moved) for one in in_turn if one.moved > TOLERANCE]
    while out and into:
        (left, most), (went_to, room) = out[0], into[0]
        hours = min(most, room)
        yield MovedHours(left.check, left.stage, left.skill, left.week, went_to.week, hours)
        out[0], into[0] = (left, most - hours), (went_to, room - hours)
        out = out[1:] if out[0][1] <= TOLERANCE else out
        into = into[1:] if into[0][1] <= TOLERANCE else into
