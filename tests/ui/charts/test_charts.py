"""Charts are functions of plan values: what stands in their rows and what they encode."""

import json
from dataclasses import replace
from itertools import pairwise
from xml.etree import ElementTree

import pytest

from capacity.facts import Base, Status
from capacity.plans.outcome import Progress
from capacity.plans.plan import WeekLoad
from capacity.words.palette import MEANINGS, Hatching
from tests.ui.plans import base, day, stay, view
from ui.charts.heat_map import heat_map
from ui.charts.man_hours import man_hours_chart, man_hours_legend
from ui.charts.occupancy import occupancy_chart, occupancy_legend
from ui.charts.progress import BEST, BOUND, progress_chart, progress_rows
from ui.days import at
from ui.legend import Swatch, legend
from ui.look import DARK, LIGHT
from ui.manager.heat_rows import PAINTS, Band, band_of, heat_legend, heat_rows, printed
from ui.planner.bay_rows import occupancy_of
from ui.planner.behind import late_table
from ui.planner.week_rows import SHARES, skills_worst_first, week_rows

SVG = "{http://www.w3.org/2000/svg}"


def layers(chart) -> list[dict]:
    return chart.to_dict()["layer"]


def rows_with(chart, field: str) -> list[dict]:
    """Return all rows of a chart that have a field."""
    return [row for layer in layers(chart) for row in layer["data"]["values"] if field in row]


# Bays.


def test_every_placement_is_a_block_from_its_in_day_to_its_out_day():
    shown = occupancy_of(view())
    found = {
        block["check"]: (block["bay"], block["from"], block["until"]) for block in shown.blocks
    }
    assert found == {"C1": ("B1", at(day(0)), at(day(5))), "C2": ("B2", at(day(0)), at(day(5)))}


def test_blocks_stand_in_the_row_of_their_bay_and_no_lane_runs_into_the_next():
    shown = occupancy_of(view())
    assert shown.bays == ("B1", "B2")
    rows = [*shown.blocks, *shown.stages, *shown.closures]
    assert {int(row["y0"]) for row in rows if row.get("bay", "B2") == "B2"} >= {1}
    assert all(int(row["y0"]) == int(row["y1"]) for row in rows)
    assert all(row["y"] % 1 > 0.58 for row in shown.due)


def test_stages_tile_the_stay_and_tell_when_nobody_else_may_work():
    of_c1 = [row for row in occupancy_of(view()).stages if row["check"] == "C1"]
    assert [row["stage"] for row in of_c1] == ["open", "repair"]
    assert all(one["until"] == other["from"] for one, other in pairwise(of_c1))
    assert [row["alone"] for row in of_c1] == ["no", "yes"]
    assert of_c1[-1]["last"] == at(day(4))


def test_a_fixed_check_is_marked_by_a_square_and_not_by_colour_alone():
    fixed, booked = occupancy_of(view()).blocks
    assert (fixed["is_fixed"], booked["is_fixed"]) == (True, False)
    assert fixed["label"].startswith("■ ")
    assert not booked["label"].startswith("■")


def test_the_agreed_day_is_met_or_missed_in_words_that_name_the_check():
    met, missed = occupancy_of(view()).due
    assert (met["check"], met["verdict"], met["label"]) == ("C1", "out as agreed", "C1 agreed")
    assert (missed["verdict"], missed["label"]) == ("late out", "C2 late 1 d")
    assert missed["agreed"] == missed["mark"] == at(day(4))
    # A triangle means overload and nothing else.
    told = json.dumps(occupancy_chart(occupancy_of(view()), LIGHT).to_dict())
    assert "triangle" not in told
    assert "diamond" not in told


def test_what_was_agreed_of_neighbours_in_a_bay_is_told_on_different_lines():
    first, second = stay("C1", "B1", 0), stay("C2", "B1", 5)
    one, other = occupancy_of(view(None, first, second)).due
    assert {one["check"], other["check"]} == {"C1", "C2"}
    assert abs(one["y"] - other["y"]) > 0.15
    assert one["y1"] < other["y0"]


def test_a_late_check_has_a_thick_right_edge():
    blocks = {block["check"]: block["is_late"] for block in occupancy_of(view()).blocks}
    assert blocks == {"C1": False, "C2": True}


def test_days_past_latest_in_stand_on_the_board_in_words():
    late = view(None, stay("C1", "B1", 0), stay("C2", "B2", 10))
    labels = {block["check"]: block["label"] for block in occupancy_of(late).blocks}
    assert labels == {"C1": "■ C1 Q-A", "C2": "C2, 3 d past Latest in"}
    (row,) = late_table(late)
    assert row["Remark"] == "3 days past Latest in, 11 days late out"


def with_unplaced(*names: str, facts: Base | None = None):
    """Return a view of a plan in which some checks have no slot."""
    facts = facts or base()
    shown = [stay(check.name, "B1", 0) for check in facts.checks if check.name not in names]
    of = view(facts, *shown)
    plan = replace(of.outcome.plan, not_placed=names)
    return replace(of, outcome=replace(of.outcome, plan=plan))


def test_a_check_without_a_slot_stands_in_a_row_above_the_bays():
    of = with_unplaced("C2")
    shown = occupancy_of(of)
    assert shown.bays == ("no slot", "B1", "B2")
    (waiting,) = shown.waiting
    assert (waiting["check"], waiting["label"]) == ("C2", "C2 Q-B: no slot")
    # On the days on which it could come in, the last included.
    assert (waiting["from"], waiting["until"]) == (at(day(0)), at(day(8)))
    assert int(waiting["y0"]) == 0
    assert [int(block["y0"]) for block in shown.blocks] == [1]
    assert "C2 Q-B: no slot" in json.dumps(occupancy_chart(shown, LIGHT).to_dict())
    assert [(row["Check"], row["Remark"]) for row in late_table(of)] == [("C2", "no slot")]


def test_checks_without_a_slot_never_lie_on_one_another():
    shown = occupancy_of(with_unplaced("C1", "C2"))
    assert shown.bays == ("no slot", "no slot", "B1", "B2")
    assert sorted(int(row["y0"]) for row in shown.waiting) == [0, 1]


def tied(**changes):
    """Return a plan with C1 in B1 on days 0 to 5, and B2 tied to B1."""
    facts = base()
    bays = (facts.bays[0], replace(facts.bays[1], **changes))
    return view(facts.replace(bays=bays, closures=()), stay("C1", "B1", 0))


def test_a_bay_whose_floor_is_taken_does_not_look_free():
    (blocked,) = occupancy_of(tied(shares_floor_with=frozenset({"B1"}))).blocked
    assert (blocked["bay"], blocked["label"]) == ("B2", "floor taken by C1")
    assert (blocked["from"], blocked["until"]) == (at(day(0)), at(day(5)))
    assert blocked["by"] == "C1 in B1"


def test_a_bay_behind_an_occupied_one_cannot_be_entered_between_its_in_and_out_day():
    # On the day on which the outer aircraft comes or leaves one waits for the other.
    shown = occupancy_of(tied(reached_through="B1"))
    (blocked,) = shown.blocked
    assert (blocked["bay"], blocked["label"]) == ("B2", "way blocked by C1")
    assert (blocked["from"], blocked["until"]) == (at(day(1)), at(day(5)))
    assert shown.blocked_lines
    kinds = [
        layer["encoding"]["strokeDash"]["scale"]["domain"]
        for layer in layers(occupancy_chart(shown, LIGHT))
        if "scale" in layer["encoding"].get("strokeDash", {})
    ]
    assert kinds == [["floor taken", "way blocked"]]


def test_what_an_aircraft_stands_in_itself_is_not_called_blocked():
    facts = base()
    bays = (facts.bays[0], replace(facts.bays[1], reached_through="B1"))
    both = view(facts.replace(bays=bays), stay("C1", "B1", 0), stay("C2", "B2", 2))
    (blocked,) = occupancy_of(both).blocked
    assert (blocked["from"], blocked["until"]) == (at(day(1)), at(day(2)))
    assert occupancy_of(view()).blocked == ()


def test_a_label_is_as_long_as_its_bar_is_wide_and_no_longer():
    # Measured in the browser, on whatever page, so the whole text is in the rows.
    (label, _) = occupancy_of(view()).blocks
    assert label["label"] == "■ C1 Q-A"
    chart = occupancy_chart(occupancy_of(view()), LIGHT)
    limits = [
        layer["mark"]["limit"]["expr"]
        for layer in layers(chart)
        if layer["mark"]["type"] == "text" and "limit" in layer["mark"]
    ]
    assert len(limits) == 4  # those of blocks and of closures, each with a rim
    assert all("scale('x', toDate(datum.until))" in limit for limit in limits)


def test_a_day_agreed_before_the_aircraft_comes_in_is_marked_under_its_own_block():
    (_, missed) = occupancy_of(view(None, stay("C1", "B1", 0), stay("C2", "B2", 7))).due
    assert (missed["agreed"], missed["mark"]) == (at(day(4)), at(day(7)))
    assert missed["label"] == "C2 late 8 d"


def test_a_closure_is_drawn_with_its_last_day_and_with_slanted_lines():
    shown = occupancy_of(view())
    (closed,) = shown.closures
    assert (closed["from"], closed["until"]) == (at(day(9)), at(day(11)))
    assert (closed["first"], closed["last"]) == (at(day(9)), at(day(10)))
    assert closed["reason"] == "door"
    assert shown.closure_lines
    assert all(at(day(9)) <= line["from"] < line["until"] <= at(day(11))
               for line in shown.closure_lines)  # fmt: skip


def test_where_the_plan_begins_is_drawn_when_an_aircraft_is_in_from_before():
    early = base()
    assert occupancy_of(view(early)).begins is None
    since = occupancy_of(view(early, stay("C1", "B1", -3)))
    assert (since.first, since.begins) == (day(-3), day(0))


def test_names_of_bays_cannot_become_code_of_the_chart():
    evil = "']; alert(1); ['"
    facts = base()
    bays = (facts.bays[0], replace(facts.bays[1], name=evil))
    shown = occupancy_of(view(facts.replace(bays=bays, closures=()), stay("C1", "B1", 0)))
    axes = [layer["encoding"].get("y", {}).get("axis") or {}
            for layer in layers(occupancy_chart(shown, LIGHT))]  # fmt: skip
    expressions = {axis["labelExpr"] for axis in axes if "labelExpr" in axis}
    (literal,) = {expression.removesuffix("[floor(datum.value)]") for expression in expressions}
    assert json.loads(literal) == ["B1", evil]


def test_a_click_is_told_by_the_check():
    (pick,) = occupancy_chart(occupancy_of(view()), LIGHT).to_dict()["params"]
    assert (pick["name"], pick["select"]["fields"]) == ("pick", ["check"])


def test_a_plan_without_placements_is_drawn_too():
    facts = base()
    empty = occupancy_of(view(facts.replace(checks=())))
    assert empty.blocks == ()
    assert layers(occupancy_chart(empty, DARK))


# Man-hours.


def test_the_blocks_of_a_week_add_up_to_its_demand():
    rows = week_rows(view(), "mechanic")
    first = [row for row in rows.parts if row["week"] == "2027-W01"]
    assert [row["share"] for row in first] == list(SHARES)
    assert first[0]["y0"] == 0
    assert all(one["y1"] == other["y0"] for one, other in pairwise(first))
    # By hand: two checks of 380 h; ten people give 10 x 8 h x 5 days x 75 % = 300 h, overtime
    # 20 % of it = 60 h, contract 25 % = 75 h; 760 - 435 = 325 h have nobody.
    assert [row["hours"] for row in first] == [300, 60, 75, 325]
    assert first[-1]["y1"] == first[0]["demand"] == 760


def test_the_lines_are_the_hours_available():
    first = [row for row in week_rows(view(), "mechanic").limits if row["week"] == "2027-W01"]
    assert [row["y"] for row in first] == [300, 360, 435]


def test_an_overloaded_week_is_marked_by_shape_and_by_words_too():
    rows = week_rows(view(), "mechanic")
    (mark,) = rows.over
    assert (mark["week"], mark["label"]) == ("2027-W01", "overload 325 h")
    assert mark["from"] < mark["middle"] < mark["until"]
    chart = man_hours_chart(rows, LIGHT)
    assert any(layer["mark"].get("shape") == "triangle-up" for layer in layers(chart))
    assert {row["label"] for row in rows_with(chart, "label")} == {"overload 325 h"}


@pytest.mark.parametrize("weeks", [1, 52])
def test_the_words_above_overloaded_weeks_have_room_of_their_own(weeks):
    rows = week_rows(view(), "mechanic")
    mondays = tuple(day(7 * week) for week in range(weeks))
    chart = man_hours_chart(replace(rows, mondays=mondays), LIGHT)
    (word,) = (x for x in layers(chart) if x["mark"]["type"] == "text")
    least, most = word["encoding"]["y"]["scale"]["domain"]
    assert least == 0
    legend_and_axis = 160
    # Pixels above the highest block: the triangle and its text, 12 high or, upright, some 55 long.
    above = (chart.height - legend_and_axis) * (1 - 760 / most)
    assert above > (32 if weeks == 1 else 75)
    assert word["mark"].get("angle", 0) == (0 if weeks == 1 else 270)


def test_lines_are_told_apart_by_dashes():
    lines = [x for x in layers(man_hours_chart(week_rows(view(), "mechanic"), LIGHT))
             if "strokeDash" in x["encoding"]]  # fmt: skip
    (dashes,) = (line["encoding"]["strokeDash"]["scale"]["range"] for line in lines)
    assert len({tuple(dash) for dash in dashes}) == 3


def test_the_most_overloaded_skill_comes_first():
    assert skills_worst_first(view()) == ["mechanic"]


# Heat map.


def load(demand: float, overtime: float = 0, contract: float = 0, overload: float = 0) -> WeekLoad:
    return WeekLoad("2027-W01", "mechanic", demand, 300, overtime, contract, overload, 60, 75)


@pytest.mark.parametrize(
    ("week", "band", "text"),
    [
        (load(0), Band.ROOM, "0 %"),
        (load(269), Band.ROOM, "90 %"),
        (load(270), Band.FULL, "90 %"),
        (load(299.9), Band.FULL, "99 %"),
        (load(300), Band.FULL, "100 %"),
        (load(301, overtime=1), Band.OVERTIME, "+1.0 h"),
        (load(400, overtime=60, contract=40), Band.CONTRACT, "C +100 h"),
        (load(760, 60, 75, 325), Band.OVERLOAD, "▲ 325 h"),
    ],
)
def test_each_band_is_named_and_says_its_number(week, band, text):
    assert (band_of(week), printed(week)) == (band, text)


def test_the_heat_map_has_a_cell_for_every_week_and_skill_with_its_number():
    of = view()
    rows = heat_rows(of)
    assert len(rows.cells) == len(of.outcome.audit.weeks) == len(rows.weeks) * len(rows.skills)
    chart = heat_map(rows, LIGHT)
    assert [layer["mark"]["type"] for layer in layers(chart)] == ["rect", "text"]
    scale = layers(chart)[0]["encoding"]["fill"]["scale"]
    assert scale["range"] == [LIGHT.ground(PAINTS[band]) for band in Band]
    assert scale["domain"] == [band.value for band in Band]


def test_overtime_has_rising_lines_and_contract_labour_level_ones_within_their_blocks():
    rows = week_rows(view(), "mechanic")
    of = {part["share"]: part for part in rows.parts if part["week"] == "2027-W01"}
    overtime, contract = of["overtime"], of["contract"]
    lines = [line for line in rows.lines if line["from"] >= overtime["from"]]
    rising = [line for line in lines if line["y0"] < line["y1"]]
    level = [line for line in lines if line["y0"] == line["y1"]]
    assert {(line["y0"], line["y1"]) for line in rising} == {(overtime["y0"], overtime["y1"])}
    assert all(contract["y0"] < line["y0"] < contract["y1"] for line in level)
    assert len(rising) > 3
    assert len(level) > 3


# Legends.


def test_every_swatch_stands_beside_its_word_and_is_as_large_as_a_word():
    of = occupancy_of(view())
    legends = [*occupancy_legend(of, LIGHT), ("Demand", man_hours_legend()), ("W", heat_legend())]
    for title, swatches in legends:
        drawn = ElementTree.fromstring(legend(title, swatches, DARK))
        texts = [element.text for element in drawn.iter(f"{SVG}text")]
        assert texts[0] == title
        assert {swatch.word for swatch in swatches} <= set(texts)
        for box in drawn.iter(f"{SVG}rect"):
            assert float(box.get("height")) >= 20
    said = [swatch.word for swatch in dict(legends)["Checks"]]
    assert said[:3] == ["own fleet", "third party, with its name", "option"]


def test_a_check_of_a_third_party_has_its_name_beside_its_colour():
    facts = base()
    of_others = [replace(check, third_party=True, customer="") for check in facts.checks]
    named = replace(of_others[0], customer="Kalmora Air")
    shown = occupancy_of(view(facts.replace(checks=(named, of_others[1]))))
    assert [block["label"] for block in shown.blocks] == [
        "■ C1 Q-A, Kalmora Air",
        "C2 Q-B, third party",
    ]


def test_a_legend_has_the_lines_of_each_meaning():
    for paint in MEANINGS:
        drawn = legend("One", [Swatch(paint.word, paint)], LIGHT)
        assert ("<pattern" in drawn) == (paint.hatching is not Hatching.NONE), paint.word


def test_names_of_kinds_of_work_cannot_become_code_of_a_legend():
    drawn = legend("<b>", [Swatch("</text><script>", colour="#000000")], LIGHT)
    ElementTree.fromstring(drawn)
    assert "<script" not in drawn


def test_an_option_is_drawn_by_its_lines_and_a_broken_edge():
    facts = base()
    option = replace(facts.checks[1], status=Status.OPTION, price=100.0)
    shown = occupancy_of(view(facts.replace(checks=(facts.checks[0], option))))
    assert [block["whose"] for block in shown.blocks] == ["own fleet", "option"]
    ((until, _),) = [(b["until"], b) for b in shown.blocks if b["whose"] == "option"]
    assert shown.option_lines
    assert all(line["until"] <= until for line in shown.option_lines)
    assert not occupancy_of(view()).option_lines


def test_a_check_without_a_slot_has_its_words_beside_a_frame_too_short_for_them():
    facts = base()
    short = replace(facts.checks[1], latest_in=facts.checks[1].earliest_in)
    of = with_unplaced("C2", facts=facts.replace(checks=(facts.checks[0], short)))
    (waiting,) = occupancy_of(of).waiting
    assert waiting["words_at"] == waiting["until"]


# Progress.


def word(seconds, money, bound=None, past=0) -> Progress:
    return Progress(seconds, past, money, bound, None, "rounds")


def test_progress_is_two_lines_and_plans_that_are_later_are_left_out():
    history = [word(0.1, 900.0, past=3), word(0.5, 1500.0), word(2.0, 1200.0, 1000.0)]
    rows = progress_rows(history)
    assert [(r["line"], r["money"]) for r in rows] == [
        (BEST, 1500.0), (BEST, 1200.0), (BOUND, 1000.0)
    ]  # fmt: skip
    assert progress_rows([]) == []
    dashes = layers(progress_chart(history, "EUR", LIGHT))[0]["encoding"]["strokeDash"]
    assert dashes["scale"]["range"] == [[1, 0], [6, 4]]


@pytest.mark.parametrize("look", [LIGHT, DARK], ids=lambda look: look.name)
def test_all_charts_are_valid_and_drawn_as_shapes_without_a_ground_of_their_own(look):
    of = view()
    for chart in (
        occupancy_chart(occupancy_of(of), look),
        man_hours_chart(week_rows(of, "mechanic"), look),
        heat_map(heat_rows(of), look),
        progress_chart([word(1, 2.0, 1.0)], "EUR", look),
    ):
        spec = chart.to_dict()  # validates against the schema of the chart language
        assert spec["usermeta"]["embedOptions"]["renderer"] == "svg"
        assert spec["config"]["background"] == "transparent"
        assert spec["config"]["axis"]["labelColor"] == look.ink
