"""The overtime workbook and the lines for a terminal hold the answer, and warn."""

import io
from dataclasses import replace
from pathlib import Path

import pytest
from openpyxl import load_workbook
from openpyxl.worksheet.worksheet import Worksheet

from capacity.errors import OutputError
from capacity.facts import Base, Crew, Pattern
from capacity.questions.overtime.measures import Measures, try_measures
from capacity.questions.overtime.review import OvertimeReview, review_overtime
from capacity.reports.overtime.text import overtime_in_words
from capacity.reports.overtime.wording import LONG_HOURS, PRICES_MISSING
from capacity.reports.overtime.workbook import overtime_workbook, write_overtime_workbook
from capacity.reports.plan.wording import CAUTION
from capacity.settings import Settings
from capacity.working_time.rule_sets import RULE_SETS
from capacity.working_time.wording import CAUTION as WORKING_TIME_CAUTION
from capacity.working_time.wording import limit_in_words
from tests.plans.stories import FIRST_DAY, base, check, placed, plan
from tests.questions.overtime_stories import TEN, booked, stands, ten_mechanics, visit

# Ten and four mechanics: 980 h a week, and 1,380 h are asked in the first. An equals sign would
# be a formula if it were let, so the workbook puts a quote before it.
WORK = visit(690)
LATE = Crew("=Late", ("Mechanic",), 4, "Daily", FIRST_DAY)
STORY = ten_mechanics(
    (WORK,),
    booked("C1", WORK, 0, 7),
    booked("C2", WORK, 0, 7),
    crews=(TEN, LATE),
    working_time_rules="good-practice",
)
PLAN = plan(stands("C1", WORK), stands("C2", WORK, bay="B2"))
REVIEW = review_overtime(STORY, PLAN)
QUIET = base(check())
QUIET_REVIEW = review_overtime(QUIET, plan(placed("C1", 5)))


@pytest.fixture(scope="module")
def measures() -> Measures:
    return try_measures(STORY, PLAN, Settings(seconds=5.0))


def sheets(
    measures: Measures | None, review: OvertimeReview = REVIEW, of: Base = STORY
) -> list[str]:
    return load_workbook(io.BytesIO(overtime_workbook(review, measures, of))).sheetnames


def sheet(
    name: str, measures: Measures | None = None, review: OvertimeReview = REVIEW, of: Base = STORY
) -> Worksheet:
    return load_workbook(io.BytesIO(overtime_workbook(review, measures, of)))[name]


def texts(of: Worksheet) -> list[str]:
    cells = (cell for row in of.iter_rows(values_only=True) for cell in row)
    return [cell for cell in cells if isinstance(cell, str)]


def column(of: Worksheet, heading: str, top: int = 1) -> list[object]:
    """Return what stands below a heading in row ``top``, down to the first blank."""
    place = [cell.value for cell in of[top]].index(heading)
    found: list[object] = []
    for row in of.iter_rows(min_row=top + 1, values_only=True):
        if row[0] is None:
            break
        found.append(row[place])
    return found


def row_of_heading(of: Worksheet, heading: str) -> int:
    return next(row[0].row for row in of.iter_rows() if row[0].value == heading)


def test_the_sheets(measures: Measures) -> None:
    without = ["Overtime", "Weeks and skills", "Weeks and crews", "Working-time limits"]
    assert sheets(None) == without
    assert sheets(measures) == [*without[:3], "Measures", without[3]]


def test_every_week_and_skill_has_its_row() -> None:
    of = sheet("Weeks and skills")
    for heading, name in (
        ("Week", "week"),
        ("Skill", "skill"),
        ("Demand (h)", "demand"),
        ("Regular (h)", "regular"),
        ("Overtime (h)", "overtime"),
        ("Contract (h)", "contract"),
        ("Overload (h)", "overload"),
        ("Overtime (EUR)", "overtime_money"),
        ("Contract (EUR)", "contract_money"),
        ("Overload (EUR)", "overload_money"),
        ("Heads on the roster", "heads"),
        ("Overtime per head present (attended h)", "overtime_per_head"),
    ):
        assert column(of, heading) == [getattr(week, name) for week in REVIEW.weeks], heading
    assert sum(column(of, "In all (EUR)")) == pytest.approx(REVIEW.least_money)
    # 980 h regular, 196 h of overtime, 204 h of 245 of contract labour.
    assert column(of, "Caps reached")[0] == "overtime cap of 196.0 h"


def test_every_week_and_crew_has_its_row() -> None:
    of = sheet("Weeks and crews")
    assert column(of, "Crew") == ["Ten", "'=Late"]
    assert column(of, "Overtime (h)") == pytest.approx([140, 56])
    assert column(of, "Overtime per head present (attended h)") == pytest.approx([14, 14])
    assert column(of, "Overtime (EUR)") == pytest.approx([140 * 60, 56 * 60])


def test_measures_stand_in_their_rank_with_their_proof(measures: Measures) -> None:
    of = sheet("Measures", measures)
    top = row_of_heading(of, "Measure")
    ranked = measures.measures
    assert column(of, "Measure", top) == [
        f"{n}. {measure.what}" for n, measure in enumerate(ranked, 1)
    ]
    assert column(of, "Less overtime (h)", top) == [measure.overtime_less for measure in ranked]
    assert column(of, "Saves, negative: costs (EUR)", top) == [lv.saves for lv in ranked]
    assert column(of, "Worth per head and week (EUR)", top) == [measure.worth for measure in ranked]
    assert column(of, "Cost of the plan with it (EUR)", top) == [
        measure.after.money for measure in ranked
    ]
    assert column(of, "Checks moved", top) == [len(measure.moved) for measure in ranked]
    for measure, how, proof in zip(
        ranked, column(of, "How it was tried", top), column(of, "Proven", top), strict=True
    ):
        if measure.proven is None:
            assert how == "audited, all other slots kept"
            assert proof == "exact for these slots; other slots were not searched"
        else:
            assert (how, proof) == ("searched anew", "proven: no plan with it costs less")
    assert any(measure.proven is not None for measure in ranked)


def test_measures_that_cost_more_say_so(measures: Measures) -> None:
    dear = replace(measures.measures[-1], saves=-10.0)
    of = sheet("Measures", replace(measures, measures=(dear,)))
    assert column(of, "Remarks", row_of_heading(of, "Measure")) == ["costs more than it saves"]


def test_the_measures_sheet_says_what_they_are_compared_with(measures: Measures) -> None:
    of = sheet("Measures", replace(measures, not_tried=("=one more hangar",)))
    top = row_of_heading(of, "Plan")
    money = column(of, "Cost of the plan (EUR)", top)
    assert money == pytest.approx([measures.now.money, measures.without.money])
    assert PRICES_MISSING in texts(of)
    assert "'=one more hangar" in texts(of)


def test_a_bound_below_the_money_is_no_proof(measures: Measures) -> None:
    searched = next(measure for measure in measures.measures if measure.proven is not None)
    after = replace(searched.after, money=2000.0)
    for proven, words in (
        (1234.0, "not proven: with it no plan costs less than 1,234 EUR"),
        (None, "not proven: no lower bound"),
        (2000.0, "proven: no plan with it costs less"),
    ):
        measure = replace(searched, after=after, proven=proven, saves=1.0)
        only = replace(measures, measures=(measure,))
        of = sheet("Measures", only)
        assert column(of, "Proven", row_of_heading(of, "Measure")) == [words]
        assert words in overtime_in_words(REVIEW, only, STORY)


def test_limits_stand_with_caution_and_sources() -> None:
    roster = REVIEW.limits[0]
    overtime = replace(roster, crew="Ten", times=3, by_overtime=True)
    review = replace(REVIEW, limits=(roster, overtime))
    of = sheet("Working-time limits", None, review)
    said = texts(of)
    assert WORKING_TIME_CAUTION in said
    assert LONG_HOURS in said
    top = row_of_heading(of, "Crew")
    assert column(of, "Source", top) == [roster.source] * 2
    assert column(of, "Limit, and the worst case beyond it", top) == [roster.what] * 2
    assert column(of, "Exceeded", top) == ["by the roster itself", "by overtime"]
    assert column(of, "How often", top)[1] == "3 times"
    assert any("in 2 cases, in 1 of them only by overtime" in text for text in said)
    rules = RULE_SETS["good-practice"]
    assert {limit_in_words(limit) for limit in rules.limits} <= set(said)
    assert set(rules.not_checked) <= set(said)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"working_time_rules": None}, "No working-time rules are named"),
        ({"working_time_mode": "off"}, "rules are off"),
    ],
)
def test_where_no_limits_were_looked_at_it_says_so(changes: dict[str, object], words: str) -> None:
    other = STORY.replace(**changes)
    review = review_overtime(other, PLAN)
    of = sheet("Working-time limits", None, review, other)
    assert any(words in text for text in texts(of))
    assert "Crew" not in texts(of)
    assert WORKING_TIME_CAUTION in texts(of)
    assert words in overtime_in_words(review, None, other)


def test_limits_that_are_kept_are_called_so() -> None:
    # Five days of 8 h from 7 o'clock on and no overtime.
    five = Pattern("Daily", (*["Day"] * 5, None, None))
    shift = replace(STORY.shifts[0], hours=8.0)
    calm = STORY.replace(patterns=(five,), shifts=(shift,), crews=(replace(TEN, heads=100),))
    review = review_overtime(calm, PLAN)
    assert review.limits == ()
    of = sheet("Working-time limits", None, review, calm)
    assert any("with this plan's overtime no limit is exceeded" in text for text in texts(of))


def test_the_overview_adds_up_and_warns(measures: Measures) -> None:
    of = sheet("Overtime", measures)
    rows = {row[0]: row for row in of.iter_rows(values_only=True)}
    assert rows["Overtime"][1:3] == pytest.approx((196, 196 * 60))
    assert rows["Contract labour"][1:3] == pytest.approx((204, 204 * 80))
    assert rows["Overload"][1:3] == pytest.approx((0, 0))
    assert rows["Least cost, slots as they are"][2] == pytest.approx(REVIEW.least_money)
    said = texts(of)
    for caution in (LONG_HOURS, CAUTION, WORKING_TIME_CAUTION):
        assert caution in said
    assert any(text.startswith(f"1. {measures.measures[0].what}: saves ") for text in said)
    assert "No measures were tried." in texts(sheet("Overtime"))


def test_nothing_is_a_formula_nor_a_link(measures: Measures) -> None:
    named = replace(
        measures, measures=(replace(measures.measures[0], what="=1+1"),), not_tried=("=2",)
    )
    book = load_workbook(io.BytesIO(overtime_workbook(REVIEW, named, STORY)))
    cells = [cell for of in book for row in of.iter_rows() for cell in row]
    assert {cell.data_type for cell in cells} <= {"s", "n", "d"}
    assert not any(cell.hyperlink for cell in cells)


def test_the_workbook_is_written_whole_or_not_at_all(tmp_path: Path) -> None:
    path = tmp_path / "overtime.xlsx"
    write_overtime_workbook(REVIEW, None, STORY, path)
    assert load_workbook(path).sheetnames == sheets(None)
    with pytest.raises(OutputError):
        write_overtime_workbook(REVIEW, None, STORY, tmp_path / "none" / "overtime.xlsx")


def test_the_terminal_says_totals_weeks_crews_and_cautions() -> None:
    lines = overtime_in_words(REVIEW, None, STORY).splitlines()
    assert lines[0] == "Overtime of Hillside from Mon 4 Jan 2027, 8 weeks"
    # 196 x 60 + 204 x 80 = 28,080.
    assert lines[1] == (
        "The plan needs 196 h of overtime and 204 h of contract labour. With the slots as they "
        "are, that costs at least 28,080 EUR."
    )
    assert "2027-W01" in lines[3]
    assert "contract 204 h, overtime 196 h (14 h attended per head)" in lines[3]
    assert "limits: overtime cap of 196.0 h" in lines[4]
    assert any("=Late" in line and "14.0 h per head, 56 h, 3,360 EUR" in line for line in lines)
    assert any("hours with overtime in seven successive days: 84 h" in line for line in lines)
    assert any(RULE_SETS["good-practice"].limits[4].source in line for line in lines)
    assert lines[-2:] == [LONG_HOURS, CAUTION]
    assert not any(line.startswith("Measures against it") for line in lines)


def test_the_terminal_ranks_the_measures(measures: Measures) -> None:
    text = overtime_in_words(REVIEW, measures, STORY)
    assert f"Measures against it: {len(measures.measures)} measures tried in " in text
    first = measures.measures[0]
    assert f"  1. {first.what}\n     saves 28,080 EUR, 196 h less overtime" in text
    assert "would take none away" in text
    assert PRICES_MISSING in text
    stopped = replace(measures, not_tried=("one more hangar",))
    text = overtime_in_words(REVIEW, stopped, STORY)
    assert "1 not tried, because it was stopped" in text
    assert "  not tried, because it was stopped: one more hangar" in text


def test_fewer_days_past_and_dearer_measures_are_said(measures: Measures) -> None:
    first = measures.measures[0]
    now = replace(measures.now, days_past=first.after.days_past + 3)
    measure = replace(first, saves=-500.0, worth=12.0)
    text = overtime_in_words(REVIEW, replace(measures, now=now, measures=(measure,)), STORY)
    assert "3 fewer days past Latest in, costs 500 EUR, 196 h less overtime" in text
    assert "worth up to 12 EUR per head and week" in text


def test_a_plan_that_buys_nothing_is_quickly_told() -> None:
    quiet = try_measures(QUIET, plan(placed("C1", 5)), Settings(seconds=60.0))
    text = overtime_in_words(QUIET_REVIEW, quiet, QUIET)
    assert "No hours are bought: regular man-hours are enough in every week." in text
    assert "There is no measure to try: no hours are bought." in text
    assert sheets(quiet, QUIET_REVIEW, QUIET)[0] == "Overtime"


def test_long_lists_are_counted() -> None:
    many = tuple(replace(REVIEW.crews[0], week=f"2027-W{week:02}") for week in range(1, 8))
    text = overtime_in_words(replace(REVIEW, crews=many), None, STORY)
    assert "  and 2 more" in text
