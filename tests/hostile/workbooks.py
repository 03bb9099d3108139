"""The kept corpus of workbooks: small files, each a few lines here, that unpack to great harm."""

import random
import re
import struct
import warnings
import zipfile
from collections.abc import Callable
from pathlib import Path

from tests.hostile.parts import (
    BOOK,
    CHECKS,
    CONTENTS,
    MAIN,
    STYLES,
    TEXTS,
    Parts,
    parts_of,
    put,
    write_parts,
)

Change = Callable[[Parts], None]

SHARED = b"application/vnd.openxmlformats-officedocument.spreadsheetml.sharedStrings+xml"


def before(mark: bytes, more: bytes, part: str = CHECKS) -> Change:
    """Return the change that puts more into a part, in front of a mark."""
    return lambda parts: put(parts, part, mark, more)


def row(number: bytes, cells: bytes = b"") -> Change:
    return before(b"</sheetData>", b'<row r="%s">%s</row>' % (number, cells))


def texts_elsewhere(parts: Parts) -> None:
    parts[CONTENTS] = re.sub(rb"<Override[^>]*sharedStrings[^>]*>", b"", parts[CONTENTS])
    part = b'<Override PartName="/xl/worksheets/texts.xml" ContentType="%s"/>' % SHARED
    put(parts, CONTENTS, b"</Types>", part)
    parts["xl/worksheets/texts.xml"] = _texts(b"<si><t>x</t></si>" * 700_000)


def _texts(items: bytes) -> bytes:
    return b'<sst xmlns="%s">' % MAIN + items + b"</sst>"


def whole(part: str, content: bytes) -> Change:
    def change(parts: Parts) -> None:
        parts[part] = content

    return change


def without(part: str) -> Change:
    return lambda parts: parts.pop(part) and None


def replaced(part: str, old: bytes, new: bytes) -> Change:
    def change(parts: Parts) -> None:
        assert old in parts[part]
        parts[part] = parts[part].replace(old, new)

    return change


def encoded(encoding: str) -> Change:
    """Return the change of a sheet's encoding, its declaration left as it is."""
    return lambda parts: parts.update({CHECKS: parts[CHECKS].decode().encode(encoding)})


def rows_shuffled(parts: Parts) -> None:
    rows = re.findall(rb"<row .*?</row>", parts[CHECKS], re.DOTALL)
    mixed = rows[:]
    random.Random(1).shuffle(mixed)
    parts[CHECKS] = parts[CHECKS].replace(b"".join(rows), b"".join(mixed))


def many_sheets(parts: Parts) -> None:
    more = b"".join(
        b'<sheet name="More %d" sheetId="%d" r:id="rId7"/>' % (n, n) for n in range(100, 60_000)
    )
    put(parts, BOOK, b"</sheets>", more)


def many_names(parts: Parts) -> None:
    name = b'<definedName name="n%d">Checks!$A$1:$XFD$1048576</definedName>'
    put(parts, BOOK, b"</definedNames>", b"".join(name % n for n in range(100_000)))


def sheets_in_a_ring(parts: Parts) -> None:
    """Every sheet is the same part, which is large in itself."""
    cells = b"".join(
        b'<row r="%d"><c r="A%d"><v>1</v></c></row>' % (n, n) for n in range(9, 19_000)
    )
    put(parts, CHECKS, b"</sheetData>", cells)
    links = "xl/_rels/workbook.xml.rels"
    parts[links] = re.sub(rb"worksheets/sheet\d+.xml", b"worksheets/sheet7.xml", parts[links])


def far_columns(parts: Parts) -> None:
    rows = b"".join(b'<row r="%d"><c r="XFD%d"/></row>' % (n, n) for n in range(100, 9_000))
    put(parts, CHECKS, b"</sheetData>", rows)


def nonsense_in_every_row(parts: Parts) -> None:
    cell = b'<c r="%s%d" t="str"><v>=1+1</v></c>'
    rows = b"".join(
        b'<row r="%d">%s</row>' % (n, b"".join(cell % (b"%c" % c, n) for c in range(65, 83)))
        for n in range(100, 15_000)
    )
    put(parts, CHECKS, b"</sheetData>", rows)


def merged(parts: Parts) -> None:
    cells = b"".join(b'<mergeCell ref="A%d:XFD%d"/>' % (n, n) for n in range(1, 190_000))
    put(parts, CHECKS, b"</worksheet>", b"<mergeCells>" + cells + b"</mergeCells>")


def styles(count: int) -> Change:
    font = b'<font><sz val="9"/><name val="%d"/></font>'
    fonts = b"".join(font % n for n in range(count // 3))
    return before(b"</fonts>", fonts, STYLES)


def formats(parts: Parts) -> None:
    one = b'<numFmt numFmtId="%d" formatCode="0.0%d"/>'
    formats = b"<numFmts>" + b"".join(one % (200 + n, n) for n in range(150_000)) + b"</numFmts>"
    put(parts, STYLES, b"<fonts", formats)


CHANGES: dict[str, Change] = {
    "row two thousand million": row(b"2000000000"),
    "row of 5,000 digits": row(b"9" * 5_000),
    "row below nought": row(b"-1"),
    "row with a fraction": row(b"1e3"),
    "last row of a sheet": row(b"1048576", b'<c r="A1048576"><v>1</v></c>'),
    "one wide row": row(b"900", b"<c/>" * 900_000),
    "far columns": far_columns,
    "nonsense in every row": nonsense_in_every_row,
    "rows shuffled": rows_shuffled,
    "one cell of many parts": row(b"900", b"<c>" + b"<f/>" * 400_000 + b"</c>"),
    "cell named beyond all": row(b"900", b'<c r="ZZZZZZ900"/>'),
    "text that is not shared": row(b"900", b'<c r="A900" t="s"><v>99999999</v></c>'),
    "text before the first": row(b"900", b'<c r="A900" t="s"><v>-1</v></c>'),
    "style that is not there": row(b"900", b'<c r="A900" s="999999"><v>1</v></c>'),
    "number beyond all": row(b"900", b'<c r="A900"><v>1e999</v></c><c r="B900"><v>nan</v></c>'),
    "number of many digits": row(b"900", b'<c r="A900"><v>' + b"9" * 200_000 + b"</v></c>"),
    "date of the year 300000": replaced(CHECKS, b"<v>46", b"<v>99999946"),
    "error in every cell": replaced(CHECKS, b' t="s"', b' t="e"'),
    "nested": before(b"</worksheet>", b"<a>" * 2_000_000),
    "nested and closed": before(b"</worksheet>", b"<a>" * 90_000 + b"</a>" * 90_000),
    "nested texts": before(b"</sst>", b"<si>" + b"<r>" * 900_000, TEXTS),
    "nested styles": before(b"</styleSheet>", b"<x>" * 900_000, STYLES),
    "many attributes": before(
        b"</worksheet>", b"<a " + b" ".join(b'a%d=""' % n for n in range(200_000)) + b"/>"
    ),
    "one endless attribute": before(b"</worksheet>", b'<a b="' + b"x" * 15_000_000 + b'"/>'),
    "one endless text": row(b"900", b'<c r="A900" t="str"><v>' + b"x" * 15_000_000 + b"</v></c>"),
    "entities in entities": before(
        b"<worksheet",
        b'<!DOCTYPE w [<!ENTITY a "aaaaaaaaaa">'
        + b"".join(
            b'<!ENTITY %c "%s">' % (n + 1, b"&%c;" % n * 10) for n in range(ord("a"), ord("j"))
        )
        + b"]>",
    ),
    "entity from a file": before(
        b"<sst", b'<!DOCTYPE s [<!ENTITY x SYSTEM "file:///etc/passwd">]>', TEXTS
    ),
    "many texts": whole(TEXTS, _texts(b"<si><t>x</t></si>" * 450_000)),
    "too many texts": whole(TEXTS, _texts(b"<si><t>x</t></si>" * 600_000)),
    "texts elsewhere": texts_elsewhere,
    "long texts": whole(TEXTS, _texts((b"<si><t>" + b"x" * 250_000 + b"</t></si>") * 70)),
    "many fonts": styles(180_000),
    "many formats of numbers": formats,
    "many styles": before(b"</cellXfs>", b'<xf numFmtId="0"/>' * 200_000, STYLES),
    "merged by the million": merged,
    "many sheets": many_sheets,
    "many names": many_names,
    "one part, every sheet": sheets_in_a_ring,
    "no table of contents": without(CONTENTS),
    "no styles": without(STYLES),
    "no texts": without(TEXTS),
    "no book": without(BOOK),
    "contents empty": whole(CONTENTS, b""),
    "contents nested": before(b"</Types>", b"<a>" * 40_000, CONTENTS),
    "many parts listed": before(
        b"</Types>", b'<Override PartName="/a" ContentType="b"/>' * 15_000, CONTENTS
    ),
    "sheet in UTF-16": encoded("utf-16"),
    "sheet in EBCDIC": encoded("cp500"),
    "sheet empty": whole(CHECKS, b""),
    "sheet of blanks": whole(CHECKS, b" " * 19_000_000),
    "colour of the terminal": replaced(TEXTS, b"<t>", b"<t>_x001B_[31m"),
    "links out of the file": replaced(
        "xl/_rels/workbook.xml.rels", b"worksheets/sheet7.xml", b"../../../../etc/passwd"
    ),
    "one endless comment": before(b"</worksheet>", b"<!--" + b" " * 60_000_000 + b"-->"),
}


def twice_the_same_name(path: Path) -> None:
    write_parts(parts_of(), path)
    with zipfile.ZipFile(path, "a") as archive, warnings.catch_warnings():
        warnings.simplefilter("ignore")  # that the name is there already
        archive.writestr(CHECKS, b"<worksheet/>")


def parts_that_overlap(path: Path) -> None:
    """Many entries of the list of parts that point at the same packed bytes."""
    write_parts({**parts_of(), "xl/media/large.xml": b"<a>" + b"x" * 19_000_000}, path)
    content = bytearray(path.read_bytes())
    entries = [found.start() for found in re.finditer(rb"PK\x01\x02", content)]
    target = content[entries[-1] + 16 : entries[-1] + 28]  # checksum and sizes
    where = content[entries[-1] + 42 : entries[-1] + 46]
    for entry in entries[:-1]:
        content[entry + 16 : entry + 28] = target
        content[entry + 42 : entry + 46] = where
    path.write_bytes(content)


def sizes_that_lie(path: Path) -> None:
    """A part that is said to unpack to ten bytes, and unpacks to much."""
    write_parts({**parts_of(), "xl/media/large.xml": b"<a>" + b" " * 50_000_000}, path)
    content = bytearray(path.read_bytes())
    last = content.rindex(b"PK\x01\x02")
    content[last + 24 : last + 28] = struct.pack("<I", 10)
    path.write_bytes(content)


def archive_in_an_archive(path: Path) -> None:
    inner = path.with_name("inner.zip")
    with zipfile.ZipFile(inner, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("a", b"\0" * 20_000_000)
    write_parts({**parts_of(), "xl/worksheets/inner.zip": inner.read_bytes()}, path)
    inner.unlink()


def parts_by_the_thousand(path: Path) -> None:
    write_parts({**parts_of(), **{f"xl/media/{n}.xml": b"<a/>" for n in range(30_000)}}, path)


def names_that_climb(path: Path) -> None:
    write_parts({**parts_of(), "../../above.xml": b"<a/>", "/etc/passwd": b"<a/>"}, path)


def random_bytes(path: Path) -> None:
    path.write_bytes(b"PK\x03\x04" + random.Random(1).randbytes(300_000))


def half_a_file(path: Path) -> None:
    write_parts(parts_of(), path)
    path.write_bytes(path.read_bytes()[: path.stat().st_size // 2])


def list_of_parts_only(path: Path) -> None:
    write_parts(parts_of(), path)
    content = path.read_bytes()
    path.write_bytes(content[content.index(b"PK\x01\x02") :])


def another_compression(path: Path) -> None:
    with zipfile.ZipFile(path, "w", zipfile.ZIP_LZMA) as archive:
        for name, content in {**parts_of(), CHECKS: b"<a>" + b" " * 20_000_000}.items():
            archive.writestr(name, content)


ARCHIVES: dict[str, Callable[[Path], None]] = {
    "part twice": twice_the_same_name,
    "parts that overlap": parts_that_overlap,
    "sizes that lie": sizes_that_lie,
    "archive in an archive": archive_in_an_archive,
    "parts by the thousand": parts_by_the_thousand,
    "names that climb": names_that_climb,
    "random bytes": random_bytes,
    "half a file": half_a_file,
    "list of parts only": list_of_parts_only,
    "another compression": another_compression,
}


def hostile_workbook(name: str, folder: Path) -> Path:
    """Write a workbook of the corpus and return its path."""
    path = folder / "book.xlsx"
    if name in CHANGES:
        parts = parts_of()
        CHANGES[name](parts)
        return write_parts(parts, path)
    ARCHIVES[name](path)
    return path
