"""Charts are functions of plan values: what stands in their rows and what they encode."""

from xml.etree import ElementTree

import pytest

from capacity.plans.outcome import Progress
from capacity.plans.plan import WeekLoad
from capacity.words.palette import MEANINGS, Hatching
from tests.ui.plans import day, view
from ui.charts.heat_map import heat_map
from ui.charts.progress import BEST, BOUND, progress_chart, progress_rows, progress_table
from ui.legend import Swatch, legend
from ui.look import DARK, LIGHT
from ui.manager.heat_rows import PAINTS, Band, band_of, heat_legend, heat_rows, heat_table, printed

SVG = "{http://www.w3.org/2000/svg}"


def layers(chart) -> list[dict]:
    return chart.to_dict()["layer"]


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


# Legends.


def test_every_swatch_stands_beside_its_word_and_is_as_large_as_a_word():
    swatches = heat_legend()
    drawn = ElementTree.fromstring(legend("Week", swatches, DARK))
    texts = [element.text for element in drawn.iter(f"{SVG}text")]
    assert texts[0] == "Week"
    assert {swatch.word for swatch in swatches} <= set(texts)
    for box in drawn.iter(f"{SVG}rect"):
        assert float(box.get("height")) >= 20


def test_a_legend_has_the_lines_of_each_meaning():
    for paint in MEANINGS:
        drawn = legend("One", [Swatch(paint.word, paint)], LIGHT)
        assert ("<pattern" in drawn) == (paint.hatching is not Hatching.NONE), paint.word


def test_names_of_kinds_of_work_cannot_become_code_of_a_legend():
    drawn = legend("<b>", [Swatch("</text><script>", colour="#000000")], LIGHT)
    ElementTree.fromstring(drawn)
    assert "<script" not in drawn


# Progress.


def word(seconds, money, bound=None, past=0) -> Progress:
    return Progress(seconds, past, money, bound, None, "rounds")


def test_progress_stands_in_a_table_too_the_last_word_on_top():
    history = [word(0.12, 900.0, past=3), word(2.0, 1200.0, 1000.0)]
    assert [list(row.values()) for row in progress_table(history, "EUR")] == [
        [2.0, 0, 1200.0, 1000.0],
        [0.1, 3, 900.0, None],
    ]


def test_weeks_and_skills_stand_in_a_table_too_with_what_is_printed_in_their_cells():
    of = view()
    rows = heat_table(of, {("mechanic", "2027-W01"): 0.35})
    told = {load.week: printed(load) for load in of.outcome.audit.weeks}
    assert rows[0] == {
        "Week": "2027-W01", "From": day(0), "mechanic": f"{told['2027-W01']} risk 35 %"
    }  # fmt: skip
    assert {row["Week"]: row["mechanic"] for row in rows[1:]} == {
        week: text for week, text in told.items() if week != "2027-W01"
    }


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
        heat_map(heat_rows(of), look),
        progress_chart([word(1, 2.0, 1.0)], "EUR", look),
    ):
        spec = chart.to_dict()  # validates against the schema of the chart language
        assert spec["usermeta"]["embedOptions"]["renderer"] == "svg"
        assert spec["config"]["background"] == "transparent"
        assert spec["config"]["axis"]["labelColor"] == look.ink
