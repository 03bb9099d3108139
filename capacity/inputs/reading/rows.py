"""What was read: the rows of every sheet, and what is known of those that are faulty."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any, Generic, TypeVar, cast

from capacity.inputs.reading.as_of import AsOf
from capacity.inputs.reading.places import Places, same
from capacity.inputs.reading.row_model import Row
from capacity.inputs.reading.sheets import Settings

R = TypeVar("R", bound=Row)
Identity = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SheetRows(Generic[R]):
    """The rows of one sheet that could be read.

    ``identities`` are those of all rows, faulty ones too, with their row numbers; ``named``
    is the first row of every name, the first part of an identity; ``faulty`` holds the names
    of rows with a fault. ``names_known`` is False when a name could not be read, ``whole``
    when any row could not: then nothing is said of what is not there.
    """

    places: Places
    rows: tuple[R, ...] = ()
    identities: tuple[tuple[int, Identity], ...] = ()
    named: Mapping[str, int] = field(default_factory=dict)
    faulty: frozenset[str] = frozenset()
    names_known: bool = True
    whole: bool = True

    def whole_for(self, name: str) -> bool:
        """Whether every row of this name could be read."""
        return self.names_known and name not in self.faulty


@dataclass(frozen=True, slots=True)
class Sheets:
    """All sheets; ``settings`` is None when one of them has a fault.

    ``as_of`` is the day as of which they are read; None for the first day of the plan.
    """

    settings: Settings | None
    settings_places: Places
    tables: Mapping[type[Row], SheetRows[Any]] = field(repr=False)
    as_of: AsOf | None = None

    @property
    def work_left_from(self) -> date | None:
        """The day from which ``Remaining %`` counts, today in a re-plan, if it is known."""
        if self.as_of is not None:
            return self.as_of.today
        return self.settings.first_day if self.settings else None

    def __getitem__(self, model: type[R]) -> SheetRows[R]:
        """Return the rows of one sheet."""
        return cast("SheetRows[R]", self.tables[model])

    def at(self, row: Row, field: str) -> str:
        """Return the cell of a field of a row."""
        places, own = self[type(row)].places, row.own_place(field)
        return f"{places.label}!{own}" if own else places.cell(row.row, row.heading(field))

    def at_setting(self, field: str) -> str:
        """Return the cell of a setting's value."""
        return self.settings_places.of(Settings.heading(field), "Value")

    def places(self) -> dict[str, Places]:
        """Return the places of every sheet, by the name in which it is compared.

        Rows that have no name of their own, such as closures, are named by their number:
        ``#1`` is the first. A stage is named by its package and itself: ``Paint job: Mask``.
        """
        found = {
            same(model.sheet): _by_whole_name(rows) if rows.places.rows else _by_number(rows)
            for model, rows in self.tables.items()
        }
        return {**found, same(Settings.sheet): self.settings_places}


def _by_whole_name(rows: SheetRows[Any]) -> Places:
    whole = {": ".join(name): row for row, name in rows.identities if len(name) > 1}
    return replace(rows.places, rows={**whole, **rows.places.rows})


def _by_number(rows: SheetRows[Any]) -> Places:
    numbered = {f"#{number}": row.row for number, row in enumerate(rows.rows, start=1)}
    return replace(rows.places, rows=numbered)
