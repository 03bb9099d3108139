"""The invented quarter uses every rule of the workbook, each where it can be seen."""

from collections import Counter
from datetime import timedelta

import openpyxl
import pytest

from capacity.facts import Base, Stage
from capacity.inputs.reading.row_model import Row
from capacity.inputs.reading.sheets import SHEETS, Settings
from tests.samples.conftest import SAMPLES

Cells = dict[str, list[object]]


def sheets_of_quarter() -> dict[str, Cells]:
    """Return what is filled in by sheet and heading."""
    book = openpyxl.load_workbook(SAMPLES / "quarter.xlsx")
    found: dict[str, Cells] = {}
    for sheet in book:
        headings, *rows = sheet.values
        found[sheet.title] = {
            str(heading): [row[column] for row in rows if row[column] is not None]
            for column, heading in enumerate(headings)
        }
    return found


FILLED = sheets_of_quarter()
# What a cell says in other words than its default.
AS_TYPED = {False: "no", True: "yes"}
COLUMNS = [
    (model.sheet, field.alias, AS_TYPED.get(field.default, field.default))
    for model in SHEETS
    for field in model.model_fields.values()
    if field.alias
]


@pytest.mark.parametrize("model", SHEETS, ids=lambda model: model.sheet)
def test_every_sheet_is_there_with_several_rows(model: type[Row]) -> None:
    assert model.sheet in FILLED
    assert max(map(len, FILLED[model.sheet].values())) >= 2


@pytest.mark.parametrize(("sheet", "heading", "default"), COLUMNS)
def test_every_column_says_something_that_a_blank_would_not(
    sheet: str, heading: str, default: object
) -> None:
    said = [value for value in FILLED[sheet].get(heading, []) if value != default]
    assert said, f"no row of {sheet} uses {heading}"


def test_every_setting_is_there() -> None:
    wanted = {field.alias for field in Settings.model_fields.values() if field.alias}
    assert set(FILLED["Base"]["Setting"]) == wanted


def test_no_column_is_there_that_the_workbook_does_not_know() -> None:
    known = {(sheet, heading) for sheet, heading, _ in COLUMNS}
    known |= {("Base", "Setting"), ("Base", "Value")}
    assert {(sheet, heading) for sheet in FILLED for heading in FILLED[sheet]} <= known


def test_a_bay_lies_behind_another_and_a_wide_one_shares_its_floor_with_two(
    quarter: Base,
) -> None:
    bays = {bay.name: bay for bay in quarter.bays}
    assert bays["Bay 35"].reached_through == "Bay 34"
    wide = bays["Bay 32"]
    assert wide.shares_floor_with == {"Bay 32 left", "Bay 32 right"}
    halves = [bays[name] for name in wide.shares_floor_with]
    assert sum(half.max_span_m for half in halves) <= wide.max_span_m
    assert not any("Bay 32 right" in half.shares_floor_with for half in halves)
    assert len({bay.changeover_days for bay in quarter.bays}) == 2


def stages_with(quarter: Base, name: str) -> list[Stage]:
    """Return the stages of all packages of that name."""
    return [stage for package in quarter.packages for stage in package.stages if stage.name == name]


def test_the_gear_swing_is_done_alone_by_day_and_on_jacks(quarter: Base) -> None:
    # Common practice, no source: nobody is below an aircraft whose gear moves.
    swings = stages_with(quarter, "Gear swing")
    assert swings
    for stage in swings:
        assert stage.alone
        assert not stage.by_night
        assert stage.equipment == ("Jack set",)
        assert stage.max_heads


def test_tank_work_has_its_own_equipment_and_few_people(quarter: Base) -> None:
    # Common practice, no source: a tank is ventilated and a rescue kit stands by.
    for stage in stages_with(quarter, "Fuel tank work"):
        assert len(stage.equipment) == 2
        assert stage.max_heads


def test_pools_are_small_and_lose_a_piece_for_a_while(quarter: Base) -> None:
    number = {pool.name: pool.number for pool in quarter.equipment}
    assert set(number.values()) == {2}
    end = quarter.first_day + timedelta(weeks=quarter.weeks)
    assert {outage.equipment for outage in quarter.equipment_outages} <= number.keys()
    assert len(quarter.equipment_outages) == 3
    assert all(
        quarter.first_day < outage.first < outage.last < end for outage in quarter.equipment_outages
    )


def test_one_or_two_stages_may_run_faster_or_slower(quarter: Base) -> None:
    flexible = [
        stage
        for package in quarter.packages
        for stage in package.stages
        if stage.shortest_days and stage.longest_days
    ]
    assert 1 <= len(flexible) <= 2
    for stage in flexible:
        assert (stage.shortest_days or 0) < stage.days < (stage.longest_days or 0)


def test_hours_give_where_nothing_waits_at_the_end_of_the_stage(quarter: Base) -> None:
    levelled = [
        (package.name, stage)
        for package in quarter.packages
        for stage in package.stages
        if stage.daily_peak > 1
    ]
    assert {stage.daily_peak for _, stage in levelled} == {1.25}
    assert all(stage.into_float for _, stage in levelled)
    sends = {(loop.package, loop.leave_at) for loop in quarter.shop_loops}
    for name, stage in levelled:
        assert not any((stage.equipment, stage.alone, stage.critical)), (name, stage.name)
        assert (name, stage.name) not in sends
        assert stage.days > 1
    named = {stage.name for _, stage in levelled}
    assert named >= {"Cabin", "Rectification", "Structure repair", "Fuselage repair"}


def test_coats_and_tanks_keep_their_days(quarter: Base) -> None:
    # Common practice, no source: coats dry between the days.
    for name in ("Fuel tank work", "Prime", "Top coat and livery"):
        stages = stages_with(quarter, name)
        assert stages
        assert all(stage.daily_peak == 1 and not stage.into_float for stage in stages)


def test_checks_in_work_are_told_of_by_stage_as_a_whole_and_by_what_remains(
    quarter: Base,
) -> None:
    told = {row.check for row in quarter.progress}
    assert told == {"N-02", "W-01"}
    assert {row.check for row in quarter.progress if row.stage is None} == {"W-01"}
    assert {row.as_of for row in quarter.progress} == {quarter.first_day}
    remaining = {check.name for check in quarter.checks if check.remaining is not None}
    assert remaining == {"N-01"}
    assert not told & remaining


def test_what_is_agreed_apart_costs_the_best_plan_nothing(quarter: Base) -> None:
    checks = {check.name: check for check in quarter.checks}
    assert [name for name, check in checks.items() if check.agreed_out is None] == ["N-10"]
    assert checks["P-06"].held_bay == "Paint 13"
    assert checks["P-06"].status == "booked"
    options = [check for check in quarter.checks if check.status == "option"]
    assert sum(check.decide_by is not None for check in options) == 2
    first, end = quarter.first_day, quarter.first_day + timedelta(weeks=quarter.weeks)
    assert all(first < check.decide_by < end for check in options if check.decide_by)


def test_the_base_has_a_short_day_and_a_closed_one(quarter: Base) -> None:
    rows = FILLED["Base calendar"]
    assert (rows["Hours %"], rows["Worked"]) == ([80], ["no"])


def test_findings_have_a_spread_and_only_they(quarter: Base) -> None:
    for package in quarter.packages:
        for stage in package.stages:
            assert (stage.findings > 0) == (stage.findings_spread > 0), (package.name, stage.name)


def test_some_packages_change_the_kind_of_bay_and_come_back(quarter: Base) -> None:
    ways = {
        package.name: [
            stage.work
            for before, stage in zip((None, *package.stages), package.stages, strict=False)
            if before is None or before.work != stage.work
        ]
        for package in quarter.packages
    }
    there_and_back = [name for name, way in ways.items() if len(way) > 1]
    assert there_and_back == ["Single-aisle C-check and livery"]
    assert ways[there_and_back[0]] == ["maintenance", "paint", "maintenance"]
    used = Counter(check.package for check in quarter.checks)
    assert used[there_and_back[0]] == 2


def test_crews_have_two_skills_types_an_area_or_a_contract(quarter: Base) -> None:
    assert sum(len(crew.skills) == 2 for crew in quarter.crews) == 2
    types = {kind.name for kind in quarter.types}
    limited = [crew for crew in quarter.crews if crew.types]
    assert [types - crew.types for crew in limited] == [{"Alder 50"}]
    assert {crew.area for crew in quarter.crews} == {"", "Hangar 1"}
    assert sum(crew.employment == "contract" for crew in quarter.crews) == 2
    # One is there for the summer after the quarter only; its guarantee costs this plan nothing.
    guaranteed = [crew for crew in quarter.crews if crew.guaranteed_hours]
    assert [crew.first > quarter.last_in_day for crew in guaranteed] == [True]


def test_licences_nights_and_two_people_matter_to_somebody(quarter: Base) -> None:
    assert {skill.licence for skill in quarter.skills} >= {"B1", "B2", "C"}
    nights = {shift.name for shift in quarter.shifts if shift.night}
    worked = {name for pattern in quarter.patterns for name in pattern.cycle}
    assert nights & worked
    critical = {
        stage.name for package in quarter.packages for stage in package.stages if stage.critical
    }
    assert "Engine change" in critical


def test_customers_want_days_inside_their_windows(quarter: Base) -> None:
    wanting = [check for check in quarter.checks if check.wanted_in]
    assert len(wanting) >= 10
    assert all(check.third_party for check in wanting)
    for check in wanting:
        window = (check.earliest_in, check.wanted_in, check.latest_in)
        assert sorted(filter(None, window)) == list(window), check.name


def test_all_five_functions_of_the_man_hour_plan_have_people(quarter: Base) -> None:
    assert {staff.function for staff in quarter.functions} == {
        "plan",
        "perform",
        "supervise",
        "inspect",
        "monitor quality",
    }
    assert {absence.function for absence in quarter.function_absences} == {"plan", "supervise"}
