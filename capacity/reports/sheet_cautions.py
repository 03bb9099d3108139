"""The sheet ``Cautions``: what can hurt somebody in this plan, each with its source."""

from dataclasses import dataclass

from capacity.cautions.applying import cautions_of_plan
from capacity.cautions.caution import AppliedCaution
from capacity.reports.formats import WRAPPED
from capacity.reports.sheet import Book
from capacity.reports.table import Column, write_sheet_table
from capacity.reports.view import View

SHEET = "Cautions"
MOST_NAMES = 12


@dataclass(frozen=True, slots=True)
class _Told:
    """A caution with everything that it applies to."""

    applied: AppliedCaution
    where: tuple[str, ...]


def cautions_sheet(book: Book, view: View) -> None:
    """Add the sheet: a row a caution, with the stages that it concerns."""
    told: dict[str, _Told] = {}
    for applied in cautions_of_plan(view.outcome.plan, view.base):
        known = told.setdefault(applied.caution.id, _Told(applied, ()))
        place = f"{applied.check}: {applied.stage}" if applied.check else "the base"
        told[applied.caution.id] = _Told(known.applied, (*known.where, place))
    write_sheet_table(book.sheet(SHEET), _COLUMNS, tuple(told.values()))


def _places(told: _Told) -> str:
    places = tuple(dict.fromkeys(told.where))
    more = len(places) - MOST_NAMES
    shown = "; ".join(places[:MOST_NAMES])
    return f"{shown}; and {more} more" if more > 0 else shown


_COLUMNS: tuple[Column[_Told], ...] = (
    Column("When", lambda told: told.applied.caution.when, WRAPPED, width=24),
    Column("Mind", lambda told: told.applied.caution.text, WRAPPED, width=64),
    Column("Where in this plan", _places, WRAPPED, width=44),
    Column("Why it is shown", lambda told: told.applied.why, WRAPPED, width=34),
    Column("Guess", lambda told: "guess" if told.applied.is_guess else None, width=8),
    Column("Source", lambda told: told.applied.caution.source, WRAPPED, width=34),
    Column("How known", lambda told: str(told.applied.caution.status), WRAPPED, width=16),
)
