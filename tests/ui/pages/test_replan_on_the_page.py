"""A re-plan on the page Planner: news, the plan in force, what changes, what is taken away."""

import io
import json
import time
from dataclasses import replace
from datetime import date

import openpyxl
import pytest
from streamlit.testing.v1 import AppTest

from capacity.errors import StoppedError
from capacity.inputs.reading.as_of import as_of_plan
from capacity.inputs.reading.edited_copy import SheetEdit
from capacity.plans.outcome import Impossible
from capacity.questions.replan.replanning import replan
from capacity.reports.plan_files.asked_plan import read_plan
from capacity.reports.replan.wording import proof_in_words, saved_in_words, why_in_words
from capacity.settings import Settings
from tests.ruled_out_words import faults_in
from tests.ui.enquiry_plans import opened_tiny, planned_by_hand, put_on
from tests.ui.ways_through import MOST_SECONDS, button, desk_of, labels, said
from tests.ui.words_on_pages import texts_of_page
from ui.desk.board import Board
from ui.desk.opened_workbook import read_as_of, with_edits
from ui.desk.plan_file import report_bytes
from ui.desk.plan_job import is_outdated, plan_before, result_of
from ui.desk.private_files import PrivateFiles
from ui.desk.replan_job import ON_THE_PAGE, News, plan_on_the_page, start_replan
from ui.desk.saving import Saving
from ui.parts.running import STOPPED_EARLY
from ui.plain import plain

TODAY = date(2027, 1, 6)
LATER = SheetEdit("Checks", {3: {"Earliest in": date(2027, 1, 13), "Latest in": date(2027, 1, 20)}})
"""The customer of the second check brings it later."""


@pytest.fixture
def planner(app: AppTest) -> AppTest:
    """The page with a plan that has begun."""
    opened = opened_tiny()
    put_on(desk_of(app), opened, planned_by_hand(opened.book.base))
    return app.run()


def pressed(app: AppTest, today: date | None = TODAY) -> AppTest:
    app.date_input(key="re-plan today").set_value(today).run()
    button(app, "Re-plan").click().run()
    give_up = time.monotonic() + MOST_SECONDS
    while desk_of(app).is_working and time.monotonic() < give_up:
        time.sleep(0.05)
    return app.run()


def with_plan_file(app: AppTest, name: str, content: bytes) -> AppTest:
    (field,) = (f for f in app.file_uploader if f.label.startswith("Plan file"))
    field.set_value((name, content, "application/json")).run()
    return app


def table_of(app: AppTest, heading: str):
    return next(t.value for t in [*app.table, *app.dataframe] if heading in t.value.columns)


def test_no_day_is_today_until_a_person_says_so(planner):
    assert planner.date_input(key="re-plan today").value is None
    before = result_of(desk_of(planner))
    pressed(planner, None)
    assert "Set the day that is today" in said(planner)
    assert result_of(desk_of(planner)) == before


def test_without_a_plan_in_force_there_is_nothing_to_press(app):
    desk_of(app).open(opened_tiny())
    app.run()
    assert button(app, "Re-plan").disabled
    assert "There is no plan in force" in said(app)


def test_the_page_comes_to_what_the_question_answers_and_says_it_alike(planner):
    desk = desk_of(planner)
    old = result_of(desk).outcome.plan
    desk.keep_pending({"Checks": LATER})
    planner.run()
    pressed(planner)
    assert not planner.exception
    news = result_of(desk).news
    edited = read_as_of(with_edits(opened_tiny(), [LATER]), as_of_plan(old, TODAY))
    asked = replan(edited.book.base, old, TODAY, Settings(seconds=10))
    assert news.answer.plan.placements == asked.plan.placements
    assert news.answer.changes
    assert [change.check for change in news.answer.changes] == [c.check for c in asked.changes]
    assert saved_in_words(asked) in said(planner)
    assert proof_in_words(asked) in said(planner)
    assert "no lower bound was proven" not in said(planner)
    shown = table_of(planner, plain("Why"))
    assert list(shown["Check"]) == [change.check for change in asked.changes]
    assert list(shown["Why"]) == [plain(why_in_words(c, asked.base)) for c in asked.changes]
    assert faults_in(list(texts_of_page(planner))) == []


def test_the_new_plan_is_the_plan_of_all_pages_and_downloads(planner):
    desk = desk_of(planner)
    old = result_of(desk).outcome.plan
    desk.keep_pending({"Checks": LATER})
    planner.run()
    pressed(planner)
    result = result_of(desk)
    assert result.opened.book.base.work_counts_from == TODAY
    assert not is_outdated(desk)
    assert plan_before(desk).placements == old.placements
    assert labels(planner)[-5:] == [
        "Plan workbook (.xlsx)",
        "Plan file (.json)",
        "Calendar of the bays (.ics)",
        "Wall sheet A3 to print (.html)",
        "Wall sheet A4 to print (.html)",
    ]
    sheets = openpyxl.load_workbook(io.BytesIO(report_bytes(result, ".xlsx"))).sheetnames
    assert {"Slots", "Re-plan", "Changes"} <= set(sheets)
    assert report_bytes(result, ".ics").startswith(b"BEGIN:VCALENDAR")
    text = report_bytes(result, ".json").decode()
    assert json.loads(text)["made"]["work_counts_from"] == TODAY.isoformat()
    asked = read_plan(result.news.read, text)
    assert asked.plan.placements == result.outcome.plan.placements
    for page in ("base_manager", "commercial"):
        planner.switch_page(f"pages/{page}.py").run()
        assert not planner.exception


def test_a_second_re_plan_goes_on_from_the_first(planner):
    pressed(planner)
    first = result_of(desk_of(planner))
    pressed(planner, date(2027, 1, 7))
    second = result_of(desk_of(planner))
    assert second.number != first.number
    assert second.news.earlier.placements == first.outcome.plan.placements
    assert second.news.answer.changes == ()
    assert "Nothing changes: every slot is as before." in said(planner)


def test_a_saved_plan_file_is_the_plan_in_force(app, tmp_path):
    desk, opened = desk_of(app), opened_tiny()
    put_on(desk, opened, planned_by_hand(opened.book.base))
    saved = report_bytes(result_of(desk), ".json")
    placements = result_of(desk).outcome.plan.placements
    desk.open(opened)
    app.run()
    assert result_of(desk) is None
    with_plan_file(app, "monday.json", saved)
    pressed(app)
    assert not app.exception
    assert result_of(desk).news.earlier.placements == placements
    # The new plan is in force from now on, and not the file that was opened.
    (field,) = (f for f in app.file_uploader if f.label.startswith("Plan file"))
    assert field.value is None


def shown_of_file(app: AppTest, content: bytes) -> AppTest:
    with_plan_file(app, "monday.json", content)
    return button(app, "Show the plan of this file").click().run()


def test_a_saved_plan_file_is_shown_as_it_is(app):
    desk, opened = desk_of(app), opened_tiny()
    made = planned_by_hand(opened.book.base)
    put_on(desk, opened, made)
    saved = report_bytes(result_of(desk), ".json")
    desk.open(opened)
    app.run()
    assert "Show the plan of this file" not in [b.label for b in app.button]
    shown_of_file(app, saved)
    assert not app.exception
    result = result_of(desk)
    assert result.outcome.plan.placements == made.plan.placements
    assert result.outcome.audit.goals == made.audit.goals
    assert not is_outdated(desk)
    assert "Opened from a saved plan file; nothing was searched for." in said(app)
    again = json.loads(report_bytes(result, ".json"))
    assert again["placements"] == json.loads(saved)["placements"]


def test_the_plan_file_of_a_re_plan_is_shown_on_its_own_base(planner):
    desk = desk_of(planner)
    pressed(planner)
    before = result_of(desk)
    saved = report_bytes(before, ".json")
    desk.open(opened_tiny())
    planner.run()
    shown_of_file(planner, saved)
    assert result_of(desk).opened.book.base == before.opened.book.base
    assert result_of(desk).outcome.plan.placements == before.outcome.plan.placements


def test_a_plan_file_of_a_workbook_that_has_changed_is_not_shown_but_may_be_re_planned(planner):
    desk = desk_of(planner)
    saved = report_bytes(result_of(desk), ".json")
    desk.open(with_edits(opened_tiny(), [LATER]))
    planner.run()
    shown_of_file(planner, saved)
    assert result_of(desk) is None
    assert "cannot be shown with this workbook. You can still re-plan from it." in said(planner)
    shown = table_of(planner, plain("What to do"))
    assert "the workbook has changed since the plan was made" in shown["What"][0]
    pressed(planner)
    assert result_of(desk).news.answer.changes


def test_what_the_workbook_changed_since_a_plan_file_is_said(planner):
    saved = report_bytes(result_of(desk_of(planner)), ".json")
    desk_of(planner).open(with_edits(opened_tiny(), [LATER]))
    planner.run()
    with_plan_file(planner, "monday.json", saved)
    pressed(planner)
    assert "Messages about the plan in force (1)" in [e.label for e in planner.expander]
    assert "has changed since this plan was made" in "\n".join(texts_of_page(planner))


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (b"<script>alert(1)</script>", "it is not JSON"),
        (b"[" * 100_000, "nested too deeply"),
        (b"\xff\xfe\x00", "not in UTF-8"),
        (b'{"outcome": "impossible"}', "there is no plan in it"),
        (b'{"outcome": "planned", "placements": [{"check": "<b>*x*</b>"}]}', "it is missing"),
    ],
    ids=["script", "deep", "bytes", "no plan", "half a plan"],
)
def test_a_file_that_is_no_plan_is_refused_with_its_messages(planner, content, told):
    before = result_of(desk_of(planner))
    with_plan_file(planner, "<i>plan</i>.json", content)
    pressed(planner)
    assert not planner.exception
    assert result_of(desk_of(planner)) == before
    assert "The re-plan was not made." in said(planner)
    shown = table_of(planner, plain("What to do"))
    assert any(plain(told) in what for what in shown["What"])


def test_a_plan_of_another_base_is_refused(planner):
    saved = json.loads(report_bytes(result_of(desk_of(planner)), ".json"))
    saved["made"]["base"] = "Elsewhere <b>"
    with_plan_file(planner, "other.json", json.dumps(saved).encode())
    pressed(planner)
    shown = table_of(planner, plain("What to do"))
    assert plain("this is a plan of the base 'Elsewhere <b>'") in shown["What"][0]


def test_a_day_after_the_last_in_day_is_refused_and_the_plan_stays(planner):
    before = result_of(desk_of(planner))
    pressed(planner, date(2029, 1, 1))
    assert not planner.exception
    assert result_of(desk_of(planner)) == before
    assert "Nothing was done" in said(planner)
    shown = table_of(planner, plain("What to do"))
    assert "the last day on which a check can come in" in shown["What"][0]
    assert shown["What to do"][0] == plain("Correct it, or raise Weeks.")


def progress(as_of: date) -> SheetEdit:
    return SheetEdit("Progress", added=({"Check": "T1", "As of": as_of, "Done %": 20},))


def test_progress_of_today_is_used_by_the_re_plan_and_is_no_error_then(planner):
    desk = desk_of(planner)
    desk.keep_pending({"Progress": progress(TODAY)})
    planner.run()
    pressed(planner)
    assert not planner.exception
    assert result_of(desk).news.read.progress_of("T1")
    assert not desk.pending


def test_progress_later_than_today_is_refused_with_its_cell(planner):
    desk = desk_of(planner)
    before = result_of(desk)
    desk.keep_pending({"Progress": progress(date(2027, 1, 8))})
    planner.run()
    pressed(planner)
    assert result_of(desk) == before
    assert desk.pending, "what was entered is not lost"
    shown = table_of(planner, plain("What to do"))
    assert plain("Progress!") in shown["Where"][0]
    assert plain("is after today, Wed 6 Jan 2027.") in shown["What"][0]


def test_a_re_plan_outlives_a_restart_on_its_own_base(tmp_path):
    board = Board(Saving(PrivateFiles(tmp_path / "kept")))
    desk, opened = board.desk(None), opened_tiny()
    put_on(desk, opened, planned_by_hand(opened.book.base))
    desk.keep_pending({})
    job = start_replan(desk, plan_on_the_page(desk), News(TODAY, seconds=5))
    job.join(MOST_SECONDS)
    before = result_of(desk)
    after = Board(Saving(PrivateFiles(tmp_path / "kept"))).desk(desk.id)
    again = result_of(after)
    assert again.outcome.plan == before.outcome.plan
    assert again.opened.book.base == before.opened.book.base
    assert again.outcome.audit.goals == before.outcome.audit.goals
    assert not is_outdated(after)
    made = [json.loads(report_bytes(one, ".json"))["made"] for one in (before, again)]
    assert made[0] | {"time": None} == made[1] | {"time": None}
    assert replace(plan_on_the_page(after), made=None) == replace(plan_on_the_page(desk), made=None)
    assert plan_on_the_page(after).name == ON_THE_PAGE


def test_a_re_plan_stopped_before_its_first_plan_takes_the_plan_from_nobody(planner, monkeypatch):
    def stopped(*told, **more):
        raise StoppedError("stopped")

    monkeypatch.setattr("ui.desk.replan_job.replan", stopped)
    before = result_of(desk_of(planner))
    pressed(planner)
    assert result_of(desk_of(planner)) == before
    assert STOPPED_EARLY in said(planner)


def test_a_re_plan_that_cannot_be_says_why_and_the_plan_stays(planner, monkeypatch):
    why = "T1 is in already, but its bay <b>is</b> closed."
    monkeypatch.setattr("ui.desk.replan_job.replan", lambda *told, **more: Impossible((why,), 1.0))
    before = result_of(desk_of(planner))
    pressed(planner)
    assert result_of(desk_of(planner)) == before
    shown = table_of(planner, plain("What to do"))
    assert list(shown["What"]) == [plain(why)]


def test_names_of_a_workbook_are_shown_as_they_stand(planner):
    evil = "<img src=x onerror=alert(1)> **bold** :red[x]"
    desk = desk_of(planner)
    changed = {**LATER.changed[3], "Customer": evil}
    desk.keep_pending({"Checks": SheetEdit("Checks", {3: changed})})
    planner.run()
    pressed(planner)
    told = list(table_of(planner, "Who must be told")["Who must be told"])
    assert any(plain(evil) in line for line in told)
    assert not any(evil in line for line in told)


def entered_on_ground(app: AppTest, **fields: object) -> AppTest:
    """Fill in the form of an aircraft on ground and add it."""
    (box,) = (c for c in app.checkbox if c.label == "Take in an aircraft on ground")
    box.check().run()
    for name, value in {"hours Mechanic": 80.0, **fields}.items():
        kind = app.text_input if isinstance(value, str) else app.number_input
        (field,) = (f for f in kind if (f.key or "").startswith(f"aircraft on ground {name} "))
        field.set_value(value)
    app.run()
    return button(app, "Add this aircraft").click().run()


def test_an_aircraft_on_ground_is_taken_in_by_the_re_plan_and_is_in_the_workbook(planner):
    desk = desk_of(planner)
    entered_on_ground(planner, name="R-77", days=2)
    assert "; 2 days; Mechanic 80; name R-77; work maintenance" in said(planner)
    assert not desk.opened.is_edited, "nothing is in the workbook before the re-plan"
    pressed(planner)
    assert not planner.exception
    result = result_of(desk)
    assert "R-77" in result.outcome.plan.by_check()
    assert desk.opened.book.base.has_check("R-77")
    assert not is_outdated(desk)
    assert [c.check for c in result.news.answer.changes if c.before == ()][:1] == ["R-77"]
    assert "each day that it waits counts" in "\n".join(texts_of_page(planner))
    assert "; 2 days; Mechanic 80" not in said(planner), "it is not taken in twice"


def test_what_is_wrong_with_an_aircraft_on_ground_is_said_and_it_is_not_added(planner):
    entered_on_ground(planner, name="T1")
    shown = table_of(planner, plain("What to do"))
    assert plain("'T1' is already a check or a package in the workbook.") in list(shown["What"])
    assert "Leave it out" not in [b.label for b in planner.button]


def test_the_messages_as_of_a_day_are_those_of_a_re_plan_on_it(planner):
    desk = desk_of(planner)
    desk.use(with_edits(opened_tiny(), [progress(date(2027, 1, 8))]))
    planner.run()
    planner.date_input(key="verify today").set_value(TODAY).run()
    assert "As of Wed 6 Jan 2027: 1 error" in said(planner)
    planner.date_input(key="verify today").set_value(date(2027, 1, 8)).run()
    assert "As of Fri 8 Jan 2027: 0 errors" in said(planner)
