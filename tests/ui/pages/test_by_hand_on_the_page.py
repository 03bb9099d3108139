"""Changing the plan by hand on the page Planner: verdict, keep, undo, plan around, come back."""

import io
import time
from datetime import date

import openpyxl
import pytest
from streamlit.testing.v1 import AppTest

from capacity.plans.outcome import Planned
from capacity.questions.by_hand.values import HandMove
from tests.ruled_out_words import faults_in
from tests.ui.enquiry_plans import opened_tiny, planned_by_hand, put_on
from tests.ui.ways_through import MOST_SECONDS, button, desk_of, said
from tests.ui.words_on_pages import texts_of_page
from ui.board.component import Moved
from ui.desk import draft_plans, drafts
from ui.desk.board import BOARD, Board
from ui.desk.plan_job import is_outdated, result_of
from ui.desk.private_files import PrivateFiles
from ui.desk.saving import Saving
from ui.parts.by_hand_dropped import drop
from ui.parts.by_hand_form import BAY, CHECK, DAY, OFF

FREE = date(2027, 1, 12)


@pytest.fixture
def planner(app: AppTest) -> AppTest:
    """The page with a plan: T1, T2 and T4 in the large bay, T3 in the small one."""
    opened = opened_tiny()
    put_on(desk_of(app), opened, planned_by_hand(opened.book.base))
    return app.run()


def asked(app: AppTest, check: str, bay: str, in_day: date | None) -> AppTest:
    app.selectbox(key=CHECK).set_value(check).run()
    app.selectbox(key=BAY).set_value(bay).run()
    if in_day is not None:
        app.date_input(key=DAY).set_value(in_day).run()
    return app


def verdict(app: AppTest) -> str:
    return "\n".join(str(e.value) for e in [*app.success, *app.error]).replace("\\", "")


def waited(app: AppTest) -> AppTest:
    give_up = time.monotonic() + MOST_SECONDS
    while desk_of(app).is_working and time.monotonic() < give_up:
        time.sleep(0.05)
    return app.run()


def test_a_check_chosen_shows_its_slot_and_every_change_is_answered(planner: AppTest) -> None:
    planner.selectbox(key=CHECK).set_value("T3").run()
    assert planner.selectbox(key=BAY).value == "Small bay"
    assert planner.date_input(key=DAY).value == date(2027, 1, 7)
    assert "T3 into Small bay on Thu 7 Jan 2027; it is there already" in verdict(planner)
    asked(planner, "T3", "Large bay", FREE)
    assert "Not legal: T3 into Large bay on Tue 12 Jan 2027: taken by T2" in verdict(planner)
    assert button(planner, "Keep as held").disabled
    assert "If nothing were in the way" in said(planner)
    asked(planner, "T3", OFF, None)
    assert "Legal: T3 off the bays; it has no slot then." in verdict(planner)
    assert not any(map(faults_in, texts_of_page(planner)))


def test_moves_are_kept_undone_and_done_again(planner: AppTest) -> None:
    desk = desk_of(planner)
    asked(planner, "T3", "Small bay", FREE)
    button(planner, "Keep as held").click().run()
    assert [one.draft.moves for one in drafts.work_of(desk).drafts] == [
        (HandMove("T3", "Small bay", FREE),)
    ]
    assert "The board shows Draft A: 1 move, " in said(planner).replace("\\", "")
    one = drafts.shown_draft(desk)
    assert one is not None
    assert draft_plans.moved_from(one)["T3"].startswith("was in Small bay, in Thu 7 Jan 2027")
    button(planner, "Undo").click().run()
    assert drafts.draft_with_moves(desk) is None
    button(planner, "Redo").click().run()
    kept = drafts.draft_with_moves(desk)
    assert kept is not None
    assert draft_plans.outcome_of_draft(kept).audit.broken == ()


@pytest.mark.long
def test_drafts_stand_side_by_side_and_come_back_after_a_restart(planner, saved_elsewhere) -> None:
    desk = desk_of(planner)
    asked(planner, "T3", "Small bay", FREE)
    button(planner, "Keep as held").click().run()
    planner.selectbox(key="by hand draft Draft A 1").set_value("new draft: Draft B").run()
    asked(planner, "T4", OFF, None)
    button(planner, "Keep as held").click().run()
    rows = next(t.value for t in planner.table if "Draft" in t.value.columns)
    assert list(rows["Draft"]) == ["The plan", "Draft A", "Draft B"]
    plan = drafts.shown_draft(desk)
    assert plan is not None
    before = [draft_plans.plan_of_draft(one) for one in drafts.work_of(desk).drafts]
    again = Board(Saving(PrivateFiles(saved_elsewhere))).desk(desk.id)
    assert "2 drafts made by hand" in again.note
    work = drafts.work_of(again)
    assert [one.draft for one in work.drafts] == [o.draft for o in drafts.work_of(desk).drafts]
    assert work.drafts[0].start == result_of(again)
    assert [draft_plans.plan_of_draft(one) for one in work.drafts] == before
    assert drafts.shown_draft(again) == work.drafts[1]


@pytest.mark.long
def test_the_plan_around_what_is_held_is_one_of_a_workbook_that_holds_it(planner: AppTest) -> None:
    desk = desk_of(planner)
    asked(planner, "T3", "Small bay", FREE)
    button(planner, "Keep as held").click().run()
    planner.number_input[0].set_value(1).run()
    button(planner, "Plan around what is held").click().run()
    waited(planner)
    result = result_of(desk)
    assert result is not None
    assert isinstance(result.outcome, Planned)
    assert result.outcome.plan.by_check()["T3"][0].in_day == FREE
    assert desk.opened is not None
    base = desk.opened.book.base
    assert base is not None
    assert (base.check("T3").held_bay, base.check("T3").held_in) == ("Small bay", FREE)
    book = openpyxl.load_workbook(io.BytesIO(desk.opened.content or b""))
    headings = [cell.value for cell in book["Checks"][1]]
    row = next(r for r in book["Checks"].iter_rows(values_only=True) if r[0] == "T3")
    assert row[headings.index("Held")] == "both"
    assert not is_outdated(desk)
    assert drafts.draft_with_moves(desk) is None  # the board shows the new plan


@pytest.mark.long
def test_a_draft_is_taken_as_the_plan_and_another_one_after_it(planner: AppTest) -> None:
    desk = desk_of(planner)
    asked(planner, "T3", "Small bay", FREE)
    button(planner, "Keep as held").click().run()
    planner.selectbox(key="by hand draft Draft A 1").set_value("new draft: Draft B").run()
    asked(planner, "T4", OFF, None)
    button(planner, "Keep as held").click().run()
    planner.selectbox(key="by hand draft Draft B 2").set_value("Draft A").run()
    button(planner, "Take it as the plan").click().run()
    result = result_of(desk)
    assert result is not None
    assert isinstance(result.outcome, Planned)
    assert result.outcome.plan.by_check()["T3"][0].in_day == FREE
    assert "Changed by hand; nothing was searched for." in said(planner)
    # What Draft A held is let go again, for Draft B had T3 where it was.
    planner.selectbox(key="by hand draft Draft C 2").set_value("Draft B").run()
    button(planner, "Take it as the plan").click().run()
    result = result_of(desk)
    assert isinstance(result.outcome, Planned)
    assert "T4" in (*result.outcome.plan.not_placed, *result.outcome.plan.refused)
    assert result.outcome.plan.by_check()["T3"][0].in_day == date(2027, 1, 7)
    assert not is_outdated(desk)


def test_what_is_dropped_on_the_board_is_kept_where_that_is_legal(planner: AppTest) -> None:
    desk = desk_of(planner)
    drop(desk, Moved("T3", "Open", "Small bay", FREE))
    drop(desk, Moved("T3", "Open", "Large bay", FREE))  # T2 is there
    drop(desk, Moved("nobody", "", "Large bay", FREE))
    kept = drafts.draft_with_moves(desk)
    assert kept is not None
    assert kept.draft.moves == (HandMove("T3", "Small bay", FREE),)
    drop(desk, Moved("T4", "Open", None, None))
    kept = drafts.draft_with_moves(desk)
    assert kept is not None
    assert kept.draft.off_the_bays == ("T4",)
    planner.run()
    assert "The board shows Draft A: 2 moves, " in said(planner).replace("\\", "")


@pytest.mark.long
def test_a_re_plan_is_changed_by_hand_taken_and_planned_around_as_of_its_day(planner) -> None:
    desk, today = desk_of(planner), date(2027, 1, 6)
    planner.date_input(key="re-plan today").set_value(today).run()
    button(planner, "Re-plan").click().run()
    waited(planner)
    asked(planner, "T1", "Small bay", FREE)
    assert "it is fixed in Large bay on Mon 4 Jan 2027 (Checks!N2:O2)" in verdict(planner)
    asked(planner, "T4", OFF, None)
    button(planner, "Keep as held").click().run()
    asked(planner, "T3", "Small bay", FREE)
    button(planner, "Keep as held").click().run()
    button(planner, "Take it as the plan").click().run()
    taken = result_of(desk)
    assert taken is not None
    assert isinstance(taken.outcome, Planned)
    assert taken.outcome.plan.by_check()["T3"][0].in_day == FREE
    assert taken.outcome.audit.broken == ()
    assert taken.opened.book.base is not None
    assert taken.opened.book.base.work_counts_from == today
    again = Board(Saving(PrivateFiles(BOARD.saving.files.root))).desk(desk.id)
    kept = result_of(again)
    assert kept is not None
    assert isinstance(kept.outcome, Planned)
    assert kept.outcome.plan == taken.outcome.plan
    planner.selectbox(key="by hand draft Draft B 1").set_value("Draft A").run()
    button(planner, "Plan around what is held").click().run()
    waited(planner)
    around = result_of(desk)
    assert around is not None
    assert around.number != taken.number
    assert isinstance(around.outcome, Planned)
    assert around.outcome.plan.by_check()["T3"][0].in_day == FREE
    assert around.opened.book.base is not None
    assert around.opened.book.base.work_counts_from == today
