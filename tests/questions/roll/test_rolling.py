"""What becomes of each check and row when the first day moves on, by hand."""

import csv
from dataclasses import replace
from datetime import date
from pathlib import Path

import openpyxl
import pytest

import capacity
from capacity.errors import InputError
from capacity.facts import Status
from capacity.plans.audit import audit
from capacity.plans.plan import Placement, Plan, StageDays
from capacity.questions.roll.files import roll_forward
from capacity.questions.roll.rolled_plan import rolled_plan
from capacity.reports.roll.files import write_rolled
from capacity.reports.roll.text import rolled_in_words
from tests.inputs.books import Sheets, valid, with_shops, write_folder, write_workbook

MONDAY = date(2027, 1, 11)


def jan(day: int) -> date:
    return date(2027, 1, day)


def sheets() -> Sheets:
    """Light checks: open 2 days, inspect 3 with 50 % findings, close 1; Monday to Friday.

    C1 comes in as planned on the 6th, C2 is an option, C3 is in since December, C5 comes later.
    """
    book = valid()
    headings, c1, c2, c3, _ = book["Checks"]
    c3 = [*c3[:-1], None]
    c3[headings.index("Fixed in")] = date(2027, 1, 1)
    c5 = ["C5", *c1[1:]]
    c5[headings.index("Earliest in")], c5[headings.index("Latest in")] = jan(13), jan(22)
    book["Checks"] = [headings, c1, c2, c3, c5]
    book["Absence"].append(["red", jan(6), jan(8), 1, "leave"])
    book["Bay closures"] = [["Bay", "From", "To", "Reason"], ["B2", jan(25), jan(26), "door"]]
    return book


def stages(*days: tuple[str, int, int]) -> tuple[StageDays, ...]:
    return tuple(StageDays(name, jan(first), jan(until)) for name, first, until in days)


PLAN = Plan((
    Placement("C3", "B2", "open", jan(1), jan(12),
              stages(("open", 4, 6), ("inspect", 6, 9), ("close", 11, 12))),
    Placement("C1", "B1", "open", jan(6), jan(14),
              stages(("open", 6, 8), ("inspect", 8, 13), ("close", 13, 14))),
    Placement("C2", "B1", "open", jan(15), jan(23),
              stages(("open", 15, 19), ("inspect", 19, 22), ("close", 22, 23))),
    Placement("C5", "B2", "open", jan(13), jan(21),
              stages(("open", 13, 15), ("inspect", 15, 20), ("close", 20, 21))),
))  # fmt: skip


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return write_workbook(sheets(), tmp_path / "week.xlsx")


def with_progress(path: Path, *rows: list[object]) -> Path:
    book = openpyxl.load_workbook(path)
    sheet = book.create_sheet("Progress")
    sheet.append(["Check", "Stage", "As of", "Done %", "Hours booked", "Hours to go", "Finished"])
    for row in rows:
        sheet.append(row)
    book.save(path)
    return path


def changed(path: Path, check: str, heading: str, value: object) -> Path:
    book = openpyxl.load_workbook(path)
    sheet = book["Checks"]
    headings = [cell.value for cell in sheet[1]]
    if heading not in headings:
        headings.append(heading)
        sheet.cell(1, len(headings)).value = heading
    row = next(cells[0].row for cells in sheet.iter_rows(min_row=2) if cells[0].value == check)
    sheet.cell(row, headings.index(heading) + 1).value = value
    book.save(path)
    return path


def shares_left(told, check: str) -> dict[str, float]:
    one = next(one for one in told.rolled.in_work if one.check == check)
    return {state.stage: state.left for state in one.states}


def test_what_is_in_work_is_fixed_with_what_is_left(path):
    told = roll_forward(path, PLAN, MONDAY)
    assert [one.check for one in told.rolled.in_work] == ["C1", "C3"]
    check = told.base.check("C1")
    assert (check.status, check.fixed_bay, check.fixed_in) == (Status.FIXED, "B1", jan(6))
    # One of three days of the inspection was planned before the 11th.
    assert shares_left(told, "C1") == pytest.approx({"open": 0, "inspect": 2 / 3, "close": 1})
    assert shares_left(told, "C3") == pytest.approx({"open": 0, "inspect": 0, "close": 1})
    rows = {(row.check, row.stage): (row.done, row.as_of) for row in told.base.progress}
    assert rows["C1", "open"] == (1.0, jan(8))
    assert rows["C1", "inspect"] == (pytest.approx(1 / 3), MONDAY)
    assert ("C1", "close") not in rows
    assert audit(told.base, rolled_plan(PLAN, told.base)).broken == ()


def test_first_day_moves_and_weeks_stay_unless_named(path):
    assert roll_forward(path, PLAN, MONDAY).base.first_day == MONDAY
    assert roll_forward(path, PLAN, MONDAY).base.weeks == 4
    assert roll_forward(path, PLAN, MONDAY, weeks=13).base.weeks == 13


def test_rows_behind_go_and_others_stay(path):
    told = roll_forward(path, PLAN, MONDAY)
    assert [(gone.sheet, gone.of, gone.last) for gone in told.rolled.gone] == [
        ("Absence", "red", jan(8))
    ]
    assert [(one.first, one.last) for one in told.base.absences] == [(jan(11), jan(15))]
    assert [one.reason for one in told.base.closures] == ["door"]


def test_what_is_planned_in_and_out_is_recorded_as_it_comes_in(path):
    book = write_rolled_and_load(path, roll_forward(path, PLAN, MONDAY))
    headings, *rows = book["Checks"].values
    told = {row[0]: dict(zip(headings, row, strict=True)) for row in rows}
    assert told["C1"]["Planned in"].date() == jan(6)
    assert told["C1"]["Planned out"].date() == jan(14)
    assert told["C3"]["Planned out"] is None  # it was in before


def write_rolled_and_load(path: Path, told):
    write_rolled(told, path.with_name("next.xlsx"))
    return openpyxl.load_workbook(path.with_name("next.xlsx"))


def test_progress_that_was_reported_stands(path):
    with_progress(path, ["C1", "inspect", MONDAY, None, 12, 100, None])
    told = roll_forward(path, PLAN, MONDAY)
    assert shares_left(told, "C1")["inspect"] == pytest.approx(100 / 120.75)
    state = next(s for s in told.rolled.in_work[0].states if s.stage == "inspect")
    assert not state.by_plan
    (row,) = [row for row in told.base.progress if row.stage == "inspect" and row.check == "C1"]
    assert (row.hours_booked, row.hours_to_go, row.as_of) == (12, 100, MONDAY)


def test_progress_of_an_earlier_day_goes_on_as_planned_and_its_hours_are_kept(path):
    # On Friday morning nothing of it was done: one of three days is by Monday.
    with_progress(path, ["C1", "inspect", jan(8), 10, 15, None, None])
    told = roll_forward(path, PLAN, MONDAY)
    assert shares_left(told, "C1")["inspect"] == pytest.approx(0.9 * 2 / 3)
    rows = [row for row in told.base.progress if (row.check, row.stage) == ("C1", "inspect")]
    assert [(row.as_of, row.hours_booked) for row in rows] == [(jan(8), 15), (MONDAY, None)]


def test_work_that_has_grown_is_told_in_man_hours(path):
    with_progress(path, ["C1", "inspect", jan(8), None, None, 241.5, None])
    told = roll_forward(path, PLAN, MONDAY)
    (row,) = [r for r in told.base.progress if (r.check, r.stage) == ("C1", "inspect")]
    assert row.hours_to_go == pytest.approx(161)
    assert "grown to 133.3 % of its man-hours" in rolled_in_words(told, told.base)


def test_one_that_is_not_finished_does_not_leave(path):
    with_progress(path, ["C3", "close", date(2027, 1, 18), 50, None, None, None])
    told = roll_forward(path, PLAN, date(2027, 1, 18))
    assert "C3" in [one.check for one in told.rolled.in_work]
    assert any(
        "'C3' was to be out on Tue 12 Jan 2027, but close not finished" in message.what
        for message in told.rolled.for_a_person
    )


def test_what_has_left_is_recorded_without_inventing_anything(path):
    told = roll_forward(path, PLAN, date(2027, 1, 18))
    assert [one.check for one in told.rolled.delivered] == ["C1", "C3"]
    assert {check.name for check in told.base.checks} == {"C2", "C5"}
    first, c3 = told.rolled.delivered
    assert first.missing == ("Actual in", "Actual out", "Actual man-hours")
    assert c3.missing == ("Actual out", "Actual man-hours")  # it was in when the week began
    rows = {(row.check, row.stage): row for row in told.base.delivered}
    inspect = rows["C1", "inspect"]
    assert (inspect.routine_hours, inspect.planned_hours) == (80.5, pytest.approx(120.75))
    assert (inspect.planned_days, inspect.actual_days, inspect.actual_hours) == (3, None, None)
    assert (inspect.planned_in, inspect.planned_out) == (jan(6), jan(14))
    assert inspect.actual_in is None
    assert rows["C3", "open"].actual_in == jan(1)
    assert not [row for row in told.base.progress if row.check in ("C1", "C3")]


def test_what_people_reported_is_recorded_as_actual(path):
    changed(path, "C1", "Planned out", jan(12))
    with_progress(
        path,
        ["C3", "open", jan(11), None, 44, None, jan(5)],
        ["C3", "inspect", jan(11), None, 150, None, jan(11)],
        ["C3", "close", jan(14), None, 31, None, jan(13)],
    )
    told = roll_forward(path, PLAN, date(2027, 1, 18))
    c3 = next(one for one in told.rolled.delivered if one.check == "C3")
    assert c3.missing == ()
    opened = c3.stages[0]
    assert [row.actual_hours for row in c3.stages] == [44, 150, 31]
    assert opened.actual_out == jan(14)
    # From Friday the 1st; from Wednesday the 6th; the 12th and 13th.
    assert [row.actual_days for row in c3.stages] == [3, 4, 2]
    c1 = next(one for one in told.rolled.delivered if one.check == "C1")
    assert c1.stages[0].planned_out == jan(12)
    learnt = capacity.learn(told.base)
    (package,) = learnt.packages
    assert package.stages[1].findings.mean == pytest.approx((150 - 80.5) / 80.5)


def test_hours_booked_before_the_end_are_told_not_taken_for_all(path):
    with_progress(path, ["C3", "inspect", jan(8), 50, 60, None, None])
    told = roll_forward(path, PLAN, date(2027, 1, 18))
    c3 = next(one for one in told.rolled.delivered if one.check == "C3")
    assert c3.stages[1].actual_hours is None
    assert any("'C3' had 60 h on inspect booked" in m.what for m in told.rolled.for_a_person)


def test_hours_of_the_check_as_a_whole_have_a_row_of_their_own(path):
    with_progress(path, ["C3", None, jan(12), None, 260, None, jan(11)])
    told = roll_forward(path, PLAN, date(2027, 1, 18))
    c3 = next(one for one in told.rolled.delivered if one.check == "C3")
    assert [row.stage for row in c3.stages] == ["open", "inspect", "close", ""]
    assert (c3.stages[-1].actual_hours, c3.stages[-1].actual_out) == (260, jan(12))
    assert c3.missing == ()


def test_one_finished_before_its_time_has_left(path):
    rows = [["C1", name, MONDAY, None, None, None, jan(8)] for name in ("open", "inspect", "close")]
    with_progress(path, *rows)
    told = roll_forward(path, PLAN, MONDAY)
    assert [one.check for one in told.rolled.delivered] == ["C1"]
    assert told.base.delivered[0].actual_out == jan(9)


def test_the_last_day_told_counts_of_the_whole_and_of_stages(path):
    rows = [["C1", name, MONDAY, None, None, None, jan(6)] for name in ("open", "inspect", "close")]
    with_progress(path, *rows, ["C1", None, MONDAY, None, None, None, jan(8)])
    assert roll_forward(path, PLAN, MONDAY).base.delivered[0].actual_out == jan(9)


def test_one_that_did_not_come_stays_to_be_planned(path):
    changed(path, "C1", "Earliest in", jan(12))
    told = roll_forward(path, PLAN, MONDAY)
    assert told.base.check("C1").status is Status.BOOKED
    assert [one.check for one in told.rolled.in_work] == ["C3"]


def test_one_that_is_named_as_not_in_stays_to_be_planned(path):
    told = roll_forward(path, PLAN, MONDAY, not_in=["C1"])
    assert told.base.check("C1").status is Status.BOOKED
    assert told.base.progress_of("C1") == ()
    assert "Did not come, still to be planned: 'C1'." in rolled_in_words(told, told.base)


def test_options_named_are_booked_or_go(path):
    booked = roll_forward(path, PLAN, MONDAY, accept=["C2"])
    assert booked.base.check("C2").status is Status.BOOKED
    gone = roll_forward(path, PLAN, MONDAY, drop=["C2"])
    assert not gone.base.has_check("C2")
    assert [one.check for one in gone.rolled.dropped] == ["C2"]
    assert roll_forward(path, PLAN, MONDAY).base.check("C2").status is Status.OPTION


@pytest.mark.parametrize("in_the_plan", [True, False])
def test_past_its_decide_by_an_option_is_booked_if_the_plan_takes_it(path, in_the_plan):
    changed(path, "C2", "Decide by", jan(8))
    plan = PLAN if in_the_plan else Plan(tuple(p for p in PLAN.placements if p.check != "C2"))
    told = roll_forward(path, plan, MONDAY)
    decided = told.rolled.booked if in_the_plan else told.rolled.dropped
    assert [(one.check, one.decide_by) for one in decided] == [("C2", jan(8))]
    assert told.base.has_check("C2") is in_the_plan
    assert "Decide by Fri 8 Jan 2027 has passed" in rolled_in_words(told, told.base)


def test_an_option_whose_latest_in_has_passed_goes(path):
    plan = Plan(tuple(p for p in PLAN.placements if p.check != "C2"))
    told = roll_forward(path, plan, date(2027, 1, 21))
    assert [(one.check, one.latest_in) for one in told.rolled.dropped] == [("C2", jan(20))]


def test_an_option_in_work_is_fixed(path):
    told = roll_forward(path, PLAN, date(2027, 1, 18))
    assert told.base.check("C2").status is Status.OPTION or told.base.check("C2").fixed_in
    assert [one.check for one in told.rolled.in_work if one.was_option] == ["C2"]
    assert told.base.check("C2").fixed_in == jan(15)


def test_a_check_that_should_have_come_is_for_a_person(path):
    plan = Plan(tuple(p for p in PLAN.placements if p.check != "C5"))
    told = roll_forward(path, plan, date(2027, 1, 25))
    assert any("'C5' is not in, and its Latest in" in m.what for m in told.rolled.for_a_person)


def test_remaining_is_turned_into_progress(path):
    changed(path, "C3", "Remaining %", 25)
    stages_left = stages(("inspect", 4, 6), ("close", 6, 7))
    plan = Plan(
        (Placement("C3", "B2", "inspect", jan(1), jan(7), stages_left), *PLAN.placements[1:])
    )
    told = roll_forward(path, plan, jan(5))
    check = told.base.check("C3")
    assert check.remaining is None
    # Of 190.75 h a quarter is left: 17.6875 h of the inspection, half of it planned for the 4th.
    assert shares_left(told, "C3")["inspect"] == pytest.approx(17.6875 / 120.75 / 2)
    assert shares_left(told, "C3")["open"] == 0


@pytest.mark.parametrize(
    ("day", "more", "said"),
    [
        (jan(4), {}, "is not after Mon 4 Jan 2027"),
        (date(2027, 3, 1), {}, "the last day on which a check can come in"),
        (MONDAY, {"accept": ["C1"]}, "'C1' is booked, not an option"),
        (MONDAY, {"drop": ["C9"]}, "'C9' is not in the sheet Checks"),
        (MONDAY, {"not_in": ["C5"]}, "'C5' does not come in before Mon 11 Jan 2027 by the plan"),
        (MONDAY, {"drop": ["C2"], "accept": ["C2"]}, "both booked and dropped"),
    ],
)
def test_what_cannot_be_is_refused_with_its_cell(path, day, more, said):
    with pytest.raises(InputError, match=said):
        roll_forward(path, PLAN, day, **more)


def test_a_folder_of_csv_files_becomes_a_folder(tmp_path):
    folder = write_folder(sheets(), tmp_path / "week")
    (folder / "My notes.csv").write_text("keep;this\n", encoding="utf-8")
    told = roll_forward(folder, PLAN, MONDAY)
    write_rolled(told, tmp_path / "next")
    assert capacity.read(tmp_path / "next") == told.base
    same = {
        file.name
        for file in folder.iterdir()
        if file.read_bytes() == (tmp_path / "next" / file.name).read_bytes()
    }
    everything = {file.name for file in (tmp_path / "next").iterdir()}
    assert everything - same == {"Base.csv", "Checks.csv", "Absence.csv", "Progress.csv"}
    with (tmp_path / "next" / "Progress.csv").open(encoding="utf-8-sig", newline="") as stream:
        assert next(csv.reader(stream))[:4] == ["Check", "Stage", "As of", "Done %"]
    with pytest.raises(capacity.OutputError, match="is there already"):
        write_rolled(told, tmp_path / "next")


def test_a_folder_with_semicolons_keeps_them_and_its_decimal_commas(tmp_path):
    folder = write_folder(sheets(), tmp_path / "week")
    for name in ("Checks", "Package hours", "Absence"):
        file = folder / f"{name}.csv"
        with file.open(encoding="utf-8-sig", newline="") as stream:
            rows = list(csv.reader(stream))
        with file.open("w", encoding="utf-8-sig", newline="") as stream:
            told = [[cell.replace("20.5", "20,5") for cell in row] for row in rows]
            csv.writer(stream, delimiter=";").writerows(told)
    told = roll_forward(folder, PLAN, MONDAY)
    assert told.base is not None, told.messages
    assert told.base == roll_forward(folder, PLAN, MONDAY).base
    assert b";" in told.content["Checks.csv"].splitlines()[0]
    xlsx = roll_forward(write_workbook(sheets(), tmp_path / "week.xlsx"), PLAN, MONDAY)
    assert told.base == xlsx.base


def test_the_workbook_is_never_written_to(path):
    before = path.read_bytes()
    roll_forward(path, PLAN, MONDAY)
    assert path.read_bytes() == before


def test_items_at_a_shop_are_back_when_they_were_to_be_back(tmp_path):
    """Three items at two a day leave on the 8th: back on the 12th, whatever day it is read on."""
    book = with_shops(sheets())
    path = write_workbook(book, tmp_path / "week.xlsx")
    told = roll_forward(path, PLAN, MONDAY)
    after = rolled_plan(PLAN, told.base)
    assert audit(told.base, after).broken == ()
    outcome = capacity.plan(told.base, capacity.Settings(seconds=1), begin=after)
    assert outcome.audit.broken == ()
    # Without its Finished or As of the items would leave on the 11th and be back on the 13th.
    late = told.base.replace(
        progress=tuple(
            replace(row, as_of=MONDAY) if row.stage == "open" else row for row in told.base.progress
        ),
        shops=tuple(replace(shop, items_per_day=1.0) for shop in told.base.shops),
    )
    assert any("items are back" in sentence for sentence in audit(late, after).broken)


def test_extra_work_is_recorded_beside_the_routine_and_leaves_with_its_check(tmp_path):
    book = sheets()
    book["Extra work"] = [
        ["Check", "Stage", "Skill", "Man-hours", "Reason", "After", "Work", "Days"],
        ["C3", "inspect", "mechanic", 12, "grown finding", None, None, None],
        ["C3", "placard", "mechanic", 5, "customer request", "open", "maintenance", 1],
    ]
    path = write_workbook(book, tmp_path / "week.xlsx")
    booked = {"open": 40, "inspect": 140, "close": 30, "placard": 6}
    rows = [["C3", name, jan(14), None, hours, None, jan(13)] for name, hours in booked.items()]
    told = roll_forward(with_progress(path, *rows), PLAN, date(2027, 1, 18))
    kept = {row.stage: row for row in told.base.delivered if row.check == "C3"}
    inspect, placard = kept["inspect"], kept["placard"]
    assert (inspect.routine_hours, inspect.extra_hours) == (80.5, 12)
    assert inspect.planned_hours == pytest.approx(120.75 + 12)
    assert (placard.routine_hours, placard.extra_hours, placard.actual_hours) == (0, 5, 6)
    assert told.base.extra_work == ()
    stages = {one.stage: one for one in capacity.learn(told.base).packages[0].stages}
    assert stages["inspect"].findings.mean == pytest.approx((140 - 12 - 80.5) / 80.5)
    assert "placard" not in stages  # no stage of the package: nothing to plan with


def test_a_stage_nobody_reported_goes_on_as_planned_beside_one_that_was_reported(path):
    """Of C1 the opening is reported as of Monday, the inspection is not."""
    with_progress(path, ["C1", "open", MONDAY, None, 41, None, jan(7)])
    told = roll_forward(path, PLAN, MONDAY)
    assert shares_left(told, "C1") == pytest.approx({"open": 0, "inspect": 2 / 3, "close": 1})


def test_nothing_is_done_as_planned_before_what_it_waits_for(path):
    with_progress(path, ["C3", "inspect", MONDAY, 50, None, None, None])
    assert shares_left(roll_forward(path, PLAN, date(2027, 1, 12)), "C3") == pytest.approx(
        {"open": 0, "inspect": 0.5, "close": 1}
    )
    late = [["C1", "open", MONDAY, None, None, None, jan(8)]]  # the inspection was to begin then
    book = write_workbook(sheets(), path.with_name("late.xlsx"))
    told = roll_forward(with_progress(book, *late), PLAN, date(2027, 1, 12))
    assert shares_left(told, "C1")["inspect"] == pytest.approx(2 / 3)
