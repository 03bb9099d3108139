"""What was read of an input, without any of what reads it."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from capacity.facts import Base
from capacity.inputs.reading.places import Places, same
from capacity.messages import Message


@dataclass(frozen=True, slots=True)
class Book:
    """What was read; ``base`` is None when any message is an error."""

    base: Base | None
    messages: tuple[Message, ...]
    _places: Mapping[str, Places] = field(default_factory=dict, repr=False)

    def where(self, sheet: str, name: str, column: str | None = None) -> str:
        """Return the cell of the row so named, such as ``Checks!F17``.

        Without a column it is the first one; without such a row it is the sheet.
        """
        places = self._places.get(same(sheet))
        return places.of(name, column) if places else sheet
