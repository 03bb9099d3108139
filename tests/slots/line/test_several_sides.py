"""Two sides are the search as it is; further ones have seeds and ways of their own."""

import io
import os
import pickle
import queue
import signal
import subprocess
import threading
import time
from dataclasses import replace

import pytest

import capacity
from capacity.plans.outcome import Progress
from capacity.slots.finding.ways import ways_of
from capacity.slots.line import side_process
from capacity.slots.line.mailbox import Mailbox
from capacity.slots.line.naming import PROVING, finding_sides, number_of, task_of
from capacity.slots.line.reports import DaysBound, FoundChoice, GoodPlan, Task
from capacity.slots.line.side_process import Sides
from capacity.slots.search.searching import Incumbent, search
from tests.bench.invented import invented_quarter
from tests.reference import stories
from tests.reference.stories import bays, visit
from tests.slots.building import built, nothing

SMALL = stories.base(bays(2), visit("A", 3, 0, 9), visit("B", 3, 1, 9))
QUARTER = invented_quarter(4, bays=6, checks=20, weeks=8)


def task_for(workers: int, seed: int = 5) -> Task:
    program = built(SMALL).program
    settings = capacity.Settings(seed=seed, workers=workers)
    return Task(program, nothing(program), time.monotonic() + 60, settings)


@pytest.fixture
def begun(monkeypatch: pytest.MonkeyPatch) -> dict[str, "Recorded"]:
    """Keep sides and their tasks, in order, in place of starting processes."""
    found: dict[str, Recorded] = {}

    def record(side: str, task: Task, heard: object) -> Recorded:
        found[side] = Recorded(side, task)
        return found[side]

    monkeypatch.setattr(side_process, "SideProcess", record)
    return found


class Recorded:
    """A side that does nothing, with its task and all that it was sent."""

    def __init__(self, side: str, task: Task) -> None:
        """Begin with nothing sent."""
        self.side, self.task, self.sent = side, task, []

    def send(self, word: object) -> None:
        self.sent.append(word)

    def end(self) -> None:
        pass


def test_two_workers_are_the_two_sides_with_the_task_as_it_is(begun: dict[str, Recorded]) -> None:
    task = task_for(2)
    with Sides(task, PROVING) as sides:
        assert not sides.are_several
        assert list(begun) == ["prove", "find"]
    for side in begun.values():
        own = side.task
        assert (own.settings, own.until, own.number, own.shares) == (
            task.settings,
            task.until,
            1,
            False,
        )


def test_further_sides_have_seeds_and_numbers_of_their_own(begun: dict[str, Recorded]) -> None:
    task = task_for(5)
    with Sides(task, PROVING) as sides:
        assert sides.are_several
        assert list(begun) == ["prove", "find", "find-2", "find-3", "find-4"]
    finding = [side.task for name, side in begun.items() if name != PROVING]
    assert [one.number for one in finding] == [1, 2, 3, 4]
    assert all(one.shares for one in finding)
    assert not begun[PROVING].task.shares
    assert begun[PROVING].task.settings.seed == begun["find"].task.settings.seed == 5
    seeds = {one.settings.seed for one in finding}
    assert len(seeds) == 4
    assert all(0 <= seed < 2**30 for seed in seeds)
    other = [task_of(side, task_for(5, seed=6), 4).settings.seed for side in finding_sides(4)]
    assert seeds.isdisjoint(other)


def test_good_plans_go_to_the_other_sides_that_find_and_to_nobody_else(
    begun: dict[str, Recorded],
) -> None:
    with Sides(task_for(4), PROVING) as sides:
        sides.running.discard("find-3")
        sides.hand_round(GoodPlan(nothing(built(SMALL).program), (0, 1.0)), "find-2")
    assert [name for name, side in begun.items() if side.sent] == ["find"]


def test_how_many_days_past_are_proven_is_told_to_the_other_sides(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    begun = dict[str, Recorded]()

    def tell(side: str, task: Task, heard: "queue.SimpleQueue[object]") -> Recorded:
        if side == PROVING:
            heard.put((side, DaysBound(0)))
        heard.put((side, None))
        begun[side] = Recorded(side, task)
        return begun[side]

    monkeypatch.setattr(side_process, "SideProcess", tell)
    program = built(QUARTER).program
    incumbent, settings = Incumbent(program, nothing(program)), capacity.Settings(seconds=2.0)
    began, stop = time.monotonic(), threading.Event()
    search(incumbent, settings, lambda chosen: None, lambda progress: None, stop, began)
    assert DaysBound(0) in begun["find"].sent
    assert DaysBound(0) not in begun[PROVING].sent


def test_a_side_hears_good_plans_once_and_shares_its_own_where_there_are_several() -> None:
    task = replace(task_for(3), shares=True)
    plan = GoodPlan(task.chosen, (7, 3.0))
    heard, said = io.BytesIO(), io.BytesIO()
    for word in (
        task,
        plan,
        DaysBound(3),
        DaysBound(2),
        FoundChoice(task.chosen, "search"),
        GoodPlan(task.chosen),
    ):
        pickle.dump(word, heard)
    heard.seek(0)
    ended = threading.Event()
    mailbox = Mailbox(heard, said, ended.set)
    assert ended.wait(10)
    assert mailbox.least_days == 3
    ((chosen, cost),) = mailbox.take_good_plans()
    assert (chosen.tolist(), cost) == (plan.chosen.tolist(), plan.cost)
    assert mailbox.take_good_plans() == []
    mailbox.share(task.chosen)
    mailbox.share(task.chosen)  # too soon after the first
    said.seek(0)
    assert isinstance(pickle.load(said), GoodPlan)
    with pytest.raises(EOFError):
        pickle.load(said)


def test_one_side_that_finds_shares_nothing() -> None:
    said, heard = io.BytesIO(), io.BytesIO(pickle.dumps(task_for(2)))
    Mailbox(heard, said, lambda: None).share(task_for(2).chosen)
    assert said.getvalue() == b""


def test_the_first_side_has_the_ways_of_the_settings_and_the_next_ones_others() -> None:
    program, timing = built(SMALL).program, capacity.SearchSettings()
    first = ways_of(1, program, timing)
    assert (first.breeding, first.polish) == (timing.breeding_share, timing.polish_share)
    assert first.apart == 0.0
    assert not first.by_window
    more = [ways_of(number, program, timing) for number in range(2, 8)]
    assert len({*more[:3], first}) == 4
    assert more[:3] == more[3:]
    year = replace(timing, most_checks_without_windows=1)
    for number in range(1, 5):
        ways = ways_of(number, program, year)
        assert ways.by_window
        assert ways.breeding == 0.0
        assert ways.apart == 0.0


def test_sides_are_told_apart_by_number() -> None:
    assert [number_of(side) for side in (PROVING, *finding_sides(3))] == [0, 1, 2, 3]
    assert finding_sides(1) == ("find",)


@pytest.mark.long
@pytest.mark.skipif(os.name != "posix", reason="needs signals")
def test_a_third_side_that_is_killed_is_named_and_the_others_go_on(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    started: list[subprocess.Popen[bytes]] = []
    start = subprocess.Popen

    def watched(*arguments: object, **options: object) -> "subprocess.Popen[bytes]":
        started.append(start(*arguments, **options))
        return started[-1]

    def hear(progress: Progress) -> None:
        if len(started) == 3 and started[2].poll() is None:
            started[2].send_signal(signal.SIGKILL)

    monkeypatch.setattr(side_process.subprocess, "Popen", watched)
    settings = capacity.Settings(seconds=5, workers=3)
    outcome = capacity.plan(QUARTER, settings, hear)
    assert isinstance(outcome, capacity.Planned)
    assert outcome.stopped_by in ("time", "proof")
    assert outcome.history[-1].source != "first draft"
    (note,) = [note.what for note in outcome.notes if "ended early" in note.what]
    assert note.startswith("process 2 of those that look for better plans ended early: its process")
    assert capacity.audit(QUARTER, outcome.plan).broken == ()
    assert all(child.poll() is not None for child in started)


@pytest.mark.long
def test_three_workers_come_to_an_audited_plan_that_is_no_worse() -> None:
    """Both are proven, so that the time of a busy machine changes nothing."""
    costs = set()
    for workers in (2, 3):
        outcome = capacity.plan(QUARTER, capacity.Settings(seconds=120, workers=workers))
        assert isinstance(outcome, capacity.Planned)
        assert outcome.stopped_by == "proof"
        assert not outcome.faults
        audit = capacity.audit(QUARTER, outcome.plan)
        assert audit.broken == ()
        costs.add((audit.goals.days_past_latest_in, round(audit.goals.money, 2)))
    assert len(costs) == 1


def test_it_is_known_whether_any_side_still_looks_for_plans(begun: dict[str, Recorded]) -> None:
    with Sides(task_for(3), PROVING) as sides:
        assert sides.are_finding
        sides.running.difference_update(finding_sides(2))
        assert sides.running == {PROVING}
        assert not sides.are_finding
