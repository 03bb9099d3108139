"""What a man-hour plan says: one value a calendar month and function."""

from dataclasses import dataclass
from datetime import date

from capacity.facts import Function
from capacity.man_hour_plan.months import next_month
from capacity.man_hour_plan.own_staff_share import TooFewEmployed
from capacity.man_hour_plan.shortfall import is_significant, shortfall


@dataclass(frozen=True, slots=True)
class MonthFunction:
    """Man-hours of one function over ``[first, until)``, the days of ``month`` in the plan.

    ``planned`` are available as rostered with nobody away, ``available`` with everybody away
    who is known to be; ``needed`` is what the plan asks.
    """

    month: str
    function: Function
    first: date
    until: date
    planned: float
    available: float
    needed: float

    @property
    def absent(self) -> float:
        """Man-hours of people who are away: leave, training and the like."""
        return self.planned - self.available

    @property
    def shortfall(self) -> float | None:
        """``(planned - available) / planned``; None where nothing is planned."""
        return shortfall(self.planned, self.available)

    @property
    def is_significant(self) -> bool:
        """Whether the shortfall of planned man-hours is more than 25 %: to be reviewed."""
        return is_significant(self.planned, self.available)

    @property
    def shortfall_of_need(self) -> float | None:
        """``(needed - available) / needed``, below 0 where hours are spare; None without need."""
        return shortfall(self.needed, self.available)

    @property
    def is_short_of_need(self) -> bool:
        """Whether more than 25 % of what is needed has nobody to do it."""
        return is_significant(self.needed, self.available)

    @property
    def is_for_review(self) -> bool:
        """Whether it falls short by more than 25 % of what is planned, or of what is needed."""
        return self.is_significant or self.is_short_of_need

    @property
    def is_whole_month(self) -> bool:
        """Whether the plan covers the month from its first to its last day."""
        return self.first.day == 1 and self.until == next_month(self.first)


@dataclass(frozen=True, slots=True)
class ManHourPlan:
    """Months in turn, in each of them the functions of which anything is told.

    ``made_on`` is the plan's date and ``review_due`` the latest day of its next review;
    ``dated`` is False where no date was given and the first day stands in for it. Of
    ``untold`` functions the workbook says nothing. ``too_few_employed`` are broken 50 %
    rules; it is None where the rule is switched off.
    """

    name: str
    made_on: date
    dated: bool
    review_due: date
    months: tuple[MonthFunction, ...]
    untold: tuple[Function, ...]
    too_few_employed: tuple[TooFewEmployed, ...] | None

    @property
    def for_review(self) -> tuple[MonthFunction, ...]:
        """The months and functions that fall significantly short, of the plan or of the need."""
        return tuple(month for month in self.months if month.is_for_review)
