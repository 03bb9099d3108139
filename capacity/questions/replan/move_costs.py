"""What it is worth not to change a plan that people have been told."""

from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

from capacity.checked_settings import number_within
from capacity.facts import Check, Status
from capacity.plans.plan import Placement
from capacity.questions.asking.places import other_bays
from capacity.slots.candidates import Candidates, Slots


@dataclass(frozen=True, slots=True)
class MoveCosts:
    """Prices of moves against the plan that stood before, in the base's currency.

    ``day_booked`` and ``day_option`` are for each day by which a check comes in earlier or
    later, ``bay`` for other bays, ``pace`` for stages run at another pace, ``given_up`` for
    an option that was accepted and is refused now. All of them are multiplied by
    ``third_party`` for somebody else's aircraft, and by up to ``1 + near`` for a move close
    at hand: the weight falls evenly from today until it is 1 ``near_days`` days ahead. The
    defaults are this program's and no standard: put your own.
    """

    day_booked: float = 200.0
    day_option: float = 200.0
    bay: float = 300.0
    pace: float = 100.0
    given_up: float = 5000.0
    third_party: float = 2.0
    near: float = 3.0
    near_days: int = 28

    def __post_init__(self) -> None:
        """Refuse prices below 0, with which moving would be paid for."""
        for field in fields(self):
            number_within(field.name, getattr(self, field.name), 0.0)

    def weight(self, check: Check, days_ahead: NDArray[np.int64]) -> NDArray[np.float64]:
        """Return the weight of moves so many days ahead, elementwise.

        weight = third_party x (1 + near x (1 - days_ahead / near_days)), between today and
        ``near_days`` ahead.
        """
        share = np.clip(1.0 - days_ahead / max(1, self.near_days), 0.0, 1.0)
        if not self.near_days:
            share = np.zeros_like(share)
        weight: NDArray[np.float64] = 1.0 + self.near * share
        return weight * (self.third_party if check.third_party else 1.0)


def prices_of(
    candidates: Candidates, before: list[Placement], slots: Slots, today: int, costs: MoveCosts
) -> NDArray[np.float64]:
    """Return the price of each candidate of a check that stood in ``before``, (candidates,).

    price = weight x (days moved x day price + bay price, if the bays are others + pace price,
    if a stage takes more or fewer worked days). The move is as close at hand as the earlier
    of its two in days. ``today`` is a day number; every bay is a group of its own.
    """
    check, stays = candidates.courses.check, candidates.courses.stays
    if not before:
        return np.zeros(len(candidates.course))
    old = slots.calendar.number(before[0].in_day)
    in_day = stays.in_day[candidates.course]
    day_price = costs.day_option if check.status is Status.OPTION else costs.day_booked
    price = day_price * np.abs(in_day - old).astype(np.float64)
    price += costs.bay * other_bays(candidates, before, slots)
    price += costs.pace * other_pace(candidates, before, slots)[candidates.course]
    return price * costs.weight(check, np.minimum(in_day, old) - today)


def price_given_up(
    check: Check, before: list[Placement], slots: Slots, today: int, costs: MoveCosts
) -> float:
    """Return the price of refusing an option that stood in ``before``."""
    if check.status is not Status.OPTION or not before:
        return 0.0
    ahead = np.array([slots.calendar.number(before[0].in_day) - today])
    return costs.given_up * float(costs.weight(check, ahead)[0])


def other_pace(candidates: Candidates, before: list[Placement], slots: Slots) -> NDArray[np.bool_]:
    """Return which courses run a stage in more or fewer worked days, shape (courses,).

    Stages that the check did not have before do not count, nor do days off the calendar.
    """
    calendar, stays = slots.calendar, candidates.courses.stays
    stated = {stage.stage: stage for placement in before for stage in placement.stages}
    other = np.zeros(len(stays.in_day), dtype=np.bool_)
    for number, work in enumerate(candidates.courses.work):
        if work.name not in stated:
            continue
        first = calendar.number(stated[work.name].first)
        until = calendar.number(stated[work.name].until)
        if first >= 0 and until < len(calendar.worked_before):
            worked = calendar.worked_before[until] - calendar.worked_before[first]
            other |= stays.days[:, number] != worked
    return other
