"""Why a check stands where it does: what is in the way of each day that would be better."""

from dataclasses import dataclass
from datetime import date

from capacity.plans.plan import Placement
from capacity.questions.asking.differences import HoursMore
from capacity.questions.why.shorter_stays import ShorterStay
from capacity.slots.rules.rule import Rule


@dataclass(frozen=True, slots=True)
class Blocker:
    """A rule that a place would break, and the checks of the plan that it would meet there.

    A closure or an outage meets no check.
    """

    rule: Rule
    by: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Blocked:
    """A place, coming in on ``day`` through ``bays`` until ``out_day``, that is not free.

    Of the paces at which the check could stand there, the one that breaks fewest rules.
    ``saves`` is what the plan would cost less if the place were free, own early and late days
    and man-hours together; negative where it would cost more. ``days_past_less`` are the
    days past ``Latest in`` that it would save.
    """

    day: date
    bays: tuple[str, ...]
    out_day: date
    by: tuple[Blocker, ...]
    saves: float
    days_past_less: int

    @property
    def bay(self) -> str:
        """Return the bay that the check comes into."""
        return self.bays[0]


@dataclass(frozen=True, slots=True)
class Dearer:
    """A place that is free beside all others, and what the plan costs more with it.

    ``money`` is own early and late days and man-hours together, ``own`` the first two alone;
    ``money`` is negative where moving there would pay: then the plan is not the best.
    ``hours`` are those bought more, or less, by week and skill. ``days_past_less`` are the
    days past ``Latest in`` that it would save; then it is better whatever it costs.
    """

    day: date
    bays: tuple[str, ...]
    out_day: date
    money: float
    own: float
    hours: tuple[HoursMore, ...]
    days_past_less: int

    @property
    def bay(self) -> str:
        """Return the bay that the check comes into."""
        return self.bays[0]

    @property
    def is_better(self) -> bool:
        """Return whether the plan would gain by moving the check there."""
        return self.days_past_less > 0 or (self.days_past_less == 0 and self.money < -0.005)


@dataclass(frozen=True, slots=True)
class Why:
    """Where a check stands, what that costs, and each better place with what keeps it out.

    ``placements`` is empty for a check without a place. Days and money are the check's own;
    ``labour_money`` is what the plan spends less on man-hours without the check and ``hours``
    which these are. A place is better when its own early and late days cost less, or it has
    fewer days past ``Latest in``, or the whole plan would cost less; for a check without a
    place every place in its window is, and past it as far as it may come in. ``better`` stands
    in order of the days, the same day's by bay. For a fixed check there is none: it stands where
    it was fixed.
    ``left_out`` are days of its window on which the search has no place for it, and no rule
    known says why. ``shorter`` are the rules that keep a check that is out late from being out
    sooner on its in day. ``longer_wait`` says that a check that is not in by ``Latest in`` could
    be if aircraft might wait longer.
    """

    check: str
    placements: tuple[Placement, ...]
    days_past: int
    early_days: int
    late_days: int
    early_money: float
    late_money: float
    wanted_days: int
    wanted_money: float
    labour_money: float
    hours: tuple[HoursMore, ...]
    better: tuple[Blocked | Dearer, ...]
    left_out: tuple[date, ...] = ()
    shorter: tuple[ShorterStay, ...] = ()
    longer_wait: bool = False

    @property
    def blocked(self) -> tuple[Blocked, ...]:
        """Return the better places that are not free."""
        return tuple(place for place in self.better if isinstance(place, Blocked))

    @property
    def dearer(self) -> tuple[Dearer, ...]:
        """Return the better places that are free."""
        return tuple(place for place in self.better if isinstance(place, Dearer))
