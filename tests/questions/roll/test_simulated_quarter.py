"""Rolled through a quarter with true findings, no check, hour or agreement is lost."""

from math import fsum
from pathlib import Path

import pytest

from capacity.facts import Status
from capacity.plans.work_left import work_left
from tests.bench.simulated_quarter import Quarter, simulated


def hold_to_it(quarter: Quarter) -> None:
    first = {check.name: check for check in quarter.first.checks}
    gone: set[str] = set()
    for base, left in zip(quarter.weeks[1:], quarter.hours_left, strict=False):
        here = {check.name: check for check in base.checks}
        gone |= {row.check for row in base.delivered}
        # Every check is in the workbook, or was delivered, or was an option that went.
        assert set(here) | gone | quarter.dropped == set(first)
        assert not set(here) & gone
        for name, check in here.items():
            before = first[name]
            for fact in ("latest_in", "agreed_out", "price", "customer", "late_cost_per_day"):
                assert getattr(check, fact) == getattr(before, fact), (name, fact)
            assert check.status is not Status.OPTION or before.status is Status.OPTION
            is_in = check.status is Status.FIXED
            assert is_in == (name in left)
            if is_in:
                hours = fsum(work.total for work in work_left(base, check))
                assert hours == pytest.approx(left[name], abs=1e-4), name
    taken = {name for name, one in quarter.truth.items() if one.is_out}
    assert taken | quarter.dropped == set(first)
    assert {one.check for one in quarter.delivered} == taken
    for record in quarter.delivered:
        true = quarter.truth[record.check]
        assert record.stages[0].agreed_out == first[record.check].agreed_out
        assert record.stages[0].actual_out == true.out_day
        for row in record.stages:
            assert row.actual_hours == pytest.approx(true.stages[row.stage].hours, abs=1e-4)
    booked = {name for name, check in first.items() if check.status is not Status.OPTION}
    assert booked <= taken


def test_some_weeks_of_a_small_base(tmp_path: Path) -> None:
    quarter = simulated(tmp_path, 5, checks=4, weeks=5, seconds=0.4)
    hold_to_it(quarter)
    assert len(quarter.weeks) > 4
    assert quarter.rolled is not None
    assert quarter.perfect is not None
    # Knowing all findings, at least as few days are past Latest in.
    assert quarter.perfect.days_past_latest_in <= quarter.rolled.days_past_latest_in


@pytest.mark.long
@pytest.mark.parametrize("seed", [1, 2, 3, 4])
def test_a_quarter(tmp_path: Path, seed: int) -> None:
    hold_to_it(simulated(tmp_path, seed, checks=10, weeks=13, seconds=0.5))
