"""The answer about enquiries, read back from its workbook and its text."""

import io
import zipfile
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

import openpyxl
import pytest
from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from capacity import Settings
from capacity.facts import Base, Check, Package, Skill, Stage, Status
from capacity.questions.enquiries.asked import ask
from capacity.questions.enquiries.combinations import best_combinations
from capacity.questions.enquiries.values import CombinationAnswer, EnquiryAnswer
from capacity.reports.enquiries.text import enquiries_in_words
from capacity.reports.enquiries.workbook import enquiries_workbook, write_enquiries_workbook
from tests.questions.asking_about import planned
from tests.reference import stories
from tests.reference.stories import bays, day, visit

SHEETS = [
    "Overview",
    "Slots",
    "Cost by week",
    "Cost charts",
    "Man-hours on top",
    "Moves",
    "Combinations",
]
FEW = Settings(seconds=5)
BASE = stories.base(bays(1), visit("B", 3, 0, 3, early_cost_per_day=10.0))


def option(name: str, days: int, first: int, last: int, price: float, **changes: object) -> Check:
    return visit(name, days, first, last, status=Status.OPTION, price=price, **changes)


@dataclass(frozen=True)
class Asked:
    """A base, the answers about enquiries to it, and its workbook opened again."""

    base: Base
    answers: tuple[EnquiryAnswer, ...]
    sets: CombinationAnswer
    content: bytes

    @property
    def book(self) -> Workbook:
        return openpyxl.load_workbook(io.BytesIO(self.content))

    @property
    def text(self) -> str:
        return enquiries_in_words(self.answers, self.sets, self.base)


def asked(base: Base, enquiries: list[Check]) -> Asked:
    plan = planned(base)
    assert plan is not None
    answers = ask(base, plan, enquiries, may_move=None, settings=FEW)
    sets = best_combinations(base, plan, enquiries, may_move=None, settings=FEW)
    return Asked(base, answers, sets, enquiries_workbook(answers, sets, base))


@pytest.fixture(scope="module")
def moving() -> Asked:
    """One bay: B stands on days 3 to 6 for nothing, and on days 0 to 3 for 30.

    M and N want its days; W comes in behind it, the later the cheaper; a broad one fits nowhere.
    """
    broad = replace(BASE.types[0], name="Broad", span_m=90.0)
    return asked(
        BASE.replace(types=(*BASE.types, broad)),
        [
            option("M", 3, 3, 3, price=50.0),
            option("N", 3, 3, 3, price=5.0),
            option("W", 2, 4, 12, price=100.0, early_cost_per_day=7.0),
            option("X", 2, 4, 12, price=100.0, type="Broad"),
        ],
    )


@pytest.fixture(scope="module")
def hours() -> Asked:
    """Two bays, 70 regular man-hours a week and 35 of overtime; a busy visit asks 100.

    The first week holds one already: O finds 5 hours of overtime there, and nobody for 95.
    L goes home on day 4 at the soonest, two days late at 100 each.
    """
    busy = Package("busy", (Stage("Work", "maintenance", 7, {"Mechanic": 100.0}),))
    base = stories.base(
        bays(2),
        visit("A", 7, 0, 0, package="busy"),
        skills=(Skill("Mechanic", 50.0, 0.5, 70.0, 0.0),),
    )
    late = {"agreed_out": day(2), "late_cost_per_day": 100.0}
    return asked(
        base.replace(packages=(*base.packages, busy)),
        [
            option("O", 7, 0, 0, price=0.0, package="busy"),
            option("L", 4, 0, 0, price=1000.0, **late),
        ],
    )


def table(sheet: Worksheet, top: int = 1) -> list[dict[str, object]]:
    """Return the rows below the headings in row ``top``, up to the first blank one."""
    headings, *rows = sheet.iter_rows(min_row=top, values_only=True)
    told = []
    for row in rows:
        if not any(cell is not None for cell in row):
            break
        told.append({str(h): cell for h, cell in zip(headings, row, strict=True) if h is not None})
    return told


def table_below(sheet: Worksheet, title: str) -> list[dict[str, object]]:
    """Return the rows of the table whose headings stand below a title."""
    (row,) = (row[0].row for row in sheet.iter_rows() if row[0].value == title)
    return table(sheet, row + 1)


def number(row: Mapping[str, object], heading: str) -> float:
    value = row[heading]
    assert isinstance(value, int | float), heading
    return float(value)


VERDICTS = "Each enquiry by itself: is it worth it at the price offered?"
PLAN = "Plan that takes it"
WAYS = "Its slot, and what it costs"
SPLIT = (
    "Overtime (EUR)",
    "Contract (EUR)",
    "Overload (EUR)",
    "Unused interval (EUR)",
    "Late out (EUR)",
    "Other checks: days, options not taken, savings of moves (EUR)",
)


def test_the_verdicts_follow_from_price_and_cost(moving: Asked, hours: Asked) -> None:
    rows = table_below(moving.book["Overview"], VERDICTS)
    assert {row["Enquiry"]: row["Verdict"] for row in rows} == {
        "M": "worth it if others move",
        "N": "not worth it at this price",
        "W": "worth it",
        "X": "no slot",
    }
    told = {row["Enquiry"]: row for row in rows}
    alone, moved, over = (
        "Break-even price, no other check moved (EUR)",
        "Break-even price, others moved (EUR)",
        "Price above break-even (EUR)",
    )
    assert (told["N"][alone], told["N"][moved]) == (None, pytest.approx(30.0))
    assert number(told["N"], over) == pytest.approx(-25.0)
    assert (told["W"][alone], told["W"][moved]) == (pytest.approx(0.0), None)
    assert number(told["W"], over) == pytest.approx(100.0)
    assert told["N"]["Is the break-even price proven?"] == "yes, whoever moves"
    assert told["M"]["Who would move"] == "B 3 days earlier"
    assert told["W"]["Who would move"] == "nobody"
    assert [told["X"][heading] for heading in (alone, moved, over)] == [None] * 3
    rows = table_below(hours.book["Overview"], VERDICTS)
    assert [row["Verdict"] for row in rows] == ["no price offered", "worth it"]
    assert rows[0][over] is None


def test_the_parts_of_the_cost_add_up_to_the_lowest_price(moving: Asked, hours: Asked) -> None:
    for one in (moving, hours):
        rows = table_below(one.book["Overview"], WAYS)
        least = {answer.enquiry.name: answer.lowest_break_even for answer in one.answers}
        for row in rows:
            total = number(row, "Cost: the break-even price (EUR)")
            assert sum(number(row, part) for part in SPLIT) == pytest.approx(total)
        sums = {
            name: min(
                number(row, "Cost: the break-even price (EUR)")
                for row in rows
                if row["Enquiry"] == name
            )
            for name in {row["Enquiry"] for row in rows}
        }
        assert sums == {n: pytest.approx(price) for n, price in least.items() if price is not None}


def test_the_way_with_others_moved_tells_what_they_cost(moving: Asked) -> None:
    rows = table_below(moving.book["Overview"], WAYS)
    (row,) = (row for row in rows if row["Enquiry"] == "M")
    assert (row["With"], row["Bay"], row["In"]) == ("others moved", "B1", _at(3))
    assert number(row, SPLIT[-1]) == pytest.approx(30.0)


def test_overloaded_weeks_and_late_days_are_told_and_marked(hours: Asked) -> None:
    sheet = hours.book["Overview"]
    (row, late) = table_below(sheet, WAYS)
    assert number(row, "Overtime (EUR)") == pytest.approx(5 * 50.0)
    assert number(row, "Overload (EUR)") == pytest.approx(95 * hours.base.overload_cost)
    assert row["Remarks"] == "▲ overload"
    assert (late["Days late out"], late["Remarks"]) == (2, "late out")
    cells = {str(cell.value): cell for line in sheet.iter_rows() for cell in line}
    assert "2027-W01 Mechanic +95 h" in cells
    marked = cells["47500"].fill.fgColor.rgb
    assert marked != cells["250"].fill.fgColor.rgb


def test_every_slot_has_a_row_with_real_dates_and_its_cost(moving: Asked) -> None:
    rows = table(moving.book["Slots"])
    slots = [slot for answer in moving.answers for slot in answer.slots]
    assert len(rows) == len(slots) > 3
    for row, slot in zip(rows, slots, strict=True):
        assert (row["Enquiry"], row["Bay"]) == (slot.check, ", ".join(slot.bays))
        assert isinstance(row["In"], datetime)
        assert row["In"].date() == slot.in_day
        assert number(row, "Cost: the break-even price (EUR)") == pytest.approx(slot.cost)
        parts = ("Overtime", "Contract", "Overload", "Unused interval", "Late out")
        assert sum(number(row, f"{part} (EUR)") for part in parts) == pytest.approx(slot.cost)
        assert number(row, "Price above break-even (EUR)") == pytest.approx(100.0 - slot.cost)
    assert [row["Rank by cost"] for row in rows] == list(range(1, len(rows) + 1))


def test_the_curve_has_every_week_and_says_where_there_is_no_place(moving: Asked) -> None:
    rows = [row for row in table(moving.book["Cost by week"]) if row["Enquiry"] in ("W", "X")]
    # Behind B from day 6 on; day 12 is the last one of its window, at 7 a day before that.
    cost = "Cost: the break-even price (EUR)"
    assert [(row["Enquiry"], row["Week in"], row[cost], row["Remarks"]) for row in rows] == [
        ("W", "2027-W01", pytest.approx(6 * 7.0), None),
        ("W", "2027-W02", pytest.approx(0.0), None),
        ("X", "2027-W01", None, "no slot unless others move"),
        ("X", "2027-W02", None, "no slot unless others move"),
    ]
    assert rows[1]["Week from (Monday)"] == _at(7)


def test_each_enquiry_has_a_chart_of_its_own_weeks(moving: Asked) -> None:
    with zipfile.ZipFile(io.BytesIO(moving.content)) as parts:
        charts = [n for n in parts.namelist() if n.startswith("xl/charts/chart")]
        third = parts.read("xl/charts/chart3.xml").decode()
    assert len(charts) == len(moving.answers)
    # M and N have a week each; those of W are the third and the fourth row below the headings.
    assert "'Cost by week'!$B$4:$B$5" in third
    assert "'Cost by week'!$G$4:$G$5" in third
    assert third.count("<c:ser>") == 6
    assert "cost of the cheapest slot (EUR)" in third
    assert "ISO week in" in third


def test_an_enquiry_without_a_price_has_no_line_for_it(hours: Asked) -> None:
    with zipfile.ZipFile(io.BytesIO(hours.content)) as parts:
        first = parts.read("xl/charts/chart1.xml").decode()
        second = parts.read("xl/charts/chart2.xml").decode()
    assert ("price offered" in first, "price offered" in second) == (False, True)


def test_hours_on_top_come_to_the_money_of_the_place(hours: Asked) -> None:
    rows = table(hours.book["Man-hours on top"])
    (row,) = (row for row in rows if row["Plan that takes it"] == "O, nobody moved")
    assert (row["Week"], row["Skill"], row["Remarks"]) == ("2027-W01", "Mechanic", "▲ overload")
    bought = 50.0 * number(row, "More overtime (h)") + hours.base.overload_cost * number(
        row, "More overload (h)"
    )
    assert bought == pytest.approx(hours.answers[0].break_even)


def test_who_moves_where_is_told(moving: Asked) -> None:
    rows = table(moving.book["Moves"])
    (row,) = (row for row in rows if row["Plan that takes it"] == "M, others moved")
    assert (row["Check that moves"], row["Aircraft"]) == ("B", "Aircraft B")
    assert (row["In before"], row["In then"]) == (_at(3), _at(0))
    assert (row["In later by (days)"], row["Remarks"]) == (-3, None)


def test_a_move_that_makes_another_late_or_gives_it_up_is_loud() -> None:
    # Whoever is taken in B's place: it is 3 days late at 10, and option P is given up for 20.
    base = stories.base(
        bays(1),
        visit("B", 3, 3, 6, agreed_out=day(6), late_cost_per_day=10.0, customer="Sable Freight"),
        option("P", 3, 6, 6, price=20.0),
    )
    one = asked(base, [option("O", 3, 3, 3, price=60.0)])
    rows = table(one.book["Moves"])
    told = {row["Check that moves"]: row for row in rows if "others moved" in str(row[PLAN])}
    assert (told["B"]["Remarks"], told["B"]["Customer"]) == ("3 days late out", "Sable Freight")
    assert (told["P"]["Remarks"], told["P"]["Bay then"]) == ("not taken", None)
    assert told["P"]["In later by (days)"] is None
    assert one.answers[0].lowest_break_even == pytest.approx(50.0)
    assert "days late out of others 30 EUR, options not taken 20 EUR" in one.text


def test_the_gain_of_a_set_is_prices_less_costs(moving: Asked) -> None:
    sheet = moving.book["Combinations"]
    rows = table_below(sheet, "Combinations by gain")
    assert len(rows) == 1 + len(moving.sets.runners_up)
    costs = (
        *SPLIT[:3],
        "Their unused interval and days late out (EUR)",
        "Other checks: days, options not taken (EUR)",
    )
    for row in rows:
        spent = sum(number(row, part) for part in costs)
        assert number(row, "Gain (EUR)") == pytest.approx(number(row, "Prices (EUR)") - spent)
    # M pays 50 for moves of 30, and W 100 for a place that costs nothing.
    assert (rows[0]["Enquiries"], rows[0]["Gain (EUR)"]) == ("M, W", pytest.approx(120.0))
    assert rows[0]["Proven"] == "proven: no combination gains more"
    assert rows[0]["Who would move"] == "B 3 days earlier"
    gains = [number(row, "Gain (EUR)") for row in rows]
    assert gains == sorted(gains, reverse=True)


def test_each_enquiry_by_itself_stands_below_the_sets(moving: Asked) -> None:
    rows = table_below(moving.book["Combinations"], "Each enquiry by itself, with nobody moved")
    told = {row["Enquiry"]: row for row in rows}
    gain = "Gain by itself (EUR)"
    assert (told["M"][gain], told["M"]["In the best combination"]) == ("no slot", "yes")
    assert (told["W"][gain], told["W"]["In the best combination"]) == (pytest.approx(100.0), "yes")
    assert told["X"]["In combinations"] == "none"
    places = table_below(moving.book["Combinations"], "Slots of the enquiries in each combination")
    assert [(row["Enquiry"], row["In"]) for row in places if row["Rank"] == 1] == [
        ("M", _at(3)),
        ("W", _at(12)),
    ]


def test_the_sheets_print_and_hold_no_formula(moving: Asked) -> None:
    book = moving.book
    assert book.sheetnames == SHEETS
    kinds = {cell.data_type for sheet in book for row in sheet.iter_rows() for cell in row}
    assert kinds <= {"s", "n", "d"}
    assert all(sheet.sheet_properties.pageSetUpPr.fitToPage for sheet in book)
    assert book["Slots"].auto_filter.ref
    said = [cell.value for row in book["Overview"].iter_rows() for cell in row]
    assert any("licensed staff" in str(text) for text in said)


def test_names_that_look_like_formulas_stay_texts() -> None:
    evil = '=HYPERLINK("http://x")'
    base = stories.base(bays(1), visit("+1", 3, 0, 3, early_cost_per_day=10.0)).replace(
        name="@base", currency="=1"
    )
    enquiries = [option(evil, 3, 3, 3, price=5.0), option("-1", 2, 6, 6, price=5.0)]
    book = asked(base, enquiries).book
    cells = [cell for sheet in book for row in sheet.iter_rows() for cell in row]
    assert {cell.data_type for cell in cells} <= {"s", "n", "d"}
    texts = {cell.value for cell in cells if isinstance(cell.value, str)}
    assert {f"'{evil}", "'-1", "'+1"} <= texts
    assert not [text for text in texts if text[:1] in ("=", "+", "@", "-")]


def test_without_enquiries_there_is_a_workbook_all_the_same(tmp_path: Path) -> None:
    plan = planned(BASE)
    assert plan is not None
    sets = best_combinations(BASE, plan, [])
    path = tmp_path / "none.xlsx"
    write_enquiries_workbook((), sets, BASE, path)
    book = openpyxl.load_workbook(path)
    assert book.sheetnames == SHEETS
    best = table_below(book["Combinations"], "Combinations by gain")[0]
    assert best["Enquiries"] == "none of the enquiries"
    assert "Best combination: none of the enquiries" in enquiries_in_words((), sets, BASE)


def test_the_text_tells_place_cost_moves_and_the_best_set(moving: Asked, hours: Asked) -> None:
    text = moving.text
    assert "M (Twin, 3 days): worth it if others move" in text
    assert (
        "50 EUR is offered; the break-even price is 30 EUR when B moves: 20 EUR more than that."
        in text
    )
    assert "others moved: B1, in Thu 7 Jan 2027, out Sun 10 Jan 2027" in text
    assert "cost 30 EUR: unused interval of others 30 EUR" in text
    assert "moves: B 3 days earlier" in text
    assert "this is proven" in text
    assert "Best combination: M, W: gains 120 EUR; proven: no combination gains more." in text
    assert text.endswith("Have the plan checked before you promise a slot.")
    assert "overload: 2027-W01 Mechanic +95 h" in hours.text
    assert "It is 2 days late out." in hours.text


def test_one_enquiry_alone_is_told_week_by_week(moving: Asked) -> None:
    text = enquiries_in_words(moving.answers[2:3], moving.sets, moving.base)
    assert "2027-W01 from Mon 4 Jan 2027  42 EUR (B1, in Sun 10 Jan 2027" in text
    (other,) = moving.answers[3:]
    assert "2027-W02 from Mon 11 Jan 2027 no slot" in enquiries_in_words(
        [other], moving.sets, moving.base
    )


def test_a_long_list_is_cut_in_the_text(moving: Asked) -> None:
    many = [moving.answers[2]] * 15
    assert "and 3 more enquiries" in enquiries_in_words(many, moving.sets, moving.base)


def _at(number_: int) -> datetime:
    return datetime.combine(day(number_), datetime.min.time())
