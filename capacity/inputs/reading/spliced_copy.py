"""Rows of a workbook changed in a copy in which every other part stays byte for byte.

Formats, notes, widths, validations, drawings, charts, sheets that are not read: all of that is
copied as it is. Formulas stay too, with the results stored for them, which a spreadsheet program
works out anew when it opens the copy. The workbook itself is never written to.
"""

import io
import re
import zipfile
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from pathlib import Path
from posixpath import join, normpath
from xml.parsers import expat
from xml.sax.saxutils import quoteattr

from openpyxl.utils import get_column_letter

from capacity.errors import InputError
from capacity.inputs.reading.edited_copy import SheetEdit, columns_of, raw_tables, refuse_large
from capacity.inputs.reading.places import same
from capacity.inputs.reading.raw import PercentNumber, RawTable, UnreadableError
from capacity.inputs.reading.row_model import Row
from capacity.inputs.reading.sheet_splice import (
    Place,
    SheetPart,
    Written,
    new_sheet,
    sheet_part,
    spliced,
)
from capacity.inputs.reading.sheets import SHEETS, SettingLine
from capacity.messages import Level, Message

_SHEETS: tuple[type[Row], ...] = (SettingLine, *SHEETS)
_MODELS: Mapping[str, type[Row]] = {same(model.sheet): model for model in _SHEETS}
RELATIONS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
SHEET_KIND = "application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"
NARROWEST, WIDEST = 10, 40
"""Characters of a column of a new sheet."""


def spliced_copy(path: Path, edits: Sequence[SheetEdit]) -> bytes:
    """Return a copy of the workbook with the edits made, as the bytes of an ``.xlsx`` file.

    Raises
    ------
    InputError
        When the file cannot be read, is too large to be changed here, holds macros, or when a
        cell to be changed is inside merged cells.
    """
    raw = raw_tables(path)
    refuse_large(path)
    try:
        with zipfile.ZipFile(path) as archive:
            parts = {part: archive.read(part.filename) for part in archive.infolist()}
        workbook = _Workbook({part.filename: content for part, content in parts.items()}, raw)
        for edit in edits:
            if not edit.is_empty:
                workbook.make(edit)
    except UnreadableError as fault:
        raise InputError([Message(Level.ERROR, path.name, fault.what, fault.remedy)]) from fault
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as copy:
        left = dict(workbook.parts)
        for part in parts:
            if (content := left.pop(part.filename, None)) is not None:
                copy.writestr(part, content, zipfile.ZIP_DEFLATED)
        for name, content in left.items():
            copy.writestr(zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0)), content)
    return out.getvalue()


@dataclass
class _Styles:
    """The styles in which known cells show dates, shares and numbers, the most common first."""

    dates: Counter[str] = field(default_factory=Counter)
    percents: Counter[str] = field(default_factory=Counter)
    numbers: Counter[str] = field(default_factory=Counter)

    def add(self, part: SheetPart, table: RawTable) -> None:
        """Count those of a sheet."""
        for number, cells in table.rows:
            for column, value in enumerate(cells, start=1):
                style = part.style_of(number, column)
                if style is None:
                    continue
                if isinstance(value, date):
                    self.dates[style] += 1
                elif isinstance(value, PercentNumber):
                    self.percents[style] += 1
                elif isinstance(value, int | float):
                    self.numbers[style] += 1


class _Workbook:
    """The parts of a workbook, some of them changed."""

    def __init__(self, parts: dict[str, bytes], raw: Mapping[str, RawTable]) -> None:
        if b"macroEnabled" in parts["[Content_Types].xml"]:
            raise UnreadableError("the workbook holds macros.", "Save it as .xlsx, without them.")
        self.parts = parts
        self._raw = raw
        self._name = _office_document(parts["_rels/.rels"])
        folder, _, last = self._name.rpartition("/")
        self._relations = f"{folder}/_rels/{last}.rels".removeprefix("/")
        self._sheets = dict(self._sheets_of_workbook())
        self._from_1904 = bool(re.search(rb'date1904="(1|true)"', parts[self._name]))
        self._looked: dict[str, SheetPart] = {}
        self._styles = _Styles()
        for title, table in raw.items():
            self._styles.add(self._look(title), table)

    def make(self, edit: SheetEdit) -> None:
        """Make one edit."""
        title = same(edit.sheet)
        if title not in self._sheets:
            self._add_sheet(edit)
            return
        part = self._look(title)
        cells = dict(self._cells(edit, part, self._raw.get(title)))
        for row, column in cells:
            if part.is_inside_merged(row, column):
                where = f"{edit.sheet}!{get_column_letter(column)}{row}"
                what = "the cell is inside merged cells and cannot be changed here."
                remedy = "Take the merged cells apart in a spreadsheet program."
                raise InputError([Message(Level.ERROR, where, what, remedy)])
        content, lost_formula = spliced(part, cells, dates_from_1904=self._from_1904)
        self.parts[self._sheets[title]] = content
        del self._looked[title]
        if lost_formula:
            self._without_calculation_chain()

    def _look(self, title: str) -> SheetPart:
        if title not in self._looked:
            self._looked[title] = sheet_part(self.parts[self._sheets[title]])
        return self._looked[title]

    def _cells(
        self, edit: SheetEdit, part: SheetPart, raw: RawTable | None
    ) -> Iterator[tuple[Place, Written]]:
        """Yield every cell that an edit changes; later ones of a place count."""
        rows = raw.rows if raw is not None else ()
        model = _MODELS[same(edit.sheet)]
        wanted = [values for values in (*edit.changed.values(), *edit.added)]
        # The man-hours of packages may have a column a skill, which is no heading of the model.
        others = (heading for values in wanted for heading in values)
        headings = tuple(dict.fromkeys((*model.headings(), *others)))
        columns = columns_of(headings, raw) if raw is not None and rows else {}
        heading_row, last_row = (rows[0][0], rows[-1][0]) if rows else (1, 1)
        widest = max((cell.column for row in part.rows.values() for cell in row.cells), default=0)
        for heading in headings:
            if heading in columns or not any(values.get(heading) is not None for values in wanted):
                continue
            widest += 1
            columns[heading] = widest
            like = part.style_of(heading_row, widest - 1)
            yield (heading_row, widest), Written(heading, like)
        for number in edit.removed:
            there = part.rows.get(number)
            for cell in there.cells if there else ():
                yield (number, cell.column), Written(None, cell.style)
        added = enumerate(edit.added, start=last_row + 1)
        for number, values in (*edit.changed.items(), *added):
            for heading, value in values.items():
                if heading not in columns and value is None:
                    continue
                column = columns[heading]
                yield (number, column), self._written(value, part, number, column, rows)

    def _written(
        self,
        value: object,
        part: SheetPart,
        row: int,
        column: int,
        rows: Sequence[tuple[int, tuple[object, ...]]],
    ) -> Written:
        """Return a value with the style of its cell or column, where that fits its kind."""
        own = part.style_of(row, column)
        beside = [part.style_of(number, column) for number, _ in reversed(rows[1:])]
        styles = [style for style in (own, *beside) if style is not None]
        if isinstance(value, date):
            day = value.date() if isinstance(value, datetime) else value
            fitting = [style for style in styles if style in self._styles.dates]
            common = [style for style, _ in self._styles.dates.most_common(1)]
            style = next(iter((*fitting, *common)), None)
            return Written(day.isoformat() if style is None else day, style)
        if isinstance(value, int | float):
            known = (self._styles.percents, self._styles.numbers)
            style = next((s for s in styles if any(s in one for one in known)), None)
            is_share = style in self._styles.percents and style not in self._styles.numbers
            return Written(value / 100 if is_share else value, style)
        return Written(None if value is None else str(value), next(iter(styles), None))

    def _add_sheet(self, edit: SheetEdit) -> None:
        """Add a sheet with the rows of an edit below its headings."""
        headings = list(_MODELS[same(edit.sheet)].headings())
        date_style = next((style for style, _ in self._styles.dates.most_common(1)), None)
        checks = self._raw.get("checks")
        like = self._look("checks").style_of(checks.rows[0][0], 1) if checks else None
        rows = [[Written(heading, like) for heading in headings]]
        for values in edit.added:
            rows.append([_in_a_new_sheet(values.get(h), date_style) for h in headings])
        columns = zip(*rows, strict=True)
        shown = [[len(str(w.value)) for w in column if w.value is not None] for column in columns]
        widths = [min(WIDEST, max([NARROWEST, *lengths]) + 2) for lengths in shown]
        number = 1
        while f"xl/worksheets/sheet{number}.xml" in self.parts:
            number += 1
        name = f"xl/worksheets/sheet{number}.xml"
        self.parts[name] = new_sheet(rows, widths)
        identity = self._relate(f"/{name}")
        self._list_sheet(edit.sheet, identity)
        override = f'<Override PartName="/{name}" ContentType="{SHEET_KIND}"/>'
        self._insert("[Content_Types].xml", "Types", override)
        self._sheets[same(edit.sheet)] = name

    def _relate(self, target: str) -> str:
        """Add a relation of the workbook to a sheet; return what it is called."""
        content = self.parts[self._relations]
        number = 1
        while f'"rId{number}"'.encode() in content:
            number += 1
        told = f'<Relationship Id="rId{number}" Type="{RELATIONS}/worksheet" Target="{target}"/>'
        self._insert(self._relations, "Relationships", told)
        return f"rId{number}"

    def _list_sheet(self, title: str, identity: str) -> None:
        content = self.parts[self._name].decode("utf-8")
        numbers = [int(n) for n in re.findall(r'sheetId="(\d+)"', content)]
        bound = re.search(rf'xmlns:(\w+)="{re.escape(RELATIONS)}"', content)
        prefix = bound[1] if bound else "here"
        binding = "" if bound else f'xmlns:here="{RELATIONS}" '
        told = (
            f'<sheet name={quoteattr(title)} sheetId="{max(numbers, default=0) + 1}" '
            f'{binding}{prefix}:id="{identity}"/>'
        )
        self._insert(self._name, "sheets", told)

    def _insert(self, part: str, parent: str, element: str) -> None:
        """Put an element at the end of another one, with that one's prefix."""
        content = self.parts[part]
        ends = list(re.finditer(rf"</((?:\w+:)?){parent}\s*>".encode(), content))
        if not ends:
            raise UnreadableError(f"a part has no {parent}.", "Save the workbook anew.")
        end = ends[-1]
        prefix = end[1].decode()
        told = element.replace("<", f"<{prefix}", 1).encode("utf-8")
        self.parts[part] = content[: end.start()] + told + content[end.start() :]

    def _without_calculation_chain(self) -> None:
        """Take the list of formulas out: programs make it anew, and refuse one that is wrong."""
        for name in [name for name in self.parts if name.lower().endswith("calcchain.xml")]:
            del self.parts[name]
            for part in ("[Content_Types].xml", self._relations):
                pattern = rb"<(?:\w+:)?(?:Override|Relationship)\b[^>]*calcChain\.xml[^>]*/>"
                self.parts[part] = re.sub(pattern, b"", self.parts[part])

    def _sheets_of_workbook(self) -> Iterator[tuple[str, str]]:
        """Yield the title of each sheet, as it is compared, with the name of its part."""
        folder = self._name.rpartition("/")[0]
        targets = {
            told["Id"]: told["Target"]
            for told in _elements(self.parts[self._relations], "Relationship")
        }
        for told in _elements(self.parts[self._name], "sheet"):
            identity = next(value for key, value in told.items() if key.endswith(":id"))
            target = targets[identity]
            name = target[1:] if target.startswith("/") else normpath(join(folder, target))
            if name in self.parts:
                yield same(told["name"]), name


def _in_a_new_sheet(value: object, date_style: str | None) -> Written:
    if isinstance(value, date):
        day = value.date() if isinstance(value, datetime) else value
        return Written(day if date_style else day.isoformat(), date_style)
    if value is None or isinstance(value, int | float):
        return Written(value)
    return Written(str(value))


def _office_document(content: bytes) -> str:
    for told in _elements(content, "Relationship"):
        if told.get("Type", "").endswith("/officeDocument"):
            return told["Target"].removeprefix("/")
    raise UnreadableError("the file names no workbook.", "Save it anew in a spreadsheet program.")


def _elements(content: bytes, name: str) -> list[Mapping[str, str]]:
    """Return the attributes of all elements of a name, whatever their prefix."""
    found: list[Mapping[str, str]] = []

    def begin(full: str, attributes: dict[str, str]) -> None:
        if full.rpartition(":")[2] == name:
            found.append(dict(attributes))

    parser = expat.ParserCreate()
    parser.StartElementHandler = begin
    parser.Parse(content, True)
    return found
