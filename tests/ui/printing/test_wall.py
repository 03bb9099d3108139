"""The wall sheet of the bays: pages, bars that go on, marks, and every text a text."""

import re
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from functools import cache

import pytest

from capacity.facts import Status
from capacity.plans.plan import Plan
from capacity.reports.kit.issue import plan_number
from capacity.reports.kit.sheet import FOOT_CAUTION
from capacity.reports.plan.drawn_days import drawn_days
from capacity.reports.plan.view import view_of
from capacity.words.palette import Hatching
from tests.ui.plans import MONDAY, base, day, stay, view
from tests.ui.printed_page import ALLOWED, DRAWN, FORBIDDEN, read
from tests.ui.year_plan import year_base, year_outcome
from ui.printing.drawing import STEP_MM, Box, hatching_of
from ui.printing.lettering import cut_to, lines_of, width_of
from ui.printing.paper import A3, A4
from ui.printing.wall import pages_of, wall_sheet
from ui.printing.wall_sheets import wall_sheets

EVIL = "</text><script>alert('x')</script>\"<img src=x onerror=alert(1)>&amp;"
MOMENT = datetime(2027, 1, 6, 7, 5, tzinfo=UTC)


def words_of(of=None, paper=A4, today=None) -> list[str]:
    return read(wall_sheet(of or view(), paper, today, MOMENT)).texts["text"]


@cache
def year_view():
    return view_of(year_base(), year_outcome(), ())


def with_bays(count: int):
    facts = base()
    bays = [replace(facts.bays[0], name=f"B{number}") for number in range(1, count + 1)]
    return view(replace(facts, bays=tuple(bays)))


@pytest.mark.parametrize("paper", [A3, A4])
def test_a_year_is_a_page_a_quarter_of_thirteen_weeks_each_but_the_last(paper):
    first, *others = [page.sheet for page in pages_of(year_view(), paper, MONDAY)]
    assert (first.first, first.until) == (MONDAY, MONDAY + timedelta(weeks=13))
    assert [sheet.number for sheet in (first, *others)] == [1, 2, 3, 4]
    for before, after in zip((first, *others), others, strict=False):
        assert before.until == after.first
    last = others[-1]
    assert last.until > max(p.out_day for p in year_view().placements) >= last.first
    assert 13 <= (last.until - last.first).days / 7 <= 15


def test_days_in_the_tail_of_a_quarter_get_a_page_when_they_are_more_than_two_weeks():
    drawn = drawn_days(view())
    for weeks, pages in ((13, 1), (15, 1), (16, 2), (26, 2), (28, 2), (29, 3)):
        days = tuple(MONDAY + timedelta(days=number) for number in range(7 * weeks))
        longer = replace(drawn, days=days, off=(False,) * len(days))
        assert len(wall_sheets(base().bays, longer, MONDAY, 40)) == pages, weeks


def test_forty_bays_stand_on_one_page_of_either_paper_and_more_are_parted_evenly():
    for paper in (A3, A4):
        assert paper.most_bays >= 40
        assert len(pages_of(with_bays(40), paper, MONDAY)) == 1
    parted = pages_of(with_bays(A4.most_bays + 1), A4, MONDAY)
    assert [page.sheet.number for page in parted] == [1, 2]
    sizes = [len(page.sheet.bays) for page in parted]
    assert sum(sizes) == A4.most_bays + 1
    assert max(sizes) - min(sizes) <= 1


def test_bays_stand_hangar_by_hangar():
    facts = base()
    bays = [replace(facts.bays[0], name=name, hangar=name[0]) for name in ("N1", "S1", "N2")]
    empty = replace(facts, bays=tuple(bays), checks=(), closures=())
    (page,) = pages_of(view(empty), A4, MONDAY)
    assert [bay.name for bay in page.sheet.bays] == ["N1", "N2", "S1"]
    assert [hangar for hangar, _ in page.sheet.hangars] == ["N", "S"]


def test_a_bar_that_goes_on_says_from_and_to_which_sheet():
    words = words_of(year_view())
    over = [
        stay
        for stay in year_view().placements
        if any(stay.in_day < MONDAY + timedelta(weeks=13 * n) < stay.out_day for n in (1, 2, 3))
    ]
    assert len(over) > 20
    to_sheets = [word for word in words if word.startswith("to sheet ")]
    from_sheets = [word for word in words if word.startswith("from sheet ")]
    assert len(to_sheets) == len(from_sheets) == len(over)
    assert {"to sheet 2", "to sheet 3", "to sheet 4"} == set(to_sheets)
    assert {"from sheet 1", "from sheet 2", "from sheet 3"} == set(from_sheets)


def test_an_aircraft_that_is_in_from_before_says_since_when():
    facts = base()
    early = replace(facts.checks[0], fixed_in=day(-3), earliest_in=day(-3))
    words = words_of(view(replace(facts, checks=(early, facts.checks[1])), stay("C1", "B1", -3)))
    at = words.index("in since Fri")
    assert words[at : at + 3] == ["in since Fri", "1 Jan 2027", "C1"]


def test_marks_and_words_are_those_of_all_papers():
    words = words_of()[17:]  # behind the legend
    # C2 is out on Sat 9 January, a day after it was agreed, and of a third party.
    for word in ("■ C1, Q-A", "C2, Q-B", "3P", "late 1 d", "closed", "repair"):
        assert word in words
    assert "▲ 325 h" in words  # of the audit, in the first week


def test_a_day_agreed_ahead_is_a_bar_with_its_word_where_there_is_room():
    facts = base()
    later = replace(facts.checks[0], agreed_out=day(9))
    words = words_of(view(replace(facts, checks=(later, facts.checks[1]))))
    # In the legend twice, and at its bar.
    assert words.count("agreed") == 2
    assert not any("| agreed" in word for word in words)


def test_today_is_drawn_where_it_is_on_the_page():
    assert "today, 6 Jan" in words_of()
    assert "today, 11 Jan" in words_of(today=day(7))
    assert not any(word.startswith("today") for word in words_of(today=date(2026, 1, 1)))


def test_what_has_no_slot_is_named_with_its_days():
    facts = base()
    shown = view(facts, stay("C1", "B1", 0))
    outcome = replace(shown.outcome, plan=Plan(shown.outcome.plan.placements, ("C2",)))
    words = words_of(view_of(facts, outcome, ()))
    assert "No slot: C2 (Q-B, booked, in from Mon 4 Jan 2027 to Mon 11 Jan 2027)" in words


def test_number_caution_and_sheet_stand_at_the_foot_of_each_page():
    page = read(wall_sheet(year_view(), A3, issued=MOMENT))
    told = page.texts["p"]
    number = plan_number(year_outcome().plan)
    assert told.count(f"Plan {number}, issued Wed 6 Jan 2027 07:05 UTC") == 4
    assert told.count(FOOT_CAUTION) == 4
    assert [text for text in told if text.startswith("Sheet ")] == [
        f"Sheet {n} of 4, A3" for n in (1, 2, 3, 4)
    ]


def test_the_table_has_every_stay_with_its_sheets():
    page = read(wall_sheet(year_view(), A4, issued=MOMENT))
    rows = page.table_under("Slots")
    assert len(rows) == 300
    by_check = {row["Check"]: row for row in rows}
    assert by_check["C001"]["Sheet"] == "1"
    assert {row["Sheet"] for row in rows} >= {"1, 2", "2, 3", "3, 4"}


def test_hostile_texts_stay_texts():
    facts = base()
    check = replace(facts.checks[1], name=EVIL, aircraft=EVIL, customer=EVIL, status=Status.BOOKED)
    bays = tuple(replace(bay, name=bay.name + EVIL, hangar=EVIL) for bay in facts.bays)
    hostile = replace(facts, name=EVIL, bays=bays, checks=(check,), closures=())
    page = read(wall_sheet(view(hostile, stay(EVIL, bays[0].name, 0)), A3, issued=MOMENT))
    assert set(page.tags) <= ALLOWED | DRAWN
    assert not [name for name, _ in page.attributes if name in FORBIDDEN]
    assert page.texts["h1"] == [f"Bays of {EVIL}"]


def test_the_page_is_of_the_paper_and_asks_for_nothing_outside():
    for paper in (A3, A4):
        page = wall_sheet(view(), paper, issued=MOMENT).decode()
        assert f"@page {{ size: {paper.name} landscape; margin: 8mm; }}" in page
        assert not re.search(r"https?:(?!//www\.w3\.org/2000/svg)|@import|<script", page)


@pytest.mark.parametrize("hatching", [kind for kind in Hatching if kind is not Hatching.NONE])
def test_the_lines_of_a_hatching_are_within_their_box_and_fill_it(hatching):
    box = Box(10, 5, 20, 8)
    lines = list(hatching_of(box, hatching))
    assert len(lines) >= box.height // STEP_MM
    for x, y in (point for line in lines for point in line):
        assert box.x - 1e-9 <= x <= box.right + 1e-9
        assert box.y - 1e-9 <= y <= box.foot + 1e-9
    if hatching is Hatching.RISING:
        assert all(x1 <= x2 and y1 >= y2 for (x1, y1), (x2, y2) in lines)
    if hatching is Hatching.FALLING:
        assert all(x1 <= x2 and y1 <= y2 for (x1, y1), (x2, y2) in lines)


def test_names_are_cut_where_they_must_be_and_never_wider_than_their_room():
    assert cut_to("C12", 5) == "C12"
    assert cut_to("Heavy check 12", 5).endswith("…")
    assert width_of(cut_to("Heavy check 12", 5)) <= 5
    assert cut_to("wide", 0.2) == ""
    lines = lines_of(["Heavy check 12", "Q-A", "a customer of a very long name"], 6, 3)
    assert lines == ["Heavy", "check 12", "Q-A"]
    assert all(width_of(line) <= 6 for line in lines)
    assert lines_of(["C1", "Q-A"], 6, 1) == ["C1, Q-A"]
