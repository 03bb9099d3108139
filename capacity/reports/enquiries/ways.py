"""The two ways to take an enquiry, with nobody moved and with others moved, told alike."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from capacity.facts import Check
from capacity.plans.plan import Placement
from capacity.questions.asking.differences import Costs, HoursMore, LabourMore, Move
from capacity.questions.enquiries.values import (
    Combination,
    CombinationAnswer,
    EnquiryAnswer,
    WithMoves,
)
from capacity.words import LEAST_HOURS

NOBODY_MOVED, OTHERS_MOVED = "nobody moved", "others moved"


@dataclass(frozen=True, slots=True)
class Way:
    """One way to take one enquiry.

    ``lowest_price`` is the price from which it pays; it is ``costs.money`` and, where others
    move, ``better_without``: what their moves would save without the enquiry. All in the
    base's currency.
    """

    enquiry: Check
    name: str
    placements: tuple[Placement, ...]
    pace: str | None
    costs: Costs
    better_without: float
    lowest_price: float
    hours_more: tuple[HoursMore, ...]
    moves: tuple[Move, ...]
    labour: LabourMore | None = None

    @property
    def in_day(self) -> date:
        """Return the day on which the aircraft comes in."""
        return self.placements[0].in_day

    @property
    def out_day(self) -> date:
        """Return the day from which its last bay is free."""
        return self.placements[-1].out_day

    @property
    def late_days(self) -> int:
        """Return the days past ``Agreed out``, 0 where none is agreed."""
        return days_late(self.enquiry, self.placements)


@dataclass(frozen=True, slots=True)
class TakingPlan:
    """A plan that takes one enquiry or several, against the plan without, under a name."""

    name: str
    enquiries: tuple[str, ...]
    moves: tuple[Move, ...]
    hours_more: tuple[HoursMore, ...]


def way_of_cheapest(answer: EnquiryAnswer) -> Way | None:
    """Return the cheapest place with nobody moved, None without any."""
    slot = answer.cheapest
    if slot is None:
        return None
    return Way(
        enquiry=answer.enquiry,
        name=NOBODY_MOVED,
        placements=slot.placements,
        pace=slot.pace,
        costs=slot.costs,
        better_without=0.0,
        lowest_price=slot.cost,
        hours_more=answer.hours_more,
        moves=(),
        labour=answer.labour,
    )


def way_with_moves(answer: EnquiryAnswer) -> Way | None:
    """Return the best way found in which others may move, None without any."""
    moved = answer.with_moves
    if moved is None:
        return None
    return Way(
        enquiry=answer.enquiry,
        name=OTHERS_MOVED if moved.moves else NOBODY_MOVED,
        placements=_placements_of(answer.enquiry.name, moved),
        pace=None,
        costs=moved.costs,
        better_without=moved.better_without,
        lowest_price=moved.break_even,
        hours_more=moved.hours_more,
        moves=moved.moves,
        labour=moved.labour,
    )


def ways_of(answer: EnquiryAnswer) -> tuple[Way, ...]:
    """Return the ways that are known; the second only where somebody does move."""
    cheapest, moved = way_of_cheapest(answer), way_with_moves(answer)
    ways = [cheapest] if cheapest else []
    if moved is not None and (moved.moves or cheapest is None):
        ways.append(moved)
    return tuple(ways)


def taking_plans(
    answers: Iterable[EnquiryAnswer], sets: CombinationAnswer
) -> tuple[TakingPlan, ...]:
    """Return every plan that the answers speak of: of each enquiry, then of each set."""
    plans = [
        TakingPlan(
            f"{way.enquiry.name}, {way.name}", (way.enquiry.name,), way.moves, way.hours_more
        )
        for answer in answers
        for way in ways_of(answer)
    ]
    plans += [
        TakingPlan(f"combination {rank}", one.names, one.moves, one.hours_more)
        for rank, one in enumerate(ranked(sets), start=1)
    ]
    return tuple(plans)


def days_late(check: Check, stay: Sequence[Placement]) -> int:
    """Return the days by which a check is out past ``Agreed out``, 0 where none is agreed."""
    agreed = check.agreed_out_from(stay[0].in_day)
    return 0 if agreed is None else max(0, (stay[-1].out_day - agreed).days)


def ranked(sets: CombinationAnswer) -> tuple[Combination, ...]:
    """Return the sets, the one that gains most first."""
    return (sets.best, *sets.runners_up)


def overloads(hours_more: Iterable[HoursMore]) -> tuple[HoursMore, ...]:
    """Return the weeks and skills in which more man-hours find nobody to do them."""
    return tuple(more for more in hours_more if more.overload >= LEAST_HOURS)


def _placements_of(name: str, moved: WithMoves) -> tuple[Placement, ...]:
    own = (placement for placement in moved.plan.placements if placement.check == name)
    return tuple(sorted(own, key=lambda placement: placement.in_day))
