"""The sheet ``Cautions``: what can hurt somebody in this plan, each with its source."""

from collections.abc import Sequence

from capacity.cautions.applying import by_caution, cautions_of_plan
from capacity.cautions.caution import AppliedCaution
from capacity.reports.kit.formats import WRAPPED
from capacity.reports.kit.sheet import Book
from capacity.reports.kit.table import Column, write_sheet_table
from capacity.reports.plan.view import View

SHEET = "Cautions"
MOST_NAMES = 12


def cautions_sheet(book: Book, view: View) -> None:
    """Add the sheet: a row a caution, with the stages that it concerns."""
    alike = by_caution(cautions_of_plan(view.outcome.plan, view.base))
    write_sheet_table(book.sheet(SHEET), _COLUMNS, alike)


def _places(alike: Sequence[AppliedCaution]) -> str:
    told = (f"{one.check}: {one.stage}" if one.check else "the base" for one in alike)
    places = tuple(dict.fromkeys(told))
    more = len(places) - MOST_NAMES
    shown = "; ".join(places[:MOST_NAMES])
    return f"{shown}; and {more} more" if more > 0 else shown


_COLUMNS: tuple[Column[Sequence[AppliedCaution]], ...] = (
    Column("When", lambda alike: alike[0].caution.when, WRAPPED, width=24),
    Column("Mind", lambda alike: alike[0].caution.text, WRAPPED, width=64),
    Column("Where in this plan", _places, WRAPPED, width=44),
    Column("Why it is shown", lambda alike: alike[0].why, WRAPPED, width=34),
    Column("Guess", lambda alike: "guess" if alike[0].is_guess else None, width=8),
    Column("Source", lambda alike: alike[0].caution.source, WRAPPED, width=34),
    Column("How known", lambda alike: str(alike[0].caution.status), WRAPPED, width=16),
)
