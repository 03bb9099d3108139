"""The sheet ``Messages``: what was noticed about the input and the plan."""

from capacity.messages import Level, Message
from capacity.reports.kit.formats import PLAIN, WRAPPED
from capacity.reports.kit.sheet import Book
from capacity.reports.kit.table import Column, write_sheet_table
from capacity.reports.plan.view import View

COLUMNS: tuple[Column[Message], ...] = (
    Column("Level", lambda f: f.level.value, PLAIN, lambda f: f.level is not Level.NOTE, width=10),
    Column("Where", lambda f: f.where, width=24),
    Column("What", lambda f: f.what, WRAPPED, width=70),
    Column("What to do", lambda f: f.remedy or None, WRAPPED, width=60),
)


def messages_sheet(book: Book, view: View) -> None:
    """Add the sheet, what is gravest on top; where there are none it says so."""
    sheet = book.sheet("Messages")
    gravest_first = sorted(view.messages, key=lambda f: list(Level).index(f.level))
    write_sheet_table(sheet, COLUMNS, gravest_first, frozen_columns=0)
    if not view.messages:
        sheet.write(1, 2, "There are no messages.")
