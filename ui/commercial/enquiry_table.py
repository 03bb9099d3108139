"""The table in which enquiries are typed: its columns, its frame, and what a person typed."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

import pandas as pd

from capacity.facts import Base
from capacity.inputs.enquiries_workbook import TypedRow
from capacity.inputs.reading.cell_kinds import Kind
from capacity.inputs.typed_enquiries import TYPED, kind_of_column
from capacity.template.enquiries_file import note_of_column

USUAL = {"Third party": "yes"}
"""What stands in a new row; a row with nothing else is blank."""

LEAST_ROWS, MORE_ROWS = 5, 2
"""Rows that the table has, and blank ones below those that are filled in, at least."""

FRAME_TYPES = {Kind.DATE: "datetime64[ns]", Kind.NUMBER: "float64"}


@dataclass(frozen=True, slots=True)
class TypedColumn:
    """A column: ``kind`` is what it is edited as, text where what stands there is something else.

    ``choices`` are those of a choice; ``usual`` stands in new rows.
    """

    heading: str
    kind: Kind
    choices: tuple[str, ...]
    help: str
    usual: str | None

    @property
    def frame_type(self) -> str:
        """The type in the frame, which the editor wants of empty columns too."""
        return FRAME_TYPES.get(self.kind, "string")


def columns_of(rows: Sequence[TypedRow], base: Base) -> tuple[TypedColumn, ...]:
    """Return the columns of an enquiry, and those of a check in which one of the rows has a value.

    Something that is wrong stays to be seen: no value is left out because a list or a date picker
    cannot show it.
    """
    others = (heading for row in rows for heading in row)
    headings = dict.fromkeys((*TYPED, *others))
    named = {
        "Type": tuple(one.name for one in base.types),
        "Package": tuple(one.name for one in base.packages),
    }
    return tuple(_column(heading, rows, named.get(heading, ())) for heading in headings)


def _column(heading: str, rows: Sequence[TypedRow], names: tuple[str, ...]) -> TypedColumn:
    known = kind_of_column(heading)
    kind, choices = known.kind, names or known.choices
    if choices:
        kind = Kind.CHOICE
    held = [row[heading] for row in rows if heading in row]
    if kind is Kind.DATE:
        fits = all(isinstance(value, date) for value in held)
    elif kind is Kind.NUMBER:
        fits = all(isinstance(value, int | float) for value in held)
    else:
        fits = kind is Kind.CHOICE and all(value in choices for value in held)
    return TypedColumn(
        heading,
        kind if fits else Kind.TEXT,
        choices if fits else (),
        note_of_column(heading),
        USUAL.get(heading),
    )


def frame_of(rows: Sequence[TypedRow], columns: Sequence[TypedColumn]) -> pd.DataFrame:
    """Return the rows as the editor takes them, numbered from 1, with some more to fill in."""
    shown = [*(row or USUAL for row in rows), *[USUAL] * max(MORE_ROWS, LEAST_ROWS - len(rows))]
    return pd.DataFrame(
        {
            column.heading: pd.Series(
                [_shown(row.get(column.heading), column) for row in shown],
                dtype=column.frame_type,
            )
            for column in columns
        }
    ).set_axis(pd.RangeIndex(1, len(shown) + 1, name="Row"))


def _shown(value: object, column: TypedColumn) -> object:
    return None if value is None else str(value) if column.kind is Kind.TEXT else value


def rows_of(frame: pd.DataFrame) -> tuple[TypedRow, ...]:
    """Return what is typed, a row with nothing but what is usual as a blank one."""
    rows = [
        {str(heading): _typed(value) for heading, value in row.items() if _is_typed(value)}
        for row in frame.to_dict("records")
    ]
    typed = [{} if row.items() <= USUAL.items() else row for row in rows]
    while typed and not typed[-1]:
        typed.pop()
    return tuple(typed)


def _is_typed(value: object) -> bool:
    if isinstance(value, str):
        return bool(value.strip())
    return not bool(pd.isna(value))  # type: ignore[call-overload]


def _typed(value: object) -> object:
    match value:
        case str():
            return value.strip()
        case datetime():
            return value.date()
        case _:
            return value
