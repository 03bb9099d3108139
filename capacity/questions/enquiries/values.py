"""What is answered about aircraft that are offered to the base; all money in its currency."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date

from capacity.facts import Check
from capacity.plans.plan import Placement, Plan, WeekHours
from capacity.questions.asking.contribution import Contribution
from capacity.questions.asking.differences import Costs, HoursMore, LabourMore, Move


@dataclass(frozen=True, slots=True)
class Slot:
    """A place that an enquiry could have while everybody else stays where he is.

    ``bays`` are gone through in turn, one for an aircraft that does not move. ``pace`` says
    how its stages are run. ``early_days`` and ``late_days`` are its own.
    """

    check: str
    bays: tuple[str, ...]
    in_day: date
    out_day: date
    pace: str
    early_days: int
    late_days: int
    costs: Costs
    placements: tuple[Placement, ...]
    hours: Mapping[tuple[str, str], tuple[WeekHours, ...]] = field(
        default_factory=dict, compare=False
    )

    @property
    def cost(self) -> float:
        """Return what taking the enquiry here costs, its price left out."""
        return self.costs.money

    def taken_into(self, plan: Plan) -> Plan:
        """Return a plan with the enquiry in this place, everybody else in the slots they have.

        Where man-hours are levelled, they lie as they do in the plan that was audited for the
        cost of this slot.
        """
        whole = (self._levelled(one) for one in (*plan.placements, *self.placements))
        placements = sorted(whole, key=lambda p: (p.in_day, p.out_day, p.bay))
        refused = tuple(name for name in plan.refused if name != self.check)
        return replace(plan, placements=tuple(placements), refused=refused)

    def _levelled(self, placement: Placement) -> Placement:
        stages = (
            replace(stage, hours=self.hours.get((placement.check, stage.stage), ()))
            for stage in placement.stages
        )
        return replace(placement, stages=tuple(stages))


@dataclass(frozen=True, slots=True)
class WeekPrice:
    """The cheapest place for an enquiry that comes in in an ISO week; None where there is none."""

    week: str
    slot: Slot | None

    @property
    def cost(self) -> float | None:
        """Return what it costs, the price left out."""
        return None if self.slot is None else self.slot.cost


@dataclass(frozen=True, slots=True)
class WithMoves:
    """The best plan found that takes an enquiry when others may move for it.

    ``break_even`` is the price at which it costs as much as the better of the given plan and
    the plan that is left of this one without the enquiry: that one is ``better_without`` less
    than the given plan. ``least_break_even`` is a proven lower bound of it, None where none
    is proven; ``proven`` says that they are the same.
    """

    check: str
    plan: Plan
    costs: Costs
    break_even: float
    least_break_even: float | None
    proven: bool
    better_without: float
    hours_more: tuple[HoursMore, ...]
    moves: tuple[Move, ...]
    labour: LabourMore | None = None


@dataclass(frozen=True, slots=True)
class EnquiryAnswer:
    """What can be said about one enquiry.

    ``slots`` are all its places with nobody moved, in order of cost; ``hours_more`` and
    ``labour`` are those of the cheapest. ``break_even`` is the lowest price at which the
    cheapest pays, None without a place. ``curve`` has every week of its window. Without a place,
    ``in_the_way`` names the checks in the way of most of its candidates. ``with_moves`` is
    None when nobody may move, or no plan was found that takes it without more days past
    ``Latest in``; ``proven_no_way`` says that there is none.
    """

    enquiry: Check
    slots: tuple[Slot, ...]
    curve: tuple[WeekPrice, ...]
    hours_more: tuple[HoursMore, ...]
    in_the_way: tuple[str, ...] = ()
    with_moves: WithMoves | None = None
    proven_no_way: bool = False
    labour: LabourMore | None = None

    @property
    def cheapest(self) -> Slot | None:
        """Return the cheapest place, the earliest of those that cost the same."""
        return self.slots[0] if self.slots else None

    @property
    def break_even(self) -> float | None:
        """Return the lowest price at which it pays to take it with nobody moved."""
        return self.slots[0].cost if self.slots else None

    @property
    def lowest_break_even(self) -> float | None:
        """Return the lowest price known at which it pays, whether others move or not."""
        known = [price for price in (self.break_even, self._with_moves()) if price is not None]
        return min(known, default=None)

    @property
    def overloads(self) -> tuple[HoursMore, ...]:
        """Return the weeks and skills in which the cheapest place overloads somebody."""
        return tuple(more for more in self.hours_more if more.overload > 0)

    def _with_moves(self) -> float | None:
        return None if self.with_moves is None else self.with_moves.break_even


@dataclass(frozen=True, slots=True)
class Enquiry:
    """An enquiry as it stands in a plan that takes it."""

    check: str
    price: float
    placements: tuple[Placement, ...]


@dataclass(frozen=True, slots=True)
class Combination:
    """A set of enquiries to accept and the cheapest plan found that takes just these.

    ``gain`` is by how much that plan costs less money than the given one, prices included;
    ``most_gain`` is a proven upper bound of what this set, and any set listed after it, could
    gain, None where none is proven; ``proven`` says that they are the same. A given plan that
    is not the best gains by moves alone: ``gain_of_moves`` is what its moves would gain
    without the enquiries.
    """

    enquiries: tuple[Enquiry, ...]
    plan: Plan
    costs: Costs
    gain: float
    most_gain: float | None
    gain_of_moves: float
    proven: bool
    moves: tuple[Move, ...]
    hours_more: tuple[HoursMore, ...]
    contribution: Contribution | None = None

    @property
    def names(self) -> tuple[str, ...]:
        """Return the enquiries by name, in the order in which they were asked about."""
        return tuple(enquiry.check for enquiry in self.enquiries)


@dataclass(frozen=True, slots=True)
class AloneGain:
    """What an enquiry gains when it alone is taken and nobody moves; None without a place."""

    check: str
    gain: float | None


@dataclass(frozen=True, slots=True)
class CombinationAnswer:
    """Which enquiries to accept together.

    ``best`` gains the most, which may be by taking none; ``runners_up`` are the next best
    sets in turn. ``alone`` states each enquiry's gain by itself, since two that pay alone may
    not pay together.
    """

    best: Combination
    runners_up: tuple[Combination, ...]
    alone: tuple[AloneGain, ...]
