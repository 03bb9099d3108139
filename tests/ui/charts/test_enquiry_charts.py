"""The charts of the page Commercial as functions of an answer, all kinds of places in it."""

from dataclasses import replace
from datetime import date, timedelta
from itertools import combinations

import pytest

from capacity.facts import Check, Status
from capacity.plans.plan import Placement, Plan
from capacity.questions.asking.differences import Costs, HoursMore, Move
from capacity.questions.enquiries.values import EnquiryAnswer, Slot, WeekPrice, WithMoves
from capacity.reports.enquiries.ways import ways_of
from tests.colour_vision import LEAST_DISTANCE, SIGHT, distance, seen
from tests.ui.enquiry_plans import opened_tiny
from ui.charts import break_even_prices as prices
from ui.charts import cost_curve as curve
from ui.charts.break_even_prices import price_rows, prices_chart
from ui.charts.cost_curve import cost_curve, curve_rows
from ui.commercial.enquiry_rows import (
    break_even,
    costs_table,
    hours_table,
    overview_table,
    slots_table,
)
from ui.commercial.words import NO_SLOT
from ui.look import DARK, LIGHT

FIRST = date(2027, 1, 4)
NOTHING = Costs(overtime=0.0, contract=0.0, overload=0.0, early=0.0, late=0.0)


@pytest.fixture(scope="module")
def base():
    return opened_tiny().book.base


def stay(name: str, in_day: date) -> tuple[Placement, ...]:
    return (Placement(name, "Small bay", "Wash", in_day, in_day + timedelta(days=2), ()),)


def slot(in_day: date, **costs: float) -> Slot:
    return Slot(
        check="New",
        bays=("Small bay",),
        in_day=in_day,
        out_day=in_day + timedelta(days=2),
        pace="normal",
        early_days=0,
        late_days=0,
        costs=replace(NOTHING, **costs),
        placements=stay("New", in_day),
    )


@pytest.fixture
def answer():
    """Five weeks: 400.2, overload 900, none, 600, and 250 when another check moves."""
    slots = (
        slot(FIRST, overtime=400.2),
        slot(date(2027, 1, 25), contract=600.0),
        slot(date(2027, 1, 11), overtime=100.0, overload=800.0),
    )
    weeks = ("2027-W01", "2027-W02", "2027-W03", "2027-W04", "2027-W05")
    of_week = {"2027-W01": slots[0], "2027-W02": slots[2], "2027-W04": slots[1]}
    moved = WithMoves(
        check="New",
        plan=Plan(stay("New", date(2027, 2, 1))),
        costs=replace(NOTHING, late_of_others=250.0),
        break_even=250.0,
        least_break_even=None,
        proven=False,
        better_without=0.0,
        hours_more=(),
        moves=(Move("T2", stay("T2", FIRST), stay("T2", date(2027, 1, 8))),),
    )
    enquiry = Check(
        name="New",
        aircraft="Q-NEWA",
        type="Alder 50",
        package="Wash and inspect",
        status=Status.OPTION,
        earliest_in=FIRST,
        latest_in=date(2027, 2, 7),
        price=500.0,
    )
    return EnquiryAnswer(
        enquiry=enquiry,
        slots=slots,
        curve=tuple(WeekPrice(week, of_week.get(week)) for week in weeks),
        hours_more=(),
        with_moves=moved,
    )


def values(chart) -> list[dict]:
    """Return the rows of all layers."""
    layers = chart.to_dict()["layer"]
    datasets = chart.to_dict().get("datasets", {})
    rows = []
    for layer in layers:
        data = layer["data"]
        rows += data["values"] if "values" in data else datasets[data["name"]]
    return rows


def test_the_curve_has_every_week_once_and_the_way_with_moves(answer, base):
    rows = curve_rows(answer, base)
    assert [row["week"] for row in rows] == [*(f"2027-W0{n}" for n in range(1, 6)), "2027-W05"]
    assert [row["kind"] for row in rows] == [
        curve.SLOT,
        curve.SLOT_OVERLOADS,
        NO_SLOT,
        curve.SLOT,
        NO_SLOT,
        curve.MOVED,
    ]
    assert [row["cost"] for row in rows] == [400.2, 900.0, None, 600.0, None, 250.0]
    assert rows[0]["monday"] == "4 Jan 2027"
    assert rows[0]["dates"] == "Mon 4 Jan 2027 to Sun 10 Jan 2027"
    assert rows[0]["told"] == "401 EUR"  # rounded up: a price of 400 EUR would not pay


def test_the_line_of_the_curve_does_not_cross_weeks_without_a_place(answer, base):
    by_week = {row["week"]: row["run"] for row in curve_rows(answer, base) if row["run"] >= 0}
    assert by_week["2027-W01"] == by_week["2027-W02"]
    assert by_week["2027-W02"] != by_week["2027-W04"]


@pytest.mark.parametrize("look", [LIGHT, DARK], ids=lambda look: look.name)
def test_the_curve_says_everything_in_shape_and_words_too(answer, base, look):
    spec = cost_curve(answer, base, look).to_dict()
    shapes = [
        layer["encoding"]["shape"]["scale"]
        for layer in spec["layer"]
        if "shape" in layer["encoding"]
    ]
    assert shapes
    for scale in shapes:
        assert scale["domain"] == list(curve.KINDS)
        assert len(set(scale["range"])) == len(curve.KINDS)
    labels = {row["label"] for row in values(cost_curve(answer, base, look)) if "label" in row}
    assert labels == {"250 EUR", "price offered: 500 EUR"}
    axes = [layer["encoding"].get("y", {}).get("axis", {}) for layer in spec["layer"]]
    assert "break-even price (EUR)" in [axis.get("title") for axis in axes]
    assert spec["usermeta"] == {"embedOptions": {"renderer": "svg"}}


@pytest.mark.parametrize("look", [LIGHT, DARK], ids=lambda look: look.name)
@pytest.mark.parametrize("sight", SIGHT)
def test_what_stands_together_is_told_apart_by_shape_and_by_other_colours(look, sight):
    """By the simulation of ``tests/colour_vision.py``, which names its source."""
    for chart in (curve, prices):
        marks = zip(chart.colours_of(look), chart.SHAPES, strict=True)
        for (one, shape), (other, another) in combinations(marks, 2):
            assert shape != another
            apart = distance(seen(one, sight), seen(other, sight))
            assert one == other or apart >= LEAST_DISTANCE


def test_without_a_price_no_price_is_drawn(answer, base):
    free = replace(answer, enquiry=replace(answer.enquiry, price=0.0))
    labels = [row["label"] for row in values(cost_curve(free, base, LIGHT)) if "label" in row]
    assert not any("price offered" in label for label in labels)


def test_an_answer_without_any_place_is_still_drawn(answer, base):
    weeks = tuple(WeekPrice(price.week, None) for price in answer.curve)
    none = replace(answer, slots=(), curve=weeks, with_moves=None)
    rows = [row for row in values(cost_curve(none, base, LIGHT)) if "kind" in row]
    assert {row["kind"] for row in rows} == {NO_SLOT}
    marks = values(prices_chart([none], base, LIGHT))
    assert {(row["line"], row["mark"]) for row in marks} == {("New: no slot known", prices.PRICE)}


def test_prices_are_set_against_those_from_which_enquiries_pay(answer, base):
    marks = {row["mark"]: row["amount"] for row in price_rows([answer])}
    assert marks == {prices.PRICE: 500.0, prices.BREAK_EVEN: 400.2, prices.BREAK_EVEN_MOVED: 250.0}
    assert len(set(prices.SHAPES)) == len(prices.MARKS)


def test_enquiries_stand_in_the_order_in_which_they_were_asked_with_their_verdicts(answer, base):
    other = replace(answer, enquiry=replace(answer.enquiry, name="Another", price=100.0))
    spec = prices_chart([answer, other], base, LIGHT).to_dict()
    for layer in spec["layer"]:
        lines = layer["encoding"]["y"]["scale"]["domain"]
        assert lines == ["New: worth it", "Another: not worth it at this price"]


def test_the_tables_say_the_same_as_the_chart(answer, base):
    (line,) = overview_table([answer], base)
    assert line["Verdict"] == "worth it"
    assert line["Break-even price (EUR)"] == 401
    assert [row["Break-even price (EUR)"] for row in slots_table(answer, base)] == [401, 600, 900]


def test_the_costs_are_split_by_what_they_are_for(answer, base):
    rows = costs_table(ways_of(answer), base)
    assert rows == [
        {"Kind of cost": "Overtime", "nobody moved (EUR)": 400, "others moved (EUR)": 0},
        {
            "Kind of cost": "Days late out, other checks",
            "nobody moved (EUR)": 0,
            "others moved (EUR)": 250,
        },
        {
            "Kind of cost": "Cost in all: the break-even price",
            "nobody moved (EUR)": 401,
            "others moved (EUR)": 250,
        },
    ]


def test_hours_that_nobody_is_there_to_do_are_marked_by_a_word():
    over = HoursMore("2027-W01", "Mechanic", overtime=10.0, contract=0.0, overload=2.0)
    less = HoursMore("2027-W02", "Mechanic", overtime=-4.0, contract=0.0, overload=0.0)
    tiny = HoursMore("2027-W03", "Mechanic", overtime=0.01, contract=0.0, overload=0.0)
    rows = hours_table([over, less, tiny])
    assert [row["Week"] for row in rows] == ["2027-W01", "2027-W02"]
    assert rows[0]["Overload"] == "▲ overload"
    assert rows[1]["Overload"] == ""
    assert rows[1]["More overtime (man-hours)"] == -4.0


def test_a_break_even_price_is_never_told_too_low():
    assert [break_even(amount) for amount in (-3.0, 0.0, 0.004, 0.2, 12.0, 12.4)] == [
        0,
        0,
        0,
        1,
        12,
        13,
    ]
