"""Many checks at a time, solved over their promising columns: never worse, and to the optimum."""

from dataclasses import replace

import numpy as np
import pytest

from capacity.search_settings import SearchSettings
from capacity.slots.engines.highs import branch_and_cut
from capacity.slots.finding import side as finding_side
from capacity.slots.finding import wide_neighbourhoods
from capacity.slots.finding.wide_neighbourhoods import WideNeighbourhoods, pays_for
from capacity.slots.program.first_come import first_come
from capacity.slots.program.lazy_rows import LazyRows
from capacity.slots.program.linear_form import days_form, money_form
from tests.bench.invented import invented_quarter
from tests.bench.invented_hangar import invented_hangar
from tests.bench.levelled import levelled
from tests.slots.building import Built, built, keeps_rows
from tests.slots.desk import Desk

CENT = 0.01
# Seconds in which so few checks are done, whatever else the machine has to do.
SOON = 0.9


@pytest.fixture(scope="module", params=[False, True], ids=["even hours", "levelled hours"])
def quarter(request: pytest.FixtureRequest) -> Built:
    """Four bays and eight checks in six weeks, all of which can come in by their Latest in."""
    base = invented_quarter(2, bays=4, checks=8, weeks=6)
    return built(levelled(base) if request.param else base)


def desk_with_first_come(made: Built, seconds: float = 60.0) -> Desk:
    desk = Desk(made.program, seconds)
    desk.tell_choice(first_come(made.program, made.slots), "first draft")
    return desk


def wide_for(desk: Desk) -> WideNeighbourhoods:
    return WideNeighbourhoods(desk, LazyRows(desk.program, desk.task.settings.search))


def desk_in_time(made: Built) -> Desk:
    """Return a desk with a choice of fewest days past, found by wide neighbourhoods for that."""
    desk = desk_with_first_come(made)
    least = branch_and_cut(days_form(made.program), None, 60.0).bound
    wide = wide_for(desk)
    while desk.best[1][0] > least + CENT:
        before = desk.best[1][0]
        wide.search(20.0, 1, for_days=True)
        assert desk.best[1][0] < before
    return desk


def test_all_checks_at_a_time_come_to_the_optimum(quarter: Built) -> None:
    desk = desk_in_time(quarter)
    within = quarter.program.within_days(desk.best[1][0])
    optimum = branch_and_cut(money_form(within.program), None, 60.0)
    wide_for(desk).search(SOON, 1)
    assert desk.best[1][1] == pytest.approx(optimum.bound, abs=CENT)


def test_with_few_columns_the_best_choice_known_is_kept_or_bettered(
    quarter: Built, monkeypatch: pytest.MonkeyPatch
) -> None:
    desk = desk_in_time(quarter)
    monkeypatch.setattr(wide_neighbourhoods, "COLUMNS_AT_FIRST", 12)
    monkeypatch.setattr(wide_neighbourhoods, "FEWEST_FREE", 2)
    monkeypatch.setattr(wide_neighbourhoods, "MOST_FREE", 4)
    before = desk.best[1]
    wide_for(desk).search(SOON, 1)
    assert desk.best[1] < before
    assert keeps_rows(quarter.program, desk.best[0])


def test_as_many_columns_are_looked_at_as_are_solved_in_time(
    quarter: Built, monkeypatch: pytest.MonkeyPatch
) -> None:
    desk = desk_in_time(quarter)
    monkeypatch.setattr(wide_neighbourhoods, "COLUMNS_AT_FIRST", 20)
    sizes = []

    def watched(form, *arguments, **options):
        sizes.append(form.program.size)
        return branch_and_cut(form, *arguments, **options)

    monkeypatch.setattr("capacity.slots.engines.highs.branch_and_cut", watched)
    wide_for(desk).search(SOON, 1)
    assert sizes[0] <= 20 + len(quarter.program.checks)
    assert sizes[-1] > sizes[0]


def test_reduced_costs_are_means_that_costs_varied_by_nothing_leave_as_they_are(
    quarter: Built, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(wide_neighbourhoods, "VARIED_BY", 0.0)
    desk = desk_in_time(quarter)
    wide = wide_for(desk)
    restricted = wide._rows.within(desk.best[1][0])
    assert wide._relax(restricted, desk.best[1][0])
    once = np.maximum(wide._reduced_costs, 0.0)
    wide._reduced_costs = once.copy()
    wide._vary(restricted, np.random.default_rng(1), 30.0)
    assert wide._relaxations == 1 + wide_neighbourhoods.MOST_VARIED
    assert np.allclose(wide._reduced_costs, once)
    monkeypatch.setattr(wide_neighbourhoods, "VARIED_BY", 0.2)
    wide._relaxations = 1
    wide._vary(restricted, np.random.default_rng(1), 30.0)
    assert not np.allclose(wide._reduced_costs, once)


def test_they_pay_for_programs_of_many_columns_that_are_no_long_plans(quarter: Built) -> None:
    few, many = SearchSettings(), SearchSettings(fewest_columns_for_wide=quarter.program.size)
    assert not pays_for(quarter.program, few)
    assert pays_for(quarter.program, many)
    checks = len(quarter.program.checks)
    assert not pays_for(quarter.program, replace(many, most_checks_without_windows=checks - 1))


def test_the_finding_side_solves_them_once_days_past_stay_as_they_are(
    quarter: Built, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = []

    def watched(self, seconds, seed, *, for_days=False):
        asked.append((seconds, for_days, desk.best[1][0]))

    monkeypatch.setattr(WideNeighbourhoods, "search", watched)
    settings = SearchSettings(
        fewest_columns_for_wide=1, least_wide_seconds=0.05, first_annealing_seconds=0.05
    )
    rows = LazyRows(quarter.program, settings)
    finding_side.anneal(Desk(quarter.program, 60.0), rows, 0.01, 1)  # compiles what is compiled
    desk = Desk(quarter.program, 1.5, settings)
    desk.least_days = -1  # as if there might be fewer
    finding_side.find_plans(desk)
    assert [for_days for _, for_days, _ in asked[:2]] == [True, True]
    assert not asked[-1][1]
    assert asked[0][0] > 0
    assert len({days for _, _, days in asked}) == 1


@pytest.mark.long
def test_a_hangar_is_bettered_by_much() -> None:
    made = built(levelled(invented_hangar(3)))
    settings = SearchSettings()
    desk = Desk(made.program, 120.0, settings)
    rows = LazyRows(made.program, settings)
    for seed in range(4):
        finding_side.anneal(desk, rows, 3.0, seed)
    days, money = desk.best[1]
    assert days == 0
    # How much a second brings is a matter of the machine: three times as many as it mostly takes.
    wide = WideNeighbourhoods(desk, rows)
    for seed in range(1, 4):
        if desk.best[1][1] >= 0.9 * money:
            wide.search(25.0, seed)
    assert desk.best[1][0] == 0
    assert desk.best[1][1] < 0.9 * money
    assert np.all(made.program.taken(desk.best[0]) <= made.program.capacity + 1e-9)
