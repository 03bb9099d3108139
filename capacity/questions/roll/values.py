"""What rolling forward does to a workbook, check by check and row by row."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from capacity.facts import Base, DeliveredStage
from capacity.inputs.reading.edited_copy import SheetEdit
from capacity.messages import Message


@dataclass(frozen=True, slots=True)
class StageState:
    """How much of a stage is left at the start of a day.

    ``left`` is a share of its planned man-hours, above 1 where it has grown, 0 where it is done.
    ``by_plan`` says that nobody reported it: the plan is taken to have come true. ``as_of`` is the
    day as of which it is stated; of a stage done by plan, the day after its last.
    """

    stage: str
    left: float
    as_of: date
    by_plan: bool
    man_hours: float


@dataclass(frozen=True, slots=True)
class InWork:
    """A check in work on the new first day, in ``bay`` since ``in_day``.

    ``is_new`` where the workbook did not have it fixed so; ``was_option`` where it was one.
    ``out_day`` is the plan's.
    """

    check: str
    bay: str
    in_day: date
    out_day: date | None
    states: tuple[StageState, ...]
    is_new: bool
    was_option: bool = False

    @property
    def hours_left(self) -> float:
        """Man-hours that are left, all skills together."""
        return sum(state.left * state.man_hours for state in self.states)


@dataclass(frozen=True, slots=True)
class Delivered:
    """A check that has left, stage by stage."""

    check: str
    stages: tuple[DeliveredStage, ...]

    @property
    def missing(self) -> tuple[str, ...]:
        """What of the actual dates and man-hours nobody reported."""
        stages = [row for row in self.stages if row.stage]
        first = self.stages[0]
        told = (
            ("Actual in", first.actual_in is not None),
            ("Actual out", first.actual_out is not None),
            (
                "Actual man-hours",
                all(row.actual_hours is not None for row in stages)
                or any(not row.stage for row in self.stages),
            ),
        )
        return tuple(name for name, is_there in told if not is_there)


@dataclass(frozen=True, slots=True)
class Decided:
    """An option that is booked or dropped, and why: a person named it, or a day has passed.

    ``decide_by`` or ``latest_in`` is that day, and neither where a person named it.
    """

    check: str
    decide_by: date | None = None
    latest_in: date | None = None


@dataclass(frozen=True, slots=True)
class Gone:
    """A row that lies behind the new first day; ``row`` is its number, ``of`` whose it is."""

    sheet: str
    row: int
    of: str
    last: date


@dataclass(frozen=True, slots=True)
class Rolled:
    """All that is different in next week's workbook, with the edits that make it so.

    ``not_in`` are checks that did not come; ``for_a_person`` is what the tool cannot know or
    decide, each with its cell and remedy.
    """

    old_first_day: date
    first_day: date
    weeks: int
    delivered: tuple[Delivered, ...]
    in_work: tuple[InWork, ...]
    booked: tuple[Decided, ...]
    dropped: tuple[Decided, ...]
    not_in: tuple[str, ...]
    gone: tuple[Gone, ...]
    for_a_person: tuple[Message, ...]
    edits: tuple[SheetEdit, ...]


@dataclass(frozen=True, slots=True)
class RolledWorkbook:
    """Next week's workbook: an ``.xlsx`` file as bytes, or the files of a folder by name.

    ``messages`` are those that reading it gives, and ``base`` is what it says, None where one of
    them is an error; ``rolled`` says what was done.
    """

    rolled: Rolled
    content: bytes | Mapping[str, bytes]
    messages: tuple[Message, ...]
    base: Base | None
