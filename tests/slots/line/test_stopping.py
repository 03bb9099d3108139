"""However the search ends, there is an audited plan and no process is left behind."""

import signal
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from dataclasses import replace

import pytest

import capacity
from capacity.facts import Base
from capacity.slots.candidates import enumerated as candidates
from capacity.slots.line import side_process
from capacity.slots.rules import families
from tests.bench.invented import invented_quarter
from tests.reference import stories

LONG = 120.0
SOON_DONE = capacity.SearchSettings(seconds_for_last_look_after_a_stop=0.2)
"""How long it may look on after a stop is another matter than that it ends."""
Children = list["subprocess.Popen[bytes]"]


@pytest.fixture(scope="module")
def quarter() -> Base:
    """A quarter that nobody proves to the end in a few seconds."""
    return invented_quarter(4)


@pytest.fixture
def children(monkeypatch: pytest.MonkeyPatch) -> Iterator[Children]:
    """Keep an eye on every process that the search starts; afterwards all must have ended."""
    started: Children = []
    start = subprocess.Popen

    def watched(*arguments: object, **options: object) -> "subprocess.Popen[bytes]":
        started.append(start(*arguments, **options))
        return started[-1]

    monkeypatch.setattr(side_process.subprocess, "Popen", watched)
    yield started
    assert all(child.returncode is not None for child in started)


def assert_planned(outcome: capacity.Outcome, base: Base, stopped_by: str) -> capacity.Planned:
    assert isinstance(outcome, capacity.Planned)
    assert outcome.stopped_by == stopped_by
    assert capacity.audit(base, outcome.plan).broken == ()
    return outcome


def once_improved(do: Callable[[], object]) -> Callable[[capacity.Progress], None]:
    """Do something once when a side has bettered the first-come plan."""
    done = threading.Event()

    def hear(progress: capacity.Progress) -> None:
        if progress.source != "first draft" and not done.is_set():
            done.set()
            do()

    return hear


def test_a_stop_from_another_thread_ends_the_search_soon(quarter: Base, children: Children) -> None:
    improved, stop = threading.Event(), threading.Event()
    other = threading.Thread(target=lambda: (improved.wait(LONG), stop.set()))
    other.start()
    hear = once_improved(improved.set)
    settings = capacity.Settings(workers=2, seconds=LONG, search=SOON_DONE)
    outcome = capacity.plan(quarter, settings, hear, stop)
    other.join()
    planned = assert_planned(outcome, quarter, "stop")
    assert planned.seconds < LONG / 2
    assert planned.bound is not None
    assert len(children) == 2


def test_a_stop_before_the_beginning_still_gives_the_first_come_plan(
    quarter: Base, children: Children
) -> None:
    stop = threading.Event()
    stop.set()
    settings = capacity.Settings(workers=2, seconds=LONG, search=SOON_DONE)
    outcome = capacity.plan(quarter, settings, stop=stop)
    planned = assert_planned(outcome, quarter, "stop")
    assert planned.history[0].source == "first draft"
    assert planned.seconds < LONG / 2


@pytest.mark.long
def test_the_time_limit_is_kept(quarter: Base, children: Children) -> None:
    outcome = capacity.plan(quarter, capacity.Settings(workers=2, seconds=5))
    planned = assert_planned(outcome, quarter, "time")
    assert planned.seconds < 5 + 10
    assert len(children) == 2


def test_hardly_any_time_still_gives_a_plan_and_a_bound(quarter: Base, children: Children) -> None:
    planned = assert_planned(
        capacity.plan(quarter, capacity.Settings(workers=2, seconds=0.1)), quarter, "time"
    )
    assert planned.bound is not None


@pytest.fixture
def ctrl_c_raises() -> Iterator[None]:
    """Let Ctrl-C raise as in a fresh Python, whatever a solver did to it in this process."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)


@pytest.mark.usefixtures("ctrl_c_raises")
def test_ctrl_c_counts_as_a_stop(quarter: Base, children: Children) -> None:
    hear = once_improved(lambda: signal.raise_signal(signal.SIGINT))
    outcome = capacity.plan(
        quarter, capacity.Settings(workers=2, seconds=LONG, search=SOON_DONE), hear
    )
    planned = assert_planned(outcome, quarter, "stop")
    assert planned.seconds < LONG / 2
    assert len(children) == 2


def test_a_fault_in_the_callers_own_code_leaves_no_process_behind(
    quarter: Base, children: Children
) -> None:
    def fault() -> None:
        raise ZeroDivisionError("the caller's own")

    with pytest.raises(ZeroDivisionError, match="the caller's own"):
        capacity.plan(quarter, capacity.Settings(workers=2, seconds=LONG), once_improved(fault))
    assert len(children) == 2


def test_sides_that_break_down_are_told_and_the_first_come_plan_stands(
    quarter: Base, children: Children, monkeypatch: pytest.MonkeyPatch
) -> None:
    # Without a program to run, a side ends before its first word.
    monkeypatch.setattr(sys, "executable", "false")
    outcome = capacity.plan(quarter, capacity.Settings(workers=2, seconds=20))
    assert isinstance(outcome, capacity.Planned)
    assert len(outcome.faults) == 2
    assert all("ended with code 1" in fault for fault in outcome.faults)
    assert capacity.audit(quarter, outcome.plan).broken == ()
    assert outcome.bound is not None


@pytest.mark.parametrize("step", ["courses", "rules"])
def test_a_stop_is_heard_while_getting_ready(
    step: str, monkeypatch: pytest.MonkeyPatch, children: Children
) -> None:
    """Whatever it is at, the work does not go on to the next check, rule or step."""
    stop = threading.Event()
    done: list[str] = []

    def stopping(*arguments: object) -> None:
        assert not stop.is_set()
        done.append(step)
        stop.set()

    def after(original: Callable[..., object]) -> Callable[..., object]:
        def then_stop(*arguments: object, **named: object) -> object:
            stopping()
            return original(*arguments, **named)

        return then_stop

    at_once = capacity.SearchSettings(seconds_to_first_plan=0.0)
    match step:
        case "courses":
            monkeypatch.setattr(candidates, "_courses", after(candidates._courses))
        case "rules":
            stopped = tuple(
                replace(family, packing=replace(family.packing, rows=after(family.packing.rows)))
                for family in families.FAMILIES
                if family.packing is not None
            )
            monkeypatch.setattr(families, "FAMILIES", stopped)
    base = stories.base(stories.bays(2), *(stories.visit(name, 3, 0, 9) for name in "VWX"))
    settings = capacity.Settings(workers=2, seconds=LONG, search=at_once)
    outcome = capacity.plan(base, settings, stop=stop)
    assert isinstance(outcome, capacity.OutOfTime)
    assert done == [step]
    assert children == []
