"""Peer: PyJobShop on its OR-Tools back end, on a base reduced to bays and dates.

It knows neither hours beyond the regular ones nor bays behind bays, so both sides do without;
a check is one task, its stay, on one of the machines that are the bays it fits.

Reference: L. Lan, J. Berkhout, PyJobShop: Solving scheduling problems with constraint
programming in Python, arXiv:2502.13483 (2025).
"""

import time
from collections.abc import Iterable
from dataclasses import dataclass
from math import gcd

from capacity.facts import Base
from capacity.plans.plan import Plan
from tests.bench.plain_stays import PlainStay, assert_plain, plain_stays
from tests.bench.result import Found, audited_goals, checked_bound

# As many as our own search has sides.
WORKERS = 2
# The back end's dates go up to 2**42 and its sums up to 2**62; each weight meets two dates,
# and a half is left for rounding.
MOST_WEIGHT = 2**18


@dataclass(frozen=True)
class Weights:
    """Whole weights of a day: ``unit`` of money is 1, ``past`` is a day past ``Latest in``.

    The library weighs the days by which a job is early or late of one date, with one weight
    for both. Three jobs that end with the stay give what is wanted: with ``d`` for the end in
    time for ``Latest in``, ``a`` for ``Agreed out``, and ``e``, ``p``, ``l`` for the weights
    of early days, days past and late days,

        2 (e max(0, d - end) + p max(0, end - d) + l max(0, end - a))
        = (p + e) |end - d| + l |end - a| + (p - e + l) end - (p - e) d - l a.
    """

    unit: int
    past: int

    def early(self, stay: PlainStay) -> int:
        """Return the weight of a day before ``Latest in``."""
        return int(stay.check.early_cost_per_day) // self.unit

    def late(self, stay: PlainStay) -> int:
        """Return the weight of a day past ``Agreed out``."""
        return 0 if stay.agreed_out is None else int(stay.check.late_cost_per_day) // self.unit

    def jobs(self, stay: PlainStay) -> list[tuple[int, int]]:
        """Return weight and due date of the three jobs."""
        early, late = self.early(stay), self.late(stay)
        due = stay.latest_in + stay.days
        three = (
            (self.past + early, due),
            (late, stay.agreed_out or 0),
            (self.past - early + late, 0),
        )
        return [(weight, date) for weight, date in three if weight]

    def constant(self, stay: PlainStay) -> int:
        """Return by how much the three jobs count more than twice what is wanted."""
        due, late = stay.latest_in + stay.days, self.late(stay)
        return (self.past - self.early(stay)) * due + late * (stay.agreed_out or 0)


def job_shop(base: Base, seconds: float, seed: int) -> Found:
    """Solve a reduced base on which every check can be placed: none can be left out here.

    A job has tasks of its own, so that the second and third job of a stay are tasks of no
    length that end with it. One sum weighs days past ``Latest in`` as heavily as the number
    range of the back end allows. From a bound of that sum follows one of the money for no
    more days past.
    """
    # An extra: nothing else here needs it.
    from pyjobshop import Model
    from pyjobshop.Result import SolveStatus

    began = time.monotonic()
    assert_plain(base)
    stays = plain_stays(base)
    weights = _weights(stays)
    model = Model()
    machines = {
        bay.name: model.add_machine(_shut(base, bay.name), name=bay.name) for bay in base.bays
    }
    tasks = []
    for stay in stays:
        first, *others = [model.add_job(weight=w, due_date=due) for w, due in weights.jobs(stay)]
        tasks.append(model.add_task(first, earliest_start=stay.first_in, latest_start=stay.last_in))
        for bay in stay.bays:
            model.add_mode(tasks[-1], machines[bay], stay.days)
        for other in others:
            end = model.add_task(other)
            model.add_mode(end, [], 0)
            model.add_end_at_end(tasks[-1], end)
    model.set_objective(weight_total_tardiness=1, weight_total_earliness=1)
    left = seconds - (time.monotonic() - began)
    result = model.solve(
        time_limit=max(0.0, left), display=False, num_workers=WORKERS, random_seed=seed
    )
    assert result.status is not SolveStatus.UNKNOWN, "the back end refuses the model"
    assert result.status is not SolveStatus.INFEASIBLE, "some check cannot be placed"
    if not result.best.tasks:
        return Found(time.monotonic() - began, "time: no plan")
    scheduled = {id(task): done for task, done in zip(model.tasks, result.best.tasks, strict=True)}
    placements = []
    for stay, task in zip(stays, tasks, strict=True):
        done = scheduled[id(task)]
        bay = base.bays[done.resources[0]].name
        placements.append(stay.placement(bay, done.start, base.first_day))
    goals = audited_goals(Plan(tuple(placements)), base)
    days = goals.days_past_latest_in
    constant = sum(weights.constant(stay) for stay in stays)
    bound = weights.unit * ((result.lower_bound - constant) / 2 - weights.past * days)
    return Found(
        seconds=time.monotonic() - began,
        stopped_by="proof" if result.status is SolveStatus.OPTIMAL else "time",
        days_past=days,
        money=goals.money,
        bound=checked_bound(max(0.0, bound), goals.money),
    )


def _weights(stays: Iterable[PlainStay]) -> Weights:
    stays = tuple(stays)
    costs = [s.check.early_cost_per_day for s in stays] + [s.check.late_cost_per_day for s in stays]
    assert all(cost == int(cost) for cost in costs), "money that is not whole"
    unit = gcd(*(int(cost) for cost in costs)) or 1
    dates_only = Weights(unit, past=0)
    late = sum(dates_only.late(stay) for stay in stays)
    past = (MOST_WEIGHT // 2 - late) // len(stays)
    assert past > max(dates_only.early(stay) + dates_only.late(stay) for stay in stays)
    return Weights(unit, past)


def _shut(base: Base, bay: str) -> list[tuple[int, int]]:
    return [
        ((closure.first - base.first_day).days, (closure.last - base.first_day).days + 1)
        for closure in base.closures
        if closure.bay == bay
    ]
