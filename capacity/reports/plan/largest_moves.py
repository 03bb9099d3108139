"""The stages of which levelling moved the most man-hours: what left which week, and why."""

from dataclasses import dataclass

from capacity.plans.moved_hours import MovedHours, moved_hours
from capacity.reports.plan.moved_words import in_words, why_moved
from capacity.reports.plan.view import View
from capacity.words import LEAST_HOURS

MOST_SHOWN = 10
LARGEST = "Most man-hours put off or brought forward"


@dataclass(frozen=True, slots=True)
class LargeMove:
    """Man-hours of one skill of a stage that lie in another week than evenly, in words."""

    check: str
    aircraft: str
    stage: str
    skill: str
    moved: str
    why: str


def largest_moves(view: View, most: int = MOST_SHOWN) -> tuple[LargeMove, ...]:
    """Return the moves of the most hours, the largest first; none where all lie evenly."""
    levelling = view.levelling
    if levelling is None:
        return ()
    base, levelled = view.base, view.outcome.audit

    def told(move: MovedHours) -> LargeMove:
        return LargeMove(
            move.check,
            base.check(move.check).aircraft,
            move.stage,
            move.skill,
            in_words(move),
            why_moved(move, levelling.evenly, levelled, base),
        )

    moves = (move for move in moved_hours(levelling.weeks) if move.hours >= LEAST_HOURS)
    # Ties in the order of the plan, so that it says the same each time.
    return tuple(map(told, sorted(moves, key=lambda move: -move.hours)[:most]))
