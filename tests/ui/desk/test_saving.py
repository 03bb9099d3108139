"""Work outlives the server: kept on disk for its owner alone, within limits."""

import json
import os
import stat
import time
from dataclasses import replace
from datetime import date

import pytest

from capacity.inputs.reading.edited_copy import SheetEdit
from capacity.plans.audit import audit
from capacity.plans.outcome import Planned
from capacity.questions.risk.compared import compare
from capacity.questions.risk.settings import RiskSettings
from capacity.reports.risk.text import WhatIf
from capacity.settings import Settings
from tests.ui.ways_through import SAMPLES
from ui.desk.board import Board
from ui.desk.opened_workbook import OpenedBook, opened_from_path, with_edits
from ui.desk.plan_job import is_outdated, result_of, start_plan
from ui.desk.private_files import PrivateFiles
from ui.desk.saved_work import edits_from, saved_edits
from ui.desk.saving import NOTHING_SAVED, RUN_GONE, Saving
from ui.manager.risk_job import RISK, RiskTold, risk_on
from ui.planner.why_job import WHY, WhyAnswers, WhyAsked, answers_of

EDIT = SheetEdit("Checks", {2: {"Customer": "Aero"}}, ({"Check": "N"},), frozenset({4}))
DAY = 86_400.0


@pytest.fixture
def board(tmp_path) -> Board:
    return Board(Saving(PrivateFiles(tmp_path / "kept")))


@pytest.fixture(scope="module")
def tiny() -> OpenedBook:
    return opened_from_path(SAMPLES / "tiny.xlsx")


def restarted(board: Board) -> Board:
    """Return the board of a server started anew over the same files."""
    return Board(Saving(PrivateFiles(board.saving.files.root)))


def planned(board: Board, opened: OpenedBook):
    desk = board.desk(None)
    desk.open(opened)
    start_plan(desk, Settings(seconds=20)).join(30)
    return desk


def files(board: Board) -> list:
    return [path for path in board.saving.files.root.rglob("*") if path.is_file()]


def test_after_a_restart_workbook_changes_and_plan_are_here_again(board, tiny):
    before = planned(board, tiny)
    before.keep_pending({"Checks": EDIT})
    typed = ({"Check": "P", "Earliest in": date(2027, 1, 4), "Price": 9000.0}, {}, {"Check": "Q"})
    before.keep_enquiries(typed)
    after = restarted(board).desk(before.id)
    assert after is not before
    assert after.enquiries == typed
    assert "2 enquiries in their table" in after.note
    assert after.opened == tiny
    assert after.pending == {"Checks": EDIT}
    first, second = result_of(before).outcome, result_of(after).outcome
    assert second.plan == first.plan
    assert second.audit == audit(tiny.book.base, first.plan)
    assert (second.bound, second.stopped_by) == (first.bound, first.stopped_by)
    assert not is_outdated(after)
    for told in ("tiny.xlsx", "1 row changed, 1 row added, 1 row removed", "audited again"):
        assert told in after.note
    assert "and enquiries were not kept" in after.note
    assert RUN_GONE not in after.note


def test_why_and_risk_of_the_plan_are_kept_and_those_of_another_plan_or_version_are_not(
    board, tiny, monkeypatch
):
    before = planned(board, tiny)
    result = result_of(before)
    said = WhyAnswers({WhyAsked("T2"): ("In short: T2.", "- a line"), WhyAsked(worth=True): ()})
    before.put(WHY, (result, WhyAsked("T2")), said)
    base, plan = tiny.book.base, result.outcome.plan
    # A comparison too, so that all that an answer can hold is written and read.
    settings = RiskSettings(draws=20, default_spread=0.5)
    told = compare(base, plan, plan, settings)
    risk = RiskTold(told.a, WhatIf.BUFFERS, told)
    before.put(RISK, (result, None), risk)
    after = restarted(board).desk(before.id)
    assert answers_of(after) == said
    assert risk_on(after).told == risk
    assert not risk_on(after).is_outdated
    assert "what was asked of it (why and risk)" in after.note

    monkeypatch.setattr("ui.desk.saved_answers.__version__", "0")
    assert answers_of(restarted(board).desk(before.id)) == WhyAnswers()
    monkeypatch.undo()
    start_plan(before, Settings(seconds=20)).join(30)
    assert risk_on(before).is_outdated
    assert risk_on(restarted(board).desk(before.id)) is None


def test_a_plan_of_an_older_workbook_is_still_older_after_a_restart(board, tiny):
    before = planned(board, tiny)
    before.use(with_edits(tiny, [SheetEdit("Checks", {2: {"Customer": "Aero"}})]))
    after = restarted(board).desk(before.id)
    assert is_outdated(after)
    assert after.opened.is_edited
    assert result_of(after).opened == tiny


def test_a_plan_that_does_not_hold_any_more_is_gone_and_that_is_said(board, tiny):
    before = planned(board, tiny)
    (path,) = (path for path in files(board) if path.name == "plan.json")
    kept = json.loads(path.read_text(encoding="utf-8"))
    one, other = kept["plan"]["placements"][:2]
    one.update(bay=other["bay"], in_day=other["in_day"], out_day=other["out_day"])
    path.write_text(json.dumps(kept), encoding="utf-8")
    after = restarted(board).desk(before.id)
    assert result_of(after) is None
    assert "The last plan is gone" in after.note
    assert after.opened == tiny


def test_what_was_proven_is_not_told_of_other_figures(board, tiny):
    before = planned(board, tiny)
    (path,) = (path for path in files(board) if path.name == "plan.json")
    kept = json.loads(path.read_text(encoding="utf-8"))
    assert kept["bound"] is not None
    kept["goals"]["money"] += 1.0
    path.write_text(json.dumps(kept), encoding="utf-8")
    outcome = result_of(restarted(board).desk(before.id)).outcome
    assert isinstance(outcome, Planned)
    assert (outcome.bound, outcome.gap, outcome.days_bound) == (None, None, 0)


def test_work_that_was_going_on_is_said_to_have_ended(board, tiny):
    desk = board.desk(None)
    desk.open(tiny)
    job = desk.start("plan", tiny, lambda tell, stop: stop.wait(30) and None, 60)
    after = restarted(board).desk(desk.id)
    job.stop()
    job.join(10)
    assert RUN_GONE in after.note


def test_without_the_secret_nothing_is_shown(board, tiny):
    desk = planned(board, tiny)
    again = restarted(board)
    for other in (None, "", "guessed", desk.id[:-1], f"{desk.id}x", "../" + desk.id):
        found = again.desk(other)
        assert found.opened is None
        assert found.id not in (desk.id, other)
        assert found.note == (NOTHING_SAVED if other else "")
    assert not any(desk.id in str(path) for path in files(board))
    assert not any(desk.id.encode() in path.read_bytes() for path in files(board))


def test_files_are_their_owners_alone(board, tiny):
    planned(board, tiny)
    paths = files(board)
    assert {stat.S_IMODE(path.stat().st_mode) for path in paths} == {0o600}
    folders = {path.parent for path in paths} | {board.saving.files.root}
    assert {stat.S_IMODE(folder.stat().st_mode) for folder in folders} == {0o700}


def test_a_file_that_others_may_write_or_a_link_is_not_read(board, tiny, tmp_path):
    desk = planned(board, tiny)
    (path,) = (path for path in files(board) if path.name == "desk.json")
    path.chmod(0o644)
    assert restarted(board).desk(desk.id).opened is None
    path.chmod(0o600)
    elsewhere = path.rename(tmp_path / "elsewhere.json")
    path.symlink_to(elsewhere)
    assert restarted(board).desk(desk.id).opened is None


@pytest.mark.parametrize("content", [b"", b"{", b"[]", b'{"format": 99}', b"\xff\x00"])
def test_a_damaged_file_is_no_work_and_no_crash(content, board, tiny):
    desk = planned(board, tiny)
    for name in ("plan.json", "desk.json"):
        (path,) = (path for path in files(board) if path.name == name)
        path.write_bytes(content)
        after = restarted(board).desk(desk.id)
        assert result_of(after) is None
    assert after.opened is None


def test_a_workbook_that_was_changed_on_disk_is_not_taken_up(board, tiny):
    desk = planned(board, tiny)
    (path,) = (path for path in files(board) if path.suffix == ".xlsx")
    path.write_bytes(path.read_bytes()[:-1])
    assert restarted(board).desk(desk.id).opened is None


def test_nothing_is_kept_of_those_who_only_look_in(board, tiny):
    for _ in range(5):
        board.desk(None).open(tiny, by_a_person=False)
    assert not board.saving.files.root.exists()


def test_only_what_is_in_use_is_kept_of_a_desk(board, tiny):
    desk = planned(board, tiny)
    for number in range(4):
        desk.use(with_edits(tiny, [SheetEdit("Checks", {2: {"Customer": f"Aero {number}"}})]))
    assert sum(path.suffix == ".xlsx" for path in files(board)) == 2  # opened and planned
    desk.open(replace(tiny, name="other.xlsx"))
    assert sum(path.suffix == ".xlsx" for path in files(board)) == 1
    assert not any(path.name == "plan.json" for path in files(board))


def aged(kept: PrivateFiles, days: float) -> None:
    """Let all folders have been used so many days ago."""
    then = time.time() - days * DAY
    for path in kept.root.glob("*/used"):
        os.utime(path, (then, then))


def test_old_work_makes_room_and_work_in_use_never_does(tmp_path, monkeypatch):
    monkeypatch.setattr("ui.desk.private_files.MOST_FOLDERS", 3)
    kept = PrivateFiles(tmp_path / "kept")
    for secret in "abc":
        kept.write(secret, {"desk.json": b"work"})
    for newcomer in range(20):
        with pytest.raises(OSError, match="takes all the room"):
            kept.write(f"newcomer {newcomer}", {"desk.json": b"work"})
    assert [kept.read(secret, "desk.json") for secret in "abc"] == [b"work"] * 3
    kept.write("a", {"desk.json": b"goes on"})  # who has a place keeps it
    aged(kept, 8)
    kept.touch("b", at_once=True)
    kept.write("d", {"desk.json": b"work"})
    assert kept.read("b", "desk.json") == kept.read("d", "desk.json") == b"work"
    assert [kept.read(secret, "desk.json") for secret in "ac"].count(None) == 1


def test_work_is_cleared_away_long_after_its_last_use(tmp_path):
    kept = PrivateFiles(tmp_path / "kept")
    kept.write("a", {"desk.json": b"work"})
    aged(kept, 29)
    kept.clear_old()
    assert kept.read("a", "desk.json") == b"work"
    aged(kept, 31)
    kept.clear_old()
    assert kept.read("a", "desk.json") is None
    assert not list(kept.root.iterdir())


def test_where_nothing_can_be_written_the_desk_says_so_and_goes_on(board, tiny, tmp_path):
    (tmp_path / "kept").write_text("a file where the folder should be", encoding="utf-8")
    desk = planned(board, tiny)
    assert "not kept on this computer" in desk.why_not_saved
    assert isinstance(result_of(desk).outcome, Planned)


def test_a_file_that_is_too_large_is_not_kept(board, tiny, monkeypatch):
    monkeypatch.setattr("ui.desk.private_files.MOST_BYTES_A_FILE", 100)
    desk = board.desk(None)
    desk.open(tiny)
    assert "more than 100 bytes" in desk.why_not_saved
    assert files(board) == []


def test_every_kind_of_cell_is_kept_as_it_is():
    values = {"A": date(2027, 1, 4), "B": 2.5, "C": "2027-01-04", "D": None, "E": True, "F": 3}
    edit = SheetEdit("Checks", {2: values}, ({"A": date(2027, 1, 4)},), frozenset({7}))
    (back,) = edits_from(saved_edits({"Checks": edit})).values()
    assert back == edit
    assert [type(v) for v in back.changed[2].values()] == [type(v) for v in values.values()]


def test_the_page_shows_kept_work_again_and_says_so(app):
    from tests.ui.ways_through import make_plan, said, upload
    from ui.desk.board import BOARD

    make_plan(upload(app, "tiny.xlsx"))
    BOARD._desks.clear()  # as a restart of the server does
    again = type(app).from_file(app._script_path, default_timeout=30)
    again.query_params["desk"] = app.query_params["desk"]
    again.run()
    assert not again.exception
    assert "taken up again from this computer" in again.info[0].value
    assert "3,700 EUR. Proven" in said(again)
    (close,) = (one for one in again.button if one.label == "Close this message")
    close.click().run()
    assert not any("taken up again" in one.value for one in again.info)
