"""What kind of value a column or a setting takes, as its row model says."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum, auto
from typing import Annotated, Any, get_args, get_origin

from pydantic import BeforeValidator

from capacity.inputs.reading import cells
from capacity.inputs.reading.row_model import Row
from capacity.inputs.reading.settings_cells import holiday_place, weekdays


class Kind(Enum):
    """What a person types into a cell."""

    TEXT = auto()
    NAMES = auto()
    """Several texts in one cell, separated by commas or blanks."""
    NUMBER = auto()
    DATE = auto()
    TIME = auto()
    CHOICE = auto()


@dataclass(frozen=True, slots=True)
class CellKind:
    """The kind of a cell; of a choice, the words that may stand there."""

    kind: Kind
    choices: tuple[str, ...] = ()


_KINDS = {
    cells.day: Kind.DATE,
    cells.clock: Kind.TIME,
    cells.names: Kind.NAMES,
    cells.words: Kind.NAMES,
    cells.text: Kind.TEXT,
    cells.listed_name: Kind.TEXT,
    cells.word: Kind.TEXT,
    holiday_place: Kind.TEXT,
    weekdays: Kind.TEXT,
}
YES_NO = ("yes", "no")


def kind_of(model: type[Row], field: str) -> CellKind:
    """Return what kind of value the cells of a field take; whatever is left takes numbers."""
    info = model.model_fields[field]
    for reader in (*_readers(info.metadata), *_readers_within(info.annotation)):
        if isinstance(reader, cells.OneOf):
            return CellKind(Kind.CHOICE, reader.allowed)
        if reader is cells.yes_no:
            return CellKind(Kind.CHOICE, YES_NO)
        if reader in _KINDS:
            return CellKind(_KINDS[reader])
    # Any is the value of a setting, which takes what its setting takes.
    return CellKind(Kind.TEXT if info.annotation is Any else Kind.NUMBER)


def _readers(metadata: object) -> Iterator[Any]:
    assert isinstance(metadata, list | tuple)
    yield from (one.func for one in metadata if isinstance(one, BeforeValidator))


def _readers_within(annotation: object) -> Iterator[Any]:
    """Yield the readers of what an annotation is made of, such as ``YesNo | None``."""
    if get_origin(annotation) is Annotated:
        yield from _readers(annotation.__metadata__)  # type: ignore[attr-defined]
    for part in get_args(annotation):
        yield from _readers_within(part)
