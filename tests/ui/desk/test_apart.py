"""Work in a process of its own: its words, its answer, and all the ways in which it may end."""

import os
from threading import Event

import pytest

from capacity.errors import CapacityError, InputError
from tests.ui.desk.some_work import SomeWork
from ui.desk.apart import apart


def came_to(ends: str, stop: Event | None = None, rescue=None) -> tuple[object, list[object]]:
    words: list[object] = []

    def hear(word: object) -> None:
        words.append(word)
        if stop is not None:
            stop.set()

    return apart(SomeWork(ends), rescue)(hear, stop or Event()), words


def test_it_is_done_elsewhere_and_ends_when_it_is_stopped():
    answer, words = came_to("stopped", Event())
    assert answer == "stopped"
    (process,) = words
    assert process != os.getpid()
    with pytest.raises(ProcessLookupError):
        os.kill(process, 0)


def test_what_is_refused_is_refused_here_with_its_messages():
    with pytest.raises(InputError) as told:
        came_to("refused")
    assert [str(one.what) for one in told.value.messages] == ["no bay"]


@pytest.mark.parametrize(("ends", "why"), [("failed", "too much"), ("broken", "ZeroDivisionError")])
def test_what_breaks_down_says_why(ends, why):
    with pytest.raises(CapacityError, match=why):
        came_to(ends)


def test_of_a_process_that_is_killed_the_best_so_far_is_left():
    assert came_to("killed", rescue=lambda best, why: (best, "-9" in why))[0] == ("second", True)
    with pytest.raises(CapacityError, match="before its time"):
        came_to("killed")
