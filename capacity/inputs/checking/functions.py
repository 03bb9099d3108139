"""Cross checks of the functions of the man-hour plan, and of the areas in which crews work."""

from collections import defaultdict
from collections.abc import Iterator

from capacity.inputs.checking.repeated import repeated
from capacity.inputs.reading.rows import Sheets
from capacity.inputs.reading.sheets import BayRow, CrewRow, FunctionAbsenceRow, FunctionRow
from capacity.inputs.wording import nearest
from capacity.messages import Level, Message

PERFORM = "perform"


def rows_tell_something(sheets: Sheets) -> Iterator[Message]:
    """Warn of a row that names a function and nothing of it."""
    for row in sheets[FunctionRow].rows:
        if row.skill is None and row.heads is None and row.hours is None and row.needed is None:
            yield Message(
                Level.WARNING,
                sheets.at(row, "function"),
                f"the row of '{row.function}' says neither whose man-hours serve it nor how much "
                "is needed.",
                "Fill in Skill, or Heads with their hours, or Needed per 100 man-hours.",
            )


def heads_have_hours(sheets: Sheets) -> Iterator[Message]:
    """Require heads and the hours of one head together."""
    for row in sheets[FunctionRow].rows:
        if (row.heads is None) != (row.hours is None):
            blank, filled = ("heads", "hours") if row.heads is None else ("hours", "heads")
            yield Message(
                Level.ERROR,
                sheets.at(row, filled),
                f"the row of '{row.function}' has {row.heading(filled)}, but no "
                f"{row.heading(blank)}.",
                "Fill in both, or neither.",
            )


def skills_serve_one_function(sheets: Sheets) -> Iterator[Message]:
    """Require that the crews of a skill serve one function, so that no hour counts twice."""
    for row, before in repeated(sheets[FunctionRow].rows, lambda row: row.skill):
        yield Message(
            Level.ERROR,
            sheets.at(row, "skill"),
            f"the crews of '{row.skill}' serve a function here and in row {before.row}.",
            "Leave the skill in one row; where its people share their time, give the part "
            "of them as Heads.",
        )


def need_is_told_once(sheets: Sheets) -> Iterator[Message]:
    """Require one row at the most that says how much of a function is needed."""
    rows = (row for row in sheets[FunctionRow].rows if row.needed is not None)
    for row, before in repeated(rows, lambda row: row.function):
        yield Message(
            Level.ERROR,
            sheets.at(row, "needed"),
            f"how much of '{row.function}' is needed is given here and in row {before.row}.",
            "Give it once for each function.",
        )


def work_needs_no_share_of_itself(sheets: Sheets) -> Iterator[Message]:
    """Refuse a share of the man-hours performed as the need of these man-hours."""
    for row in sheets[FunctionRow].rows:
        if row.function == PERFORM and row.needed is not None:
            yield Message(
                Level.ERROR,
                sheets.at(row, "needed"),
                "the need of 'perform' is the demand of the checks.",
                "Clear the cell; findings belong in the sheet Packages.",
            )


def absences_have_heads(sheets: Sheets) -> Iterator[Message]:
    """Require that a function with absences has people off the roster who can be away."""
    functions = sheets[FunctionRow]
    if not functions.whole:
        return
    heads: defaultdict[str, float] = defaultdict(float)
    for staff in functions.rows:
        heads[staff.function] += staff.heads or 0.0
    for row in sheets[FunctionAbsenceRow].rows:
        if not heads[row.function]:
            yield Message(
                Level.ERROR,
                sheets.at(row, "function"),
                f"'{row.function}' has no Heads in the sheet Functions who could be away.",
                "Add them there; people of crews who are away belong in the sheet Absence.",
            )
        elif row.heads > heads[row.function]:
            yield Message(
                Level.WARNING,
                sheets.at(row, "heads"),
                f"{row.heads:g} heads of '{row.function}' are away, but it has "
                f"{heads[row.function]:g}; it counts as nobody present.",
                "Correct one of the two.",
            )


def areas_are_hangars(sheets: Sheets) -> Iterator[Message]:
    """Warn of an area that is a hangar but for its case; a workshop may have any name."""
    hangars = {bay.hangar for bay in sheets[BayRow].rows if bay.hangar}
    for crew in sheets[CrewRow].rows:
        near = nearest(crew.area, hangars) if crew.area and crew.area not in hangars else None
        if near is not None and near.casefold() == crew.area.casefold():
            yield Message(
                Level.WARNING,
                sheets.at(crew, "area"),
                f"the area '{crew.area}' differs from the hangar '{near}' by upper and lower "
                "case alone.",
                "Write both the same way.",
            )
