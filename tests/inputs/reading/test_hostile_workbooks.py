"""Small files that unpack to a great deal: each is refused by what it holds, not by its bytes."""

import re
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest

from capacity.errors import InputError
from capacity.inputs import read_book
from capacity.inputs.reading.edited_copy import SheetEdit
from capacity.inputs.reading.spliced_copy import spliced_copy
from tests.inputs.books import read, the_error, valid, write_workbook

Parts = dict[str, bytes]
SHEET = "xl/worksheets/sheet7.xml"  # Package hours
CONTENTS = "[Content_Types].xml"


def changed(tmp_path: Path, change: Callable[[Parts], None]) -> Path:
    """Return a valid workbook with its parts changed."""
    path = write_workbook(valid(), tmp_path / "book.xlsx")
    with zipfile.ZipFile(path) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    change(parts)
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in parts.items():
            archive.writestr(name, content)
    return path


def put(parts: Parts, before: bytes, more: bytes, part: str = SHEET) -> None:
    assert before in parts[part]
    parts[part] = parts[part].replace(before, more + before, 1)


def last_row(cells: bytes, number: bytes = b"900") -> Callable[[Parts], None]:
    row = b'<row r="%s">%s</row>' % (number, cells)
    return lambda parts: put(parts, b"</sheetData>", row)


def strings_elsewhere(parts: Parts) -> None:
    """The shared texts, many of them, under the folder where sheets usually are."""
    kind = b"application/vnd.openxmlformats-officedocument.spreadsheetml.sharedStrings+xml"
    part = b'<Override PartName="/xl/worksheets/texts.xml" ContentType="%s"/>' % kind
    parts[CONTENTS] = re.sub(rb"<Override[^>]*sharedStrings[^>]*>", b"", parts[CONTENTS])
    put(parts, b"</Types>", part, CONTENTS)
    main = b"http://schemas.openxmlformats.org/spreadsheetml/2006/main"
    table = b'<sst xmlns="%s">' % main + b"<si><t>x</t></si>" * 510_000 + b"</sst>"
    parts["xl/worksheets/texts.xml"] = table


def out_of_order(parts: Parts) -> None:
    first, second = re.findall(rb'<row r="[12]".*?</row>', parts[SHEET], re.DOTALL)
    parts[SHEET] = parts[SHEET].replace(first + second, second + first)


def same_number_twice(parts: Parts) -> None:
    parts[SHEET] = re.sub(
        rb'<row r="2"(.*?</row>)', rb'<row r="2"\1<row r="2"\1', parts[SHEET], flags=re.DOTALL
    )


def entity(parts: Parts) -> None:
    put(parts, b"<worksheet", b'<!DOCTYPE w [<!ENTITY a "aaaa">]>')


@pytest.mark.parametrize(
    ("change", "what"),
    [
        pytest.param(last_row(b"", b"2000000000"), "a row has the number 2000000000", id="row"),
        pytest.param(last_row(b"", b"9" * 5_000), "a row has the number 99999", id="digits"),
        pytest.param(last_row(b"<c/>" * 600_000), "row 900 are out of order", id="many cells"),
        pytest.param(last_row(b'<c r="A900"/>' * 2), "row 900 are out of order", id="cell twice"),
        pytest.param(last_row(b'<c r="ZZZZ900"/>'), "a cell is called", id="column"),
        pytest.param(last_row(b'<c r="A7"/>'), "row 900 are out of order", id="another row"),
        pytest.param(last_row(b"<c>" + b"<f/>" * 9_000 + b"</c>"), "too many parts", id="parts"),
        pytest.param(out_of_order, "row 1 is below row 2", id="rows out of order"),
        pytest.param(same_number_twice, "row 2 is below row 2", id="row twice"),
        pytest.param(
            lambda parts: put(parts, b"</worksheet>", b"<a>" * 100_000), "nested", id="depth"
        ),
        pytest.param(
            lambda parts: put(parts, b"<sheetData", b"<cols>" + b"<col/>" * 300_000 + b"</cols>"),
            "elements beside its cells",
            id="columns",
        ),
        pytest.param(
            lambda parts: put(
                parts, b"</worksheet>", b"<a %s/>" % b" ".join(b'a%d=""' % n for n in range(99))
            ),
            "attributes",
            id="attributes",
        ),
        pytest.param(
            lambda parts: put(parts, b"</worksheet>", b"<a>" + b"x" * 900_000 + b"</a>"),
            "a text or an attribute has more than",
            id="text",
        ),
        pytest.param(entity, "defines entities", id="entity"),
        pytest.param(strings_elsewhere, "a part has more than", id="texts elsewhere"),
    ],
)
def test_what_no_workbook_holds_is_refused_before_it_is_read(tmp_path, change, what):
    path = changed(tmp_path, change)
    assert path.stat().st_size < 300_000
    assert what in the_error(read_book(path)).what
    with pytest.raises(InputError):
        spliced_copy(path, [SheetEdit("Checks", {2: {"Aircraft": "another"}})])


def test_a_wide_row_counts_cells_before_the_library_fills_them_in(tmp_path):
    """A cell in the last column would make each row 16,384 cells wide."""
    rows = b"".join(b'<row r="%d"><c r="XFD%d"/></row>' % (n, n) for n in range(900, 4_000))
    path = changed(tmp_path, lambda parts: put(parts, b"</sheetData>", rows))
    message = the_error(read_book(path))
    assert "cells" in message.what
    assert message.where == "Package hours"


def test_the_last_row_of_a_sheet_is_a_row(tmp_path):
    path = changed(tmp_path, last_row(b"", b"1048576"))
    assert read_book(path).base == read(valid(), tmp_path).base


def test_cells_and_rows_without_names_follow_each_other(tmp_path):
    """Both are optional (ECMA-376 Part 1, 18.3.1.4 and 18.3.1.73, from memory)."""

    def nameless(parts: Parts) -> None:
        parts[SHEET] = re.sub(rb'<(row|c) r="\w+"', rb"<\1", parts[SHEET])

    assert read_book(changed(tmp_path, nameless)).base == read(valid(), tmp_path).base


def test_a_pipe_is_not_waited_for(tmp_path):
    os = pytest.importorskip("os")
    if not hasattr(os, "mkfifo"):
        pytest.skip("this system has no named pipes")
    os.mkfifo(tmp_path / "pipe.xlsx")
    assert "neither a file nor a folder" in the_error(read_book(tmp_path / "pipe.xlsx")).what
