"""The key figures of a plan; money in the base's currency, hours are man-hours."""

from dataclasses import dataclass
from datetime import date
from math import fsum

from capacity.questions.asking.contribution import Contribution
from capacity.questions.asking.differences import Move

TINY = 1e-9


def share(part: float, whole: float) -> float | None:
    """Return part / whole; None where there is no whole."""
    return part / whole if whole > TINY else None


@dataclass(frozen=True, slots=True)
class BayUse:
    """Days of one bay in the planning period.

    ``open`` are days on which it is neither closed nor taken up by a bay that shares its floor;
    ``occupied`` are those of them on which an aircraft is in it.
    """

    bay: str
    open: int
    occupied: int

    @property
    def used(self) -> float | None:
        """Return occupied / open bay days; None without an open one."""
        return share(self.occupied, self.open)


@dataclass(frozen=True, slots=True)
class LabourUse:
    """Man-hours of a skill in some time, or of all skills: what is asked and what is bought."""

    skill: str
    demand: float
    regular: float
    overtime: float
    contract: float
    overload: float

    @property
    def used(self) -> float | None:
        """Return demand / regular man-hours; above 1 where more is asked than the crews have."""
        return share(self.demand, self.regular)


@dataclass(frozen=True, slots=True)
class WeekUse:
    """The labour of an ISO week: of all skills together, and of each in the base's order."""

    week: str
    total: LabourUse
    skills: tuple[LabourUse, ...]


@dataclass(frozen=True, slots=True)
class MonthBought:
    """Man-hours bought in a calendar month from its ``first`` day; without one, in all of them."""

    first: date | None
    overtime: float
    contract: float
    overload: float
    money: float


@dataclass(frozen=True, slots=True)
class TurnRound:
    """How long a check is in, and how long was promised.

    ``man_hours`` are those from the first day of the plan on, done in ``work_days`` calendar
    days; ``agreed_out`` is None where nothing is promised.
    """

    check: str
    customer: str
    in_day: date
    out_day: date
    agreed_out: date | None
    man_hours: float
    work_days: int

    @property
    def days(self) -> int:
        """Return the planned turn-round: days from the in day to the out day."""
        return (self.out_day - self.in_day).days

    @property
    def promised_days(self) -> int | None:
        """Return the days from the planned in day to Agreed out; None where nothing is promised."""
        return None if self.agreed_out is None else (self.agreed_out - self.in_day).days

    @property
    def is_on_time(self) -> bool:
        """Whether it is out by Agreed out; so is one to which nothing is promised."""
        return self.agreed_out is None or self.out_day <= self.agreed_out

    @property
    def man_hours_a_day(self) -> float | None:
        """Return man-hours for each calendar day in work; None where no day is left."""
        return share(self.man_hours, self.work_days)


@dataclass(frozen=True, slots=True)
class OptionResult:
    """An option that was won or lost, with its man-hours.

    ``contribution`` of one that is won counts what the plan would cost less without it, everybody
    else staying; of one that is lost, nothing of the plan's cost, so that it is the most that
    was forgone.
    """

    check: str
    customer: str
    won: bool
    price: float
    man_hours: float
    contribution: Contribution


@dataclass(frozen=True, slots=True)
class UnusedInterval:
    """Days that checks come in before their Latest in: of all, of how many, and at what cost."""

    days: int
    checks: int
    money: float


@dataclass(frozen=True, slots=True)
class Changed:
    """What is other than in an earlier plan, whose figures are ``before``.

    Those are on the same base without the checks that are ``new``: checks that the earlier plan did
    not know, but for options that are not taken, of which its file says nothing. ``moves`` are
    checks in other slots, taken or given up; checks no longer in the workbook are ``gone``.
    """

    before: "KeyFigures"
    moves: tuple[Move, ...]
    new: tuple[str, ...]
    gone: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class KeyFigures:
    """One page about a plan.

    ``weeks``, ``labour`` and ``labour_by_skill`` are those of the planning period ``first`` to
    ``last``, both included; ``months`` have every week up to the last out day. ``promised`` and
    ``on_time`` count checks with an Agreed out; a fixed or booked one without a slot is not on
    time.
    """

    first: date
    last: date
    bays: tuple[BayUse, ...]
    weeks: tuple[WeekUse, ...]
    labour: LabourUse
    labour_by_skill: tuple[LabourUse, ...]
    months: tuple[MonthBought, ...]
    turn_rounds: tuple[TurnRound, ...]
    promised: int
    on_time: int
    options: tuple[OptionResult, ...]
    unused_interval: UnusedInterval
    days_past_latest_in: int
    no_slot: tuple[str, ...]
    money: float
    changed: Changed | None = None

    @property
    def all_bays(self) -> BayUse:
        """Return the bay days of all bays together."""
        return BayUse("all", sum(b.open for b in self.bays), sum(b.occupied for b in self.bays))

    @property
    def on_time_share(self) -> float | None:
        """Return the share of promised checks that are out by Agreed out; None without any."""
        return share(self.on_time, self.promised)

    @property
    def mean_days(self) -> float | None:
        """Return the mean planned turn-round in days."""
        return share(sum(t.days for t in self.turn_rounds), len(self.turn_rounds))

    @property
    def mean_days_over_promise(self) -> float | None:
        """Return by how many days checks are planned longer than promised, on average."""
        over = [t.days - t.promised_days for t in self.turn_rounds if t.promised_days is not None]
        return share(sum(over), len(over))

    @property
    def man_hours_a_day(self) -> float | None:
        """Return man-hours of all checks / calendar days in work of all."""
        hours = fsum(t.man_hours for t in self.turn_rounds)
        return share(hours, sum(t.work_days for t in self.turn_rounds))

    @property
    def won(self) -> tuple[OptionResult, ...]:
        """Return the options with a slot."""
        return tuple(option for option in self.options if option.won)

    @property
    def lost(self) -> tuple[OptionResult, ...]:
        """Return the options not taken."""
        return tuple(option for option in self.options if not option.won)

    @property
    def bought(self) -> MonthBought:
        """Return what is bought in all months."""
        return MonthBought(
            None,
            fsum(month.overtime for month in self.months),
            fsum(month.contract for month in self.months),
            fsum(month.overload for month in self.months),
            fsum(month.money for month in self.months),
        )
