"""The proving side while the other side has not begun: it bounds the money and waits."""

import threading
import time
from dataclasses import replace

import pytest

from capacity.search_settings import SearchSettings
from capacity.slots.engines.highs import branch_and_cut, relax
from capacity.slots.finding.side import anneal
from capacity.slots.line.reports import DaysBound, MoneyBound
from capacity.slots.program.lazy_rows import LazyRows
from capacity.slots.program.linear_form import days_form, money_form
from capacity.slots.program.program import Program
from capacity.slots.proving import side as proving_side
from capacity.slots.proving.side import prove
from tests.bench.invented import invented_quarter
from tests.bench.levelled import levelled
from tests.slots.building import Choice, built
from tests.slots.desk import Desk

LEAST = 30


@pytest.fixture(scope="module")
def program() -> Program:
    """Four bays and ten checks; the relaxation tells how many days past there must be."""
    program = built(invented_quarter(1, bays=4, checks=10, weeks=6)).program
    solved = branch_and_cut(days_form(program), None, 60.0)
    assert solved.finished
    assert relax(days_form(program)) == pytest.approx(LEAST) == solved.bound
    return program


WAITS = SearchSettings(columns_not_waited_with=0, checks_not_waited_with=0, patience_share=0.005)


@pytest.fixture
def branched(monkeypatch: pytest.MonkeyPatch) -> threading.Event:
    """Set when branch-and-cut begins."""
    began = threading.Event()

    def watched(*arguments, **options):
        began.set()
        return branch_and_cut(*arguments, **options)

    monkeypatch.setattr(proving_side, "branch_and_cut", watched)
    return began


def test_it_bounds_the_money_before_the_other_side_has_begun(
    program: Program, branched: threading.Event
) -> None:
    desk = Desk(program, 60.0, WAITS)
    desk.has_heard = False
    work = threading.Thread(target=prove, args=(desk,))
    work.start()
    while not (bounds := [word for word in desk.words if isinstance(word, MoneyBound)]):
        time.sleep(0.01)
        assert work.is_alive()
    relaxed = relax(money_form(program.within_days(LEAST).program))
    assert bounds == [MoneyBound(LEAST, pytest.approx(relaxed))]
    assert not branched.wait(1.0)
    desk.has_heard = True
    work.join()
    assert branched.is_set()
    assert desk.best[1][0] == LEAST == max(w.days for w in desk.words if isinstance(w, DaysBound))
    optimum = branch_and_cut(money_form(program.within_days(LEAST).program), None, 60.0)
    told = max(word.money for word in desk.words if isinstance(word, MoneyBound))
    assert told == pytest.approx(optimum.bound, rel=1e-5)
    assert desk.best[1][1] == pytest.approx(optimum.bound, rel=1e-5)


def test_it_does_not_wait_for_ever(program: Program, branched: threading.Event) -> None:
    desk = Desk(program, 60.0, replace(WAITS, silence_share=0.01))
    desk.has_heard = False
    prove(desk)
    assert branched.is_set()
    assert desk.best[1][0] == LEAST


def test_the_finding_side_says_that_it_has_begun(program: Program) -> None:
    desk = Desk(program, 60.0)
    assert not desk.begun
    anneal(desk, LazyRows(program, SearchSettings()), 0.1, seed=1)
    assert desk.begun


def test_with_few_columns_and_checks_it_does_not_wait(
    program: Program, branched: threading.Event
) -> None:
    few = replace(
        WAITS,
        columns_not_waited_with=program.size,
        checks_not_waited_with=len(program.checks),
        silence_share=1.0,
    )
    desk = Desk(program, 60.0, few)
    desk.has_heard = False
    prove(desk)
    assert branched.is_set()
    assert desk.seconds_left > 0.0


class DeskWithSources(Desk):
    """A desk that keeps who told of a better choice."""

    def __init__(self, program: Program, seconds: float, search: SearchSettings) -> None:
        """Begin with nothing placed and nobody heard."""
        super().__init__(program, seconds, search)
        self.sources = []

    def tell_choice(self, chosen: Choice, source: str) -> None:
        before = self.best[1]
        super().tell_choice(chosen, source)
        if self.best[1] != before:
            self.sources.append(source)


# At a standstill at once, unless all is proven.
STILL = replace(
    WAITS,
    standstill_gap_share=1.0,
    standstill_share=0.0,
    least_standstill_seconds=0.0,
    least_gap_to_find=0.0,
    promising_share=0.0,
)


def prove_in_lanes(*, are_levelled: bool, search: SearchSettings) -> DeskWithSources:
    """Return the desk of a proof from a short annealing's plan on, with no day past."""
    quarter = invented_quarter(3, bays=8, checks=20, weeks=9, lanes=True)
    program = built(levelled(quarter) if are_levelled else quarter).program
    desk = DeskWithSources(program, 60.0, search)
    anneal(desk, LazyRows(program, search), 0.5, seed=1)
    assert desk.best[1][0] == 0
    desk.sources.clear()
    desk.until = time.monotonic() + 4.0
    prove(desk)
    return desk


def test_at_a_standstill_it_finds_plans_too() -> None:
    desk = prove_in_lanes(are_levelled=True, search=STILL)
    assert "search" in desk.sources
    bounds = [word.money for word in desk.words if isinstance(word, MoneyBound)]
    assert max(bounds) <= desk.best[1][1] + 1e-6


@pytest.mark.parametrize(
    ("are_levelled", "search"),
    [(False, STILL), (True, replace(STILL, least_standstill_seconds=60.0))],
    ids=["even hours", "no standstill"],
)
def test_otherwise_it_proves_for_all_of_its_time(
    are_levelled: bool, search: SearchSettings
) -> None:
    assert "search" not in prove_in_lanes(are_levelled=are_levelled, search=search).sources
