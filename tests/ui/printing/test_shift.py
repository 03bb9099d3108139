"""A shift list to print: all its lines, hostile texts as texts, nothing from outside."""

import re
from dataclasses import fields, replace
from datetime import date

import pytest

from capacity.crews.crew_settings import CrewSettings
from capacity.reports.crews.workbook import Line, ShiftList, shift_lists
from capacity.reports.plan.wording import CAUTION
from tests.ui.printed_page import ALLOWED, DRAWN, FORBIDDEN, read
from tests.ui.ways_through import desk_of, labels, make_plan, said, upload
from ui.desk.plan_job import result_of
from ui.manager.crew_job import crew_answer, start_crews
from ui.printing.shift import COLUMNS, file_name_of, shift_page, shift_pages

WING = Line("B1", "Q-A", "C1", "open", "mechanic", "red", 2.25, 17.0, 1.5, "ALONE: nobody else")
DOOR = Line("B2", "Q-B", "C2", "repair", "painter", "blue", 1.0, 8.0, 0.0, "")
LIST = ShiftList(date(2027, 1, 4), "D", "07:00", (WING, DOOR))
EVIL = "</td><script>alert('x')</script>\"<img src=x onerror=alert(1)>&amp;"


def test_all_lines_are_there_in_order_with_their_numbers():
    headings, *rows = read(shift_page(LIST, "Northfield")).rows
    assert headings == [name for name, *_ in COLUMNS]
    assert rows == [
        ["B1", "Q-A (C1)", "open", "mechanic", "red", "2.25", "17.0", "1.5", "ALONE: nobody else"],
        ["B2", "Q-B (C2)", "repair", "painter", "blue", "1.00", "8.0", "\u2013", ""],
    ]


def test_the_page_names_the_base_the_shift_the_caution_and_the_sums():
    page = read(shift_page(LIST, "Northfield (invented)"))
    assert page.texts["h1"] == ["Mon 4 Jan 2027, shift D from 07:00"]
    told = page.texts["p"]
    assert told[0] == "Northfield (invented)"
    assert CAUTION in told
    assert any("2 lines, 2 checks, 25.0 booked man-hours; overtime 1.5 h" in t for t in told)


def test_a_shortened_day_is_told_in_the_title():
    short = replace(LIST, shortened="shortened day: 50.0 % of its hours")
    title = "Mon 4 Jan 2027, shift D from 07:00, shortened day: 50.0 % of its hours"
    assert read(shift_page(short, "Northfield")).texts["h1"] == [title]


def test_a_list_of_few_lines_is_in_large_print_and_one_of_many_in_parts_of_the_same_length():
    sizes, parts = [], []
    for count in (1, 14, 20, 60):
        page = shift_page(replace(LIST, lines=(DOOR,) * count), "Northfield").decode()
        sizes.append(re.findall('class="list (size[0-9]+)"', page)[0])
        parts.append([part.count("<tr>") - 1 for part in page.split("<section")[1:]])
    assert sizes == ["size10", "size9", "size7", "size8"]
    assert parts[:3] == [[1], [14], [20]]
    assert sum(parts[3]) == 60
    assert max(parts[3]) - min(parts[3]) <= 1


def test_parts_of_a_list_are_numbered_and_in_turn():
    lines = tuple(replace(DOOR, stage=f"stage {number}") for number in range(60))
    page = read(shift_page(replace(LIST, lines=lines), "Northfield"))
    title = "Mon 4 Jan 2027, shift D from 07:00"
    count = len(page.texts["h1"])
    assert page.texts["h1"] == [f"{title}, part {n} of {count}" for n in range(1, count + 1)]
    told = [row[2] for row in page.rows if row[0] != "Bay"]
    assert told == [line.stage for line in lines]


def test_lists_printed_together_each_begin_a_page():
    lists = [LIST, replace(LIST, shift="N", begins="19:00")]
    page = shift_pages(lists, "Northfield").decode()
    assert page.count("<section") == 2
    assert ".list + .list { break-before: page; }" in page
    assert read(page.encode()).texts["h1"] == [one.title for one in lists]


def test_hostile_texts_stay_texts_in_every_field():
    words = {field.name: EVIL for field in fields(Line) if field.type is str}
    assert len(words) == 7
    hostile = replace(LIST, shift=EVIL, begins=EVIL, lines=(replace(WING, **words),))
    page = read(shift_page(hostile, EVIL))
    assert set(page.tags) <= ALLOWED | DRAWN
    assert not [name for name, _ in page.attributes if name in FORBIDDEN]
    (row,) = page.rows[1:]
    assert [row[place] for place in (0, 2, 3, 4, 8)] == [EVIL] * 5
    assert row[1] == f"{EVIL} ({EVIL})"
    assert page.texts["p"][0] == EVIL
    assert page.texts["h1"] == [f"Mon 4 Jan 2027, shift {EVIL} from {EVIL}"]


def test_the_page_asks_for_nothing_outside_and_prints_black_on_white():
    page = shift_page(LIST, "Northfield").decode()
    assert "http:" not in page
    assert "https:" not in page
    assert "@import" not in page
    assert "url(" not in page
    assert "default-src &#x27;none&#x27;" in page
    assert "background: #fff; color: #000" in page
    assert "@page" in page


@pytest.mark.parametrize(
    ("shift", "name"),
    [
        ("D", "shift-2027-01-04-D.html"),
        ('../a"\r\nb', "shift-2027-01-04-___a___b.html"),
        ("n" * 200, f"shift-2027-01-04-{'n' * 40}.html"),
    ],
)
def test_the_file_name_is_safe_whatever_the_shift_is_called(shift, name):
    assert file_name_of(replace(LIST, shift=shift)) == name


def test_the_base_manager_prints_the_day_and_shift_that_is_chosen(app):
    make_plan(upload(app, "tiny.xlsx"))
    desk = desk_of(app)
    job = start_crews(desk, CrewSettings(weeks=2, seconds=5, workers=1))
    job.join(60)
    app.switch_page("pages/base_manager.py").run()
    assert not app.exception
    assert "the shift lead sees who is there" in said(app)
    result = result_of(desk)
    lists = shift_lists(crew_answer(desk).staffed, result.outcome.plan, result.opened.book.base)
    assert {"Crew workbook (.xlsx)", "Calendars of the crews (.zip)"} <= set(labels(app))
    (shown,) = (t.value for t in app.table if "Remarks and cautions" in t.value)
    assert len(shown) == sum(len(one.lines) for one in lists if one.day == lists[0].day)
    days = list(dict.fromkeys(one.day for one in lists))
    assert len(days) > 1
    (day,) = (box for box in app.selectbox if box.label == "Day")
    assert len(day.options) == len(days) + 1
    day.select_index(len(days) - 1).run()
    assert not app.exception
    of_day = [one.shift for one in lists if one.day == days[-1]]
    together = ["Print these shift lists (.html)"] if len(of_day) > 1 else []
    printed = [*(f"Print shift {name} (.html)" for name in of_day), *together]
    assert labels(app)[-len(printed) :] == printed
