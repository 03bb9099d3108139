"""Every knob of a crew plan, with its unit, default and reason."""

from dataclasses import dataclass, field, fields
from datetime import date
from enum import StrEnum

from capacity.checked_settings import choice_of, number_within, whole_within, yes_or_no
from capacity.errors import SettingsError


class OwnStaffShare(StrEnum):
    """What becomes of the rule that at least half of each hangar and shift are own staff."""

    OFF = "off"
    WARN = "warn"
    HOLD = "hold"


@dataclass(frozen=True, slots=True)
class CrewSearchSettings:
    """How the time of a crew plan is shared out; raises ``SettingsError`` for senseless values.

    Fields that end in ``_share`` are shares from 0 to 1, those with ``seconds`` in their names
    wall time.
    """

    # The share of the time left that each goal may take, in the order of the goals.
    overload_share: float = 0.4
    overtime_share: float = 0.5
    pairs_share: float = 0.6
    evenness_share: float = 1.0
    # Less time is hardly worth the beginning.
    least_seconds: float = 0.5
    # The share of all the time that the first betterment of the hours may take; it ends when done.
    # A large base on a busy machine needs so much: 801 h left after half of 60 s, none after this.
    hours_share: float = 0.75
    # The share of that time that may go into where stages are best put.
    relax_share: float = 0.5
    # Even shares that can all be met are found in moments, or take long: so long is waited.
    moments_share: float = 0.1
    # The share of all the time that is spent on top to find which rule asks for more hours than the
    # slot plan buys, where one does: some linear programs.
    rules_share: float = 0.5
    # A goal about hours that is this near to its bound is left as it is.
    close_share: float = 0.002

    def __post_init__(self) -> None:
        """Check every value."""
        for one in fields(self):
            most = (1.0,) if one.name.endswith("_share") else ()
            number_within(one.name, getattr(self, one.name), 0.0, *most)

    @property
    def goal_shares(self) -> tuple[float, ...]:
        """Return the share of the time left of each goal, in their order."""
        return self.overload_share, self.overtime_share, self.pairs_share, self.evenness_share


# A person is there for a day at the most.
LONGEST_OVERTIME_HOURS = 24.0


@dataclass(frozen=True, slots=True)
class CrewSettings:
    """Which days to staff, and how; raises ``SettingsError`` where that makes no sense.

    ``weeks`` from ``first_day`` on (the first day of the base when None). ``seconds``: wall
    time. ``overtime_hours``: attended hours that a person may stay longer, a shift.
    ``call_in``: whether people may be called in on days off, each once in seven days at the
    most. ``own_staff_share``: ``hold`` keeps contract people at half of each hangar and shift
    at the most, ``warn`` only tells where they are more, ``off`` says nothing. ``parts``: a
    person works on one aircraft for a whole number of so many equal parts of a shift. ``search``:
    how the time is shared out.
    """

    weeks: int = 4
    first_day: date | None = None
    seconds: float = 60.0
    seed: int = 1
    workers: int = 2
    overtime_hours: float = 2.0
    call_in: bool = True
    own_staff_share: OwnStaffShare = OwnStaffShare.WARN
    parts: int = 4
    search: CrewSearchSettings = field(default_factory=CrewSearchSettings)

    def __post_init__(self) -> None:
        """Take the rule's mode by its name too, and check every value."""
        mode = choice_of(OwnStaffShare, "own_staff_share", self.own_staff_share)
        object.__setattr__(self, "own_staff_share", mode)
        whole_within("weeks", self.weeks, 1)
        if self.first_day is not None and type(self.first_day) is not date:
            raise SettingsError(f"first_day is {self.first_day!r}. Give a date, or None.")
        number_within("seconds", self.seconds, 0.0)
        whole_within("seed", self.seed, 0)
        whole_within("workers", self.workers, 1)
        number_within("overtime_hours", self.overtime_hours, 0.0, LONGEST_OVERTIME_HOURS)
        yes_or_no("call_in", self.call_in)
        whole_within("parts", self.parts, 1)
        if not isinstance(self.search, CrewSearchSettings):
            raise SettingsError(f"search is {self.search!r}. Give CrewSearchSettings.")
