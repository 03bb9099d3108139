"""The frame of all pages to print: tables of any rows, values as people write them."""

from datetime import UTC, date, datetime

import pytest

from capacity.words.palette import HOURS
from tests.ui.printed_page import ALLOWED, FORBIDDEN, read
from ui.legend import Swatch
from ui.printing.sheet import (
    Cell,
    caution,
    heading,
    paragraph,
    picture,
    sheet,
    table,
    told,
    value_table,
)

EVIL = "</td><script>alert('x')</script>\"<img src=x onerror=alert(1)>&amp;"


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (date(2027, 1, 4), "Mon 4 Jan 2027"),
        (1200, "1,200"),
        (-0.25, "-0.2"),
        (1234.5, "1,234.5"),
        (None, "\u2013"),
        ("", ""),
        ("a", "a"),
    ],
)
def test_values_stand_as_people_write_them(value, text):
    assert told(value) == text


def test_hostile_texts_stay_texts_in_every_part():
    body = [
        heading(EVIL),
        paragraph(EVIL),
        caution(EVIL),
        table([Cell(EVIL)], [[Cell(EVIL, is_number=True, is_marked=True)]]),
        value_table([{EVIL: EVIL}]),
        picture(EVIL, [Swatch(EVIL)]),
    ]
    page = read(sheet(EVIL, EVIL, body, issued=datetime(2027, 1, 4, 7, 5, tzinfo=UTC)))
    assert set(page.tags) == ALLOWED
    assert page.texts["title"] == [f"{EVIL} - {EVIL}"]
    assert page.texts["h1"] == page.texts["h2"] == [EVIL]
    assert page.texts["p"] == [EVIL, "Issued Mon 4 Jan 2027 07:05 UTC", EVIL, EVIL, ""]
    assert page.texts["text"] == [EVIL, EVIL]
    assert page.rows == [[EVIL]] * 4
    assert page.marked == [EVIL]
    assert not [name for name, _ in page.attributes if name in FORBIDDEN]


def test_a_mark_is_an_edge_and_bold_print_and_not_a_shade_of_grey():
    page = sheet("t", "b", [value_table([{"A": "▲"}, {"A": ""}], lambda row: row["A"] == "▲")])
    assert read(page).marked == ["▲"]
    assert b".marked { border: 0.8mm solid #000; font-weight: bold; }" in page
    colours = {word for word in page.decode().replace(";", " ").split() if word.startswith("#")}
    assert colours - {c for paint in HOURS for c in (paint.fill, paint.ink)} == {"#fff", "#000"}


def test_headings_are_repeated_on_each_sheet_and_nothing_comes_from_outside():
    page = sheet("t", "b", [value_table([{"A": 1}])]).decode()
    assert "thead { display: table-header-group; }" in page
    assert "size: A4 landscape" in page
    assert "default-src &#x27;none&#x27;" in page
    for outside in ("http:", "https:", "@import", "url("):
        assert outside not in page


def test_no_rows_make_no_table():
    assert value_table([]) == ""
