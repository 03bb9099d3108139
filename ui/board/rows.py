"""What the board is given: days are counted from its first day, ``until`` is never included.

Rows are plain values, so that they can be tested without a browser. Every text in them is shown as
it stands: the browser puts it into text nodes and attributes, never into markup.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta


@dataclass(frozen=True, slots=True)
class CheckNote:
    """What other parts of the page know of a check; each field may be left out.

    ``out_by_its_day`` is the probability, from 0 to 1, that it is out by its Agreed out. ``held``
    says what of its slot is held: ``bay``, ``day`` or ``bay and day``. ``moved`` says where it was
    in the plan before, in words: ``was in Bay 2, in Mon 4 Jan 2027``.
    """

    out_by_its_day: float | None = None
    held: str = ""
    moved: str = ""


@dataclass(frozen=True, slots=True)
class WeekNote:
    """What other parts know of a week of a skill.

    ``at_risk`` is the probability, from 0 to 1, that it has overload.
    """

    at_risk: float | None = None


@dataclass(frozen=True, slots=True)
class Notes:
    """Notes by check, and by week and skill: what marks the board beyond the plan itself."""

    checks: Mapping[str, CheckNote] = field(default_factory=dict)
    weeks: Mapping[tuple[str, str], WeekNote] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Strip:
    """A stage within its block; ``work`` is the number of its grey, ``told`` its tip."""

    name: str
    work: int
    first: int
    until: int
    told: str


@dataclass(frozen=True, slots=True)
class Block:
    """A check over the days on which it is in a bay; ``bay`` is a number in ``BoardRows.bays``.

    A check that moves between bays has several, told apart by ``stage_from``. ``label`` follows
    the name. ``agreed`` is the day of the bar of Agreed out, drawn in one of two ``lane``s below,
    None where none is drawn. ``told`` are the lines of the tip: all that the block shows.
    ``customer`` and ``status`` are what is filtered by.
    """

    check: str
    bay: int
    stage_from: str
    first: int
    until: int
    label: str
    paint: str
    status: str
    customer: str
    is_fixed: bool
    is_past: bool
    late_days: int
    agreed: int | None
    lane: int
    stages: tuple[Strip, ...]
    told: tuple[str, ...]
    out_by_its_day: float | None = None
    held: str = ""
    moved: str = ""


@dataclass(frozen=True, slots=True)
class Waiting:
    """A check on the shelf, over the days on which it may come in, in a ``row`` of the shelf.

    ``slot`` is ``no slot`` for a check that must be placed, ``not taken`` for an option.
    """

    check: str
    row: int
    first: int
    until: int
    label: str
    slot: str
    paint: str
    status: str
    customer: str
    told: tuple[str, ...]
    days: int
    held: str = ""
    moved: str = ""


@dataclass(frozen=True, slots=True)
class Taken:
    """Days on which a bay is empty and yet not free; ``kind`` is how it is drawn."""

    bay: int
    first: int
    until: int
    kind: str
    label: str
    told: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class BayRow:
    """A bay and its hangar; ``lanes`` of Agreed out, none, one or two, are drawn below it."""

    name: str
    hangar: str
    lanes: int
    told: str


@dataclass(frozen=True, slots=True)
class Cell:
    """A week of a skill, both as numbers; ``printed`` is its number with its sign."""

    skill: int
    week: int
    band: str
    printed: str
    told: tuple[str, ...]
    at_risk: float | None = None


@dataclass(frozen=True, slots=True)
class Part:
    """A share of the demand of a week, stacked from ``low`` to ``high`` man-hours."""

    week: int
    share: str
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class SkillHours:
    """The columns of one skill.

    ``limits`` are the man-hours available in a week: regular, with overtime, with contract
    labour. ``even`` are weeks in which levelling changes the demand, with that of an even spread.
    """

    skill: str
    top: float
    ticks: tuple[float, ...]
    parts: tuple[Part, ...]
    limits: tuple[tuple[float, float, float], ...]
    even: tuple[tuple[int, float], ...]
    overload: tuple[tuple[int, float, str], ...]


@dataclass(frozen=True, slots=True)
class Week:
    """An ISO week: its name and its Monday as a day of the board."""

    name: str
    first: int


@dataclass(frozen=True, slots=True)
class BoardRows:
    """All that the board draws; ``day_count`` days are drawn from ``first`` on.

    ``begins`` is the first day of the plan where aircraft are in from before, ``today`` the day of
    today's line, each None where it is not drawn. ``off`` are days that the base does not work.
    ``works`` are the kinds of work by the number that stages have. ``skills`` are in the order of
    the workbook, ``hours`` has the most overloaded skill first.
    """

    first: date
    day_count: int
    today: int | None
    begins: int | None
    bays: tuple[BayRow, ...]
    blocks: tuple[Block, ...]
    waiting: tuple[Waiting, ...]
    taken: tuple[Taken, ...]
    off: tuple[tuple[int, int], ...]
    works: tuple[str, ...]
    weeks: tuple[Week, ...]
    skills: tuple[str, ...]
    cells: tuple[Cell, ...]
    hours: tuple[SkillHours, ...]

    def day(self, number: int) -> date:
        """Return the date of a day of the board."""
        return self.first + timedelta(days=number)
