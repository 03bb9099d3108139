"""What all row models share, and how the cells of one row become it, or every fault of it."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from typing import ClassVar, TypeVar

from pydantic import BaseModel, ConfigDict, ValidationError

from capacity.inputs.reading.raw import UnreadableCell


class Row(BaseModel):
    """A row of a sheet; ``row`` is its number as a person sees it.

    ``identity`` are the fields that together stand once, the first of them the name of the
    row. ``columns_needed`` must be there although their cells may be blank. An ``optional``
    sheet may be missing; one that ``may_be_empty`` needs no rows below its headings.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    sheet: ClassVar[str]
    optional: ClassVar[bool] = False
    may_be_empty: ClassVar[bool] = False
    identity: ClassVar[tuple[str, ...]] = ()
    columns_needed: ClassVar[frozenset[str]] = frozenset()

    row: int

    def own_place(self, field: str) -> str | None:
        """Return the cell of a field that stands elsewhere than under its heading, as ``C7``."""
        return None

    @classmethod
    def headings(cls) -> dict[str, str]:
        """Return the field of every heading, in the order of the sheet."""
        return {info.alias: name for name, info in cls.model_fields.items() if info.alias}

    @classmethod
    def heading(cls, field: str) -> str:
        """Return the heading of a field."""
        return cls.model_fields[field].alias or field

    @classmethod
    def needed_headings(cls) -> list[str]:
        """Return the headings that must be there."""
        return [
            heading
            for heading, field in cls.headings().items()
            if cls.model_fields[field].is_required() or field in cls.columns_needed
        ]


R = TypeVar("R", bound=Row)


@dataclass(frozen=True, slots=True)
class CellFault:
    """What is wrong with one cell; ``what`` continues a sentence begun by the heading."""

    heading: str
    what: str
    remedy: str


def validate(
    model: type[R], number: int, values: Mapping[str, object]
) -> tuple[R | None, list[CellFault]]:
    """Return the row made of the cells under their headings, or None and every fault."""
    faults = [
        CellFault(heading, cell.what, cell.remedy)
        for heading, cell in values.items()
        if isinstance(cell, UnreadableCell)
    ]
    said = {fault.heading for fault in faults}
    readable = {heading: cell for heading, cell in values.items() if heading not in said}
    try:
        row = model.model_validate({**readable, "row": number})
    except ValidationError as error:
        faults += _cell_faults(error, said)
        return None, faults
    return (None, faults) if faults else (row, faults)


def _cell_faults(error: ValidationError, said: Collection[str]) -> Iterator[CellFault]:
    for detail in error.errors(include_url=False):
        heading = str(detail["loc"][0])
        if heading in said:
            continue
        if detail["type"] == "missing":
            yield CellFault(heading, "is blank.", "Fill it in.")
        else:
            context = detail.get("ctx", {})
            yield CellFault(
                heading, context.get("what", detail["msg"]), context.get("remedy", "Correct it.")
            )
