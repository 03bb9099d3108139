"""Every question as a person types it, on the tiny sample: exit codes and files."""

import json
from datetime import date
from pathlib import Path

import icalendar
import openpyxl
import pytest

from capacity.cli import QUESTIONS, app, main
from capacity.commands.exits import Exit
from capacity.reports import report

pytestmark = pytest.mark.usefixtures("reads_once")

TINY = str(Path(__file__).parents[1] / "sample_inputs" / "tiny.xlsx")


def run(*arguments: str) -> int:
    with pytest.raises(SystemExit) as ended:
        main(list(arguments))
    return int(ended.value.code)


@pytest.fixture(scope="module")
def plan(tmp_path_factory) -> str:
    """The plan that WORKBOOK.md works out by hand, as a summary."""
    path = tmp_path_factory.mktemp("plan") / "plan.json"
    assert run("plan", TINY, "--plan-out", str(path), "--seconds", "20") == Exit.PLANNED
    return str(path)


def test_help_names_every_question():
    assert app.list_commands(None) == list(QUESTIONS)
    for name in QUESTIONS:
        command = app.get_command(None, name)
        assert command is not None
        assert command.help
    assert app.get_command(None, "nothing") is None


def test_the_plan_can_be_had_as_a_calendar_of_the_bays(tmp_path):
    path = tmp_path / "bays.ics"
    assert run("plan", TINY, "--calendar", str(path), "--seconds", "20") == Exit.PLANNED
    events = list(icalendar.Calendar.from_ical(path.read_bytes()).walk("VEVENT"))
    assert len(events) == 4


def test_crews_have_shift_lists_and_calendars(plan, tmp_path, capsys):
    out, folder = tmp_path / "crews.xlsx", tmp_path / "feeds"
    folder.mkdir()
    options = ("--weeks", "3", "--seconds", "5", "--out", str(out), "--calendars", str(folder))
    assert run("crews", TINY, "--plan", plan, *options) == Exit.PLANNED
    assert "overload" in capsys.readouterr().out
    assert "Shift lists" in openpyxl.load_workbook(out).sheetnames
    (feed,) = folder.glob("*.ics")
    assert icalendar.Calendar.from_ical(feed.read_bytes()).walk("VEVENT")


def test_crews_cannot_be_had_for_days_outside_the_plan(plan):
    assert run("crews", TINY, "--plan", plan, "--first-day", "2026-01-01") == Exit.USAGE


def test_overtime_is_reviewed(plan, tmp_path, capsys):
    # WORKBOOK.md: T3 on the 7th leaves 20 h of overtime at 40 EUR in the second week.
    out = tmp_path / "overtime.xlsx"
    options = ("--no-measures", "--out", str(out))
    assert run("overtime", TINY, "--plan", plan, *options) == Exit.PLANNED
    assert "800 EUR" in capsys.readouterr().out
    assert openpyxl.load_workbook(out).sheetnames


def test_an_enquiry_is_priced_and_taken(plan, tmp_path, capsys):
    out, accepted = tmp_path / "answer.xlsx", tmp_path / "accepted.json"
    aircraft = ("--type", "Alder 50", "--package", "Wash and inspect", "--price", "5000")
    days = ("--earliest", "2027-01-18", "--agreed-out", "2027-01-30")
    files = ("--out", str(out), "--plan-out", str(accepted))
    assert run("enquiry", TINY, "--plan", plan, *aircraft, *days, *files) == Exit.PLANNED
    assert "Best combination" in capsys.readouterr().out
    placed = {p["check"] for p in json.loads(accepted.read_text(encoding="utf-8"))["placements"]}
    assert placed == {"T1", "T2", "T3", "T4", "Enquiry"}


def test_a_plan_file_names_no_enquiry_that_is_not_taken(plan, tmp_path, monkeypatch, capsys):
    """The best set takes none: no bay is free for it in its first two days."""
    outcomes = []
    monkeypatch.setattr(
        "capacity.commands.taken_enquiries.report",
        lambda base, outcome, *more, **named: (
            outcomes.append(outcome) or report(base, outcome, *more, **named)
        ),
    )
    accepted = tmp_path / "accepted.json"
    aircraft = ("--type", "Alder 50", "--package", "Week check", "--plan-out", str(accepted))
    days = ("--earliest", "2027-01-04", "--latest", "2027-01-05")
    assert run("enquiry", TINY, "--plan", plan, *aircraft, *days) == Exit.PLANNED
    said = capsys.readouterr().out
    assert "Best combination: none of the enquiries" in said
    assert "add the enquiries taken" not in said
    assert outcomes[-1].audit.broken == ()
    found = json.loads(accepted.read_text(encoding="utf-8"))
    assert not [one for one in found["findings"] if "Enquiry" in one["what"]]
    assert run("compare", TINY, "--plan", plan, "--plan", str(accepted)) == Exit.PLANNED


def test_an_enquiry_needs_a_list_or_one_aircraft(plan):
    assert run("enquiry", TINY, "--plan", plan) == Exit.USAGE
    assert run("enquiry", TINY, "--plan", plan, "--type", "Alder 50") == Exit.USAGE


def test_an_unknown_type_is_told_with_what_there_is(plan, capsys):
    options = ("--type", "Nothing", "--package", "Wash and inspect", "--earliest", "2027-01-18")
    assert run("enquiry", TINY, "--plan", plan, *options) == Exit.INPUT_ERRORS
    assert "'Nothing'" in capsys.readouterr().err


def test_a_re_plan_with_nothing_changed_changes_nothing(plan, tmp_path, capsys):
    summary = tmp_path / "new.json"
    options = ("--today", "2027-01-04", "--seconds", "10", "--plan-out", str(summary))
    assert run("replan", TINY, "--plan", plan, *options) == Exit.PLANNED
    assert "Nothing changes" in capsys.readouterr().out
    old, new = (
        json.loads(Path(p).read_text(encoding="utf-8"))["placements"] for p in (plan, summary)
    )
    assert new == old


def test_two_plans_are_compared(plan, tmp_path, capsys):
    out = tmp_path / "compared.xlsx"
    assert run("compare", TINY, "--plan", plan, "--plan", plan, "--out", str(out)) == Exit.PLANNED
    assert "0 of 4 checks differ" in capsys.readouterr().out
    assert openpyxl.load_workbook(out).sheetnames


def test_the_risk_is_told_and_written(plan, tmp_path, capsys):
    out = tmp_path / "risk.xlsx"
    options = ("--simulations", "200", "--default-spread", "30", "--out", str(out))
    assert run("risk", TINY, "--plan", plan, *options) == Exit.PLANNED
    assert "least likely to be out" in capsys.readouterr().out
    assert openpyxl.load_workbook(out).sheetnames


def test_why_a_check_is_late_and_what_more_would_be_worth(plan, tmp_path, capsys):
    # WORKBOOK.md: T4 goes home 4 days late, since T2 has the large bay until the 16th.
    out = tmp_path / "why.xlsx"
    options = ("--check", "T4", "--worth", "--seconds", "10", "--out", str(out))
    assert run("explain", TINY, "--plan", plan, *options) == Exit.PLANNED
    said = capsys.readouterr().out
    assert "T4" in said
    assert "taken by T2" in said
    assert len(openpyxl.load_workbook(out).sheetnames) == 2


def test_a_book_whose_checks_all_find_a_place_has_no_conflict(capsys):
    assert run("explain", TINY, "--seconds", "10") == Exit.PLANNED
    assert "planning aid" in capsys.readouterr().out


def test_a_check_is_explained_within_a_plan_only():
    assert run("explain", TINY, "--check", "T4") == Exit.USAGE


def test_checks_are_moved_by_hand_and_held_in_a_copy(plan, tmp_path, capsys):
    held, other = tmp_path / "held.xlsx", tmp_path / "other.xlsx"
    free = ("--move", "T3; Small bay; 2027-01-12", "--move", "T4; off")
    assert run("explain", TINY, "--plan", plan, *free, "--workbook-out", str(held)) == Exit.PLANNED
    said = capsys.readouterr().out
    assert "Legal: T3 into Small bay on Tue 12 Jan 2027, out on " in said
    assert "Legal: T4 off the bays; it has no slot then." in said
    assert "All 2 moves together: the plan costs " in said
    sheet = openpyxl.load_workbook(held)["Checks"]
    headings = [cell.value for cell in sheet[1]]
    row = next(row for row in sheet.iter_rows(values_only=True) if row[0] == "T3")
    assert (row[headings.index("Held")], row[headings.index("Fixed bay")]) == ("both", "Small bay")
    taken = ("--move", "T3; Large bay; 2027-01-12", "--workbook-out", str(other))
    assert run("explain", TINY, "--plan", plan, *taken) == Exit.IMPOSSIBLE
    assert "other.xlsx is not written" in capsys.readouterr().out
    assert not other.exists()


@pytest.mark.parametrize(
    "options",
    [
        ("--move", "T3; Large bay"),
        ("--move", "T3; Large bay; soon"),
        ("--move", "T3; off", "--worth"),
        ("--workbook-out", "a.xlsx"),
    ],
)
def test_a_move_has_a_check_a_bay_and_a_day(options, plan):
    assert run("explain", TINY, "--plan", plan, *options) == Exit.USAGE
    assert run("explain", TINY, "--move", "T3; off") == Exit.USAGE


@pytest.mark.parametrize("what_if", ["findings-80", "buffers"])
def test_a_more_careful_plan_is_judged_on_the_same_draws(what_if, plan, tmp_path, capsys):
    out = tmp_path / "risk.xlsx"
    options = (
        "--simulations",
        "200",
        "--default-spread",
        "30",
        "--what-if",
        what_if,
        "--out",
        str(out),
    )
    assert run("risk", TINY, "--plan", plan, "--seconds", "10", *options) == Exit.PLANNED
    assert "this plan -> a plan made with" in capsys.readouterr().out
    sheet = openpyxl.load_workbook(out)["Two plans"]
    assert sheet["A4"].value == "Checks late out"


@pytest.mark.parametrize("question", ["crews", "overtime", "risk", "enquiry"])
def test_the_input_is_never_written_to(question, plan):
    assert run(question, TINY, "--plan", plan, "--out", TINY) == Exit.USAGE


def test_an_old_book_with_errors_ends_a_replan_with_1_and_is_named(plan, capsys):
    broken = str(Path(TINY).with_name("broken.xlsx"))
    options = "--today", "2027-01-04", "--old-workbook", broken, "--seconds", "5"
    assert run("replan", TINY, "--plan", plan, *options) == Exit.INPUT_ERRORS
    shown = capsys.readouterr().err
    assert "error Bays!A8" in shown
    assert "broken.xlsx has errors; nothing was done" in shown


def test_an_old_book_that_is_not_there_ends_a_replan_with_1(plan, capsys):
    options = "--today", "2027-01-04", "--old-workbook", "nothing.xlsx", "--seconds", "5"
    assert run("replan", TINY, "--plan", plan, *options) == Exit.INPUT_ERRORS
    assert "nothing.xlsx" in capsys.readouterr().err


def test_a_plan_of_another_book_is_refused(tmp_path, capsys):
    path = tmp_path / "other.json"
    path.write_text(
        '{"outcome": "planned", "placements": [], "not_placed": ["Nobody"]}', encoding="utf-8"
    )
    assert run("risk", TINY, "--plan", str(path)) == Exit.INPUT_ERRORS
    assert "Nobody" in capsys.readouterr().err


def test_an_aircraft_on_ground_goes_into_the_plan_and_into_a_copy_of_the_workbook(
    plan, tmp_path, capsys
):
    files = {name: str(tmp_path / name) for name in ("p.xlsx", "p.json", "b.ics", "next.xlsx")}
    line = "Alder 50; 2 days; Mechanic 30; latest in 2027-01-20; customer Fernhill"
    before = Path(TINY).read_bytes()
    options = ("--plan", plan, "--today", "2027-01-05", "--seconds", "5")
    outputs = ("--out", "p.xlsx", "--plan-out", "p.json", "--calendar", "b.ics")
    named = [files.get(one, one) for one in (*outputs, "--workbook-out", "next.xlsx")]
    assert run("replan", TINY, *options, "--aircraft-on-ground", line, *named) == Exit.PLANNED
    assert "AOG-1: new" in capsys.readouterr().out
    assert Path(TINY).read_bytes() == before
    slots = openpyxl.load_workbook(files["p.xlsx"])["Slots"]
    assert "AOG-1" in {row[0] for row in slots.iter_rows(values_only=True)}
    assert run("verify", files["next.xlsx"]) == Exit.PLANNED
    # The next day: the copy is the workbook now, and nothing is said to have changed.
    capsys.readouterr()
    again = ("--plan", files["p.json"], "--today", "2027-01-06", "--seconds", "5")
    assert run("replan", files["next.xlsx"], *again) == Exit.PLANNED
    said = capsys.readouterr().out
    assert "has changed since" not in said
    assert "Nothing changes: every slot is as before." in said
    assert run("overtime", files["next.xlsx"], "--plan", files["p.json"]) == Exit.PLANNED


def test_what_is_wrong_with_an_aircraft_on_ground_is_said_with_a_remedy(plan, tmp_path, capsys):
    options = ("--plan", plan, "--today", "2027-01-05")
    nothing = ("--workbook-out", str(tmp_path / "next.xlsx"))
    assert run("replan", TINY, *options, *nothing) == Exit.USAGE
    assert "--aircraft-on-ground: give that too" in capsys.readouterr().err
    assert run("replan", TINY, *options, "--aircraft-on-ground", "Alder") == Exit.INPUT_ERRORS
    assert "Did you mean 'Alder 50'?" in capsys.readouterr().err
    same = ("--aircraft-on-ground", "Alder 50; 2 days; Mechanic 30", "--workbook-out", TINY)
    assert run("replan", TINY, *options, *same) == Exit.USAGE
    assert "the input is never written to" in capsys.readouterr().err


def test_an_aircraft_on_ground_without_a_copy_of_the_workbook_is_noted(plan, tmp_path, capsys):
    line = "Alder 50; 2 days; Mechanic 30; latest in 2027-01-20"
    options = ("--plan", plan, "--today", "2027-01-05", "--seconds", "3")
    out = ("--plan-out", str(tmp_path / "p.json"))
    assert run("replan", TINY, *options, "--aircraft-on-ground", line, *out) == Exit.PLANNED
    assert "Give --workbook-out NEXT.xlsx too" in capsys.readouterr().out


WASH = ("--type", "Alder 50", "--package", "Wash and inspect", "--earliest", "2027-01-18")


def test_an_enquiry_is_booked_into_plan_and_workbook(plan, tmp_path, capsys):
    files = [str(tmp_path / name) for name in ("p.xlsx", "p.json", "b.ics", "next.xlsx")]
    options = ("--booked-out", "--plan-out", "--calendar", "--workbook-out")
    named = [one for pair in zip(options, files, strict=True) for one in pair]
    asked = ("--plan", plan, *WASH, "--price", "900", "--name", "E-1", "--seconds", "5")
    assert run("enquiry", TINY, *asked, "--book", "worth-it", *named) == Exit.PLANNED
    assert "Booked: E-1: " in capsys.readouterr().out
    assert all(Path(file).is_file() for file in files)
    # The copy is the workbook from now on: E-1 is a check of it, and of the plan file.
    again = ("--plan", files[1], "--today", "2027-01-04", "--seconds", "5")
    assert run("replan", files[3], *again) == Exit.PLANNED
    said = capsys.readouterr().out
    assert "Nothing changes: every slot is as before." in said
    assert "has changed since" not in said
    twice = ("--plan", files[1], *WASH, "--name", "E-1")
    assert run("enquiry", files[3], *twice) == Exit.INPUT_ERRORS


def test_what_is_not_worth_it_is_not_booked_unless_that_is_said(plan, tmp_path, capsys):
    out = tmp_path / "p.xlsx"
    costly = ("--type", "Alder 50", "--package", "Week check", "--earliest", "2027-01-11")
    asked = ("--plan", plan, *costly, "--latest", "2027-01-12", "--may-move", "all")
    named = ("--seconds", "5", "--booked-out", str(out))
    assert run("enquiry", TINY, *asked, "--book", "worth-it", *named) == Exit.PLANNED
    assert "Nothing is booked: no enquiry is worth it at this price." in capsys.readouterr().out
    assert not out.exists()
    assert run("enquiry", TINY, *asked, "--book", "anyway", *named) == Exit.PLANNED
    assert "not worth it at this price, booked anyway" in capsys.readouterr().out
    assert "E" in openpyxl.load_workbook(out)["Changes"]["A2"].value


def test_an_aircraft_on_ground_is_an_enquiry_too(plan, tmp_path, capsys):
    line = ("--aircraft-on-ground", "Alder 50; 3 days; Mechanic 90; name Q-7")
    next_book = str(tmp_path / "next.xlsx")
    asked = ("--plan", plan, *line, "--earliest", "2027-01-18", "--seconds", "5")
    booked = ("--book", "anyway", "--workbook-out", next_book)
    assert run("enquiry", TINY, *asked, *booked) == Exit.PLANNED
    assert "Booked: Q-7: " in capsys.readouterr().out
    rows = openpyxl.load_workbook(next_book)["Packages"].iter_rows(values_only=True)
    assert "Q-7 work" in {row[0] for row in rows}


def test_options_of_a_booking_that_do_not_go_together_are_refused(plan, tmp_path, capsys):
    asked = ("--plan", plan, *WASH)
    assert run("enquiry", TINY, *asked, "--calendar", str(tmp_path / "b.ics")) == Exit.USAGE
    assert run("enquiry", TINY, *asked, "--workbook-out", str(tmp_path / "n.xlsx")) == Exit.USAGE
    assert run("enquiry", TINY, *asked, "--aircraft-on-ground", "Alder 50") == Exit.USAGE
    assert "leave out --type and --package" in capsys.readouterr().err
    listed = ("--enquiries", "e.xlsx", "--name", "E-1")
    assert run("enquiry", TINY, "--plan", plan, *listed) == Exit.USAGE
    assert "leave out --aircraft-on-ground, --name and --customer" in capsys.readouterr().err


def test_two_plans_of_two_workbooks_are_compared_step_by_step(plan, tmp_path, capsys):
    line = "Alder 50; 2 days; Mechanic 30; latest in 2027-01-20"
    files = [str(tmp_path / name) for name in ("p.json", "next.xlsx", "compared.xlsx")]
    options = ("--plan", plan, "--today", "2027-01-05", "--seconds", "5")
    outputs = ("--plan-out", files[0], "--workbook-out", files[1])
    assert run("replan", TINY, *options, "--aircraft-on-ground", line, *outputs) == Exit.PLANNED
    both = ("--plan", plan, "--plan", files[0])
    assert run("compare", files[1], *both, "--out", files[2]) == Exit.PLANNED
    assert "new checks (AOG-1)" in capsys.readouterr().out
    assert run("compare", files[1], *both, "--old-workbook", TINY) == Exit.PLANNED
    said = capsys.readouterr().out
    assert "checks that are gone" in said
    assert "the workbook: same slots, checks of both plans" in said


def with_news(path: Path) -> str:
    """Write the tiny sample with progress as of a day of a re-plan, and a late part of T3."""
    book = openpyxl.load_workbook(TINY)
    progress = book.create_sheet("Progress")
    progress.append(["Check", "Stage", "As of", "Done %"])
    progress.append(["T1", "Repair", date(2027, 1, 7), 50])
    progress.append(["T3", "Open", date(2027, 1, 8), 50])
    ready = book.create_sheet("Ready dates")
    ready.append(["Check", "Stage", "Not before", "Reason"])
    ready.append(["T3", "Close", date(2027, 1, 20), "part"])
    book.save(path)
    return str(path)


def test_a_workbook_for_a_re_plan_is_verified_as_of_its_day(plan, tmp_path, capsys):
    path = with_news(tmp_path / "news.xlsx")
    assert run("verify", path) == Exit.INPUT_ERRORS
    assert "Progress!C2: As of Thu 7 Jan 2027 is after the First day" in capsys.readouterr().err
    # T3 is booked: it is in work by the plan alone, since Thursday the 7th.
    assert run("verify", path, "--today", "2027-01-08") == Exit.INPUT_ERRORS
    assert "'T3' is booked and not in work" in capsys.readouterr().err
    assert run("verify", path, "--today", "2027-01-08", "--plan", plan) == Exit.PLANNED
    assert run("verify", path, "--plan", plan) == Exit.USAGE
    assert run("learn", path) == Exit.INPUT_ERRORS
    assert run("learn", path, "--today", "2027-01-08", "--plan", plan) == Exit.PLANNED
    today = ("--today", "2027-01-08", "--seconds", "5")
    assert run("replan", path, "--plan", plan, *today) == Exit.PLANNED
    assert "2 checks (Progress)" in capsys.readouterr().out


def test_what_each_ready_date_costs_is_explained(tmp_path, capsys):
    book = openpyxl.load_workbook(TINY)
    ready = book.create_sheet("Ready dates")
    ready.append(["Check", "Stage", "Not before", "Reason"])
    ready.append(["T3", "Close", date(2027, 2, 1), "part"])
    path, plan, out = (str(tmp_path / name) for name in ("late.xlsx", "late.json", "why.xlsx"))
    book.save(path)
    assert run("plan", path, "--plan-out", plan, "--seconds", "10") == Exit.PLANNED
    capsys.readouterr()
    options = ("--ready-dates", "--seconds", "15", "--out", out)
    assert run("explain", path, "--plan", plan, *options) == Exit.PLANNED
    said = capsys.readouterr().out
    assert "'Close' of T3 not before Mon 1 Feb 2027 (part): ready at once (Ready dates!C2)" in said
    assert "Worth" in openpyxl.load_workbook(out).sheetnames
    options = ("--check", "T2", "--ready-dates", "--seconds", "5")
    assert run("explain", path, "--plan", plan, *options) == Exit.PLANNED
    assert "The check has no Ready date to try." in capsys.readouterr().out
    assert run("explain", path, "--ready-dates") == Exit.USAGE
    both = ("--plan", plan, "--worth", "--ready-dates")
    assert run("explain", path, *both) == Exit.USAGE


def test_an_aircraft_on_ground_is_taken_into_tables_of_csv_files_without_a_copy(
    plan, tmp_path, capsys
):
    folder = tmp_path / "tables"
    folder.mkdir()
    for sheet in openpyxl.load_workbook(TINY):
        rows = [[as_csv(value) for value in row] for row in sheet.iter_rows(values_only=True)]
        text = "\n".join(",".join(row) for row in rows)
        (folder / f"{sheet.title}.csv").write_text(text, encoding="utf-8")
    line = ("--aircraft-on-ground", "Alder 50; 2 days; Mechanic 30; latest in 2027-01-20")
    options = ("--plan", plan, "--today", "2027-01-05", "--seconds", "3", *line)
    assert run("replan", str(folder), *options) == Exit.PLANNED
    assert "AOG-1: new" in capsys.readouterr().out
    copy = ("--workbook-out", str(tmp_path / "next.xlsx"))
    assert run("replan", str(folder), *options, *copy) == Exit.USAGE
    assert "save the tables as one workbook" in capsys.readouterr().err


def as_csv(value: object) -> str:
    """Return a cell as a CSV file has it, quoted; dates in ISO form."""
    text = "" if value is None else str(value).removesuffix(" 00:00:00")
    return f'"{text}"'
