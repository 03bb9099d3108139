"""All raw tables become rows, and findings about sheets, headings and cells."""

from collections.abc import Iterator
from typing import TypeVar

from capacity.findings import Finding, Level
from capacity.inputs.nearest import listed, nearest
from capacity.inputs.places import Places, same
from capacity.inputs.raw import RawBook, RawTable
from capacity.inputs.row_model import Row
from capacity.inputs.rows import SheetRows, Sheets
from capacity.inputs.settings_sheet import read_settings
from capacity.inputs.sheet_reader import SheetReader
from capacity.inputs.sheets import SHEETS, SettingLine

R = TypeVar("R", bound=Row)

_MODELS: tuple[type[Row], ...] = (SettingLine, *SHEETS)
_BY_TITLE = {same(model.sheet): model for model in _MODELS}


def is_known(title: str) -> bool:
    """Whether a sheet of this title is read."""
    return same(title) in _BY_TITLE


def read_tables(book: RawBook) -> tuple[Sheets, list[Finding]]:
    """Return the rows of all sheets and everything that is wrong with single cells."""
    findings = [*book.findings, *_unknown_sheets(book)]
    chosen: dict[type[Row], RawTable] = {}
    for title, table in book.tables.items():
        model = _BY_TITLE[same(title)]
        if model in chosen:
            what = f"the sheet {model.sheet} is there twice."
            findings.append(
                Finding(Level.ERROR, table.label, what, "Delete or rename one of the two.")
            )
        chosen.setdefault(model, table)
    lines = _read_sheet(SettingLine, chosen.get(SettingLine), book, findings)
    settings, places = read_settings(lines, findings)
    tables = {model: _read_sheet(model, chosen.get(model), book, findings) for model in SHEETS}
    return Sheets(settings, places, tables), findings


def _unknown_sheets(book: RawBook) -> Iterator[Finding]:
    for title in book.titles:
        if not is_known(title):
            near = nearest(title, [model.sheet for model in _MODELS])
            yield Finding(
                Level.WARNING,
                title,
                "the sheet is not known and not read.",
                f"Did you mean '{near}'?" if near else "Leave it, or delete it.",
            )


def _read_sheet(
    model: type[R], table: RawTable | None, book: RawBook, findings: list[Finding]
) -> SheetRows[R]:
    columns = f"the columns {listed(model.needed_headings())}"
    if table is not None and table.whole and table.rows:
        if len(table.rows) == 1 and not (model.optional or model.may_be_empty):
            what = "the sheet has headings but no rows."
            findings.append(Finding(Level.ERROR, table.label, what, "Fill in its rows."))
        return SheetReader(model, table, findings).read()
    places = Places(model.sheet if table is None else table.label)
    if table is not None and not table.whole:  # why, the reader has said
        return SheetRows(places, names_known=False, whole=False)
    if model.optional:
        return SheetRows(places)
    if table is None:
        present = f"; present are {listed(book.titles)}" if book.titles else ""
        findings.append(
            Finding(
                Level.ERROR,
                model.sheet,
                f"the sheet is missing{present}.",
                f"Add it with {columns}.",
            )
        )
    else:
        findings.append(
            Finding(Level.ERROR, table.label, "the sheet is empty.", f"Add {columns} and rows.")
        )
    return SheetRows(places, names_known=False, whole=False)
