"""One row of cells becomes one validated row, or every fault of it."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from typing import TypeVar

from pydantic import ValidationError

from capacity.inputs.raw import UnreadableCell
from capacity.inputs.row_model import Row

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
