"""Everything that is different between the plan before and the new one."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from capacity.facts import Check, Status
from capacity.plans.plan import Placement, Plan
from capacity.questions.asking.concerned import concerned_by
from capacity.questions.replan.reasons import Replacing, reasons
from capacity.questions.replan.values import Cause, Change, Freeze, Reason, What
from capacity.slots.program.choice import Choice
from capacity.slots.search.refusals import Refused, explained


@dataclass(frozen=True)
class MovePrices:
    """The move price of each column (columns,) and of refusing each check (checks,)."""

    columns: NDArray[np.float64]
    given_up: NDArray[np.float64]

    def of(self, check: int, column: int) -> float:
        """Return the price of one check's column, -1 for none."""
        return float(self.columns[column] if column >= 0 else self.given_up[check])

    def in_all(self, chosen: Choice) -> float:
        """Return the price of a choice."""
        return sum(self.of(check, int(column)) for check, column in enumerate(chosen))


def changes_of(
    before: Mapping[str, Sequence[Placement]],
    known: frozenset[str],
    after: Plan,
    replacing: Replacing,
    prices: MovePrices,
    freeze: Freeze,
) -> tuple[Change, ...]:
    """Return the changes in the order of the base, those cancelled last.

    ``known`` are the checks that the plan before speaks of, placed or not. Who could not stay
    within the ``freeze`` window has the reasons given there.
    """
    placed = after.by_check()
    broken = {hold.check: hold.why for hold in freeze.broken}
    changes = []
    for check in replacing.base.checks:
        old, new = list(before.get(check.name, ())), placed.get(check.name, [])
        if check.status is Status.OPTION and not old and not new:
            continue  # refused as before, or new and refused: nothing stands otherwise
        what = what_changed(old, new, is_new=check.name not in known)
        if what:
            price = _price(check.name, replacing, prices)
            why = broken.get(check.name) or _why(check, old, new, what, replacing)
            changes.append(_change(check.name, what, old, new, why, price, replacing))
    here = {check.name for check in replacing.base.checks}
    cancelled = (Reason(Cause.CANCELLED),)
    changes += [
        _change(name, (What.CANCELLED,), list(old), [], cancelled, 0.0, replacing)
        for name, old in before.items()
        if name not in here
    ]
    return tuple(changes)


def what_changed(
    before: Sequence[Placement], after: Sequence[Placement], *, is_new: bool
) -> tuple[What, ...]:
    """Return what is different about one check; empty when nothing is.

    ``What.STAGES`` is given where the in day is the same but days of stages are not, or the
    stay has become longer or shorter.
    """
    if is_new:
        return (What.NEW,) if after else (What.NEW, What.UNPLACED)
    if not before or not after:
        return (What.PLACED,) if after else (What.UNPLACED,) if before else ()
    what = []
    if before[0].in_day != after[0].in_day:
        what.append(What.DAY)
    if [p.bay for p in before] != [p.bay for p in after]:
        what.append(What.BAY)
    if _stages_differ(before, after):
        what.append(What.STAGES)
    return tuple(what)


def _stages_differ(before: Sequence[Placement], after: Sequence[Placement]) -> bool:
    if before[0].in_day == after[0].in_day:
        # Where the hours of a stage lie is no change of its slot.
        old, new = (
            [stage for placement in one for stage in placement.without_hours().stages]
            for one in (before, after)
        )
        return old != new or before[-1].out_day != after[-1].out_day
    old_stay, new_stay = (one[-1].out_day - one[0].in_day for one in (before, after))
    return old_stay != new_stay


def _why(
    check: Check,
    before: list[Placement],
    after: list[Placement],
    what: tuple[What, ...],
    replacing: Replacing,
) -> tuple[Reason, ...]:
    if What.NEW in what:
        return (Reason(Cause.NEW), *_without_slot(check, after, replacing))
    if before:
        return reasons(check, before, replacing)
    # It had no place before and has one now.
    number = replacing.number_of(check.name)
    if number is None:
        return (Reason(Cause.FIXED),)
    without = replacing.new.copy()
    without[number] = -1
    days, money = replacing.program.cost(without)
    now_days, now_money = replacing.program.cost(replacing.new)
    if days > now_days:
        return (Reason(Cause.FEWER_DAYS_PAST, days=days - now_days),)
    return (Reason(Cause.CHEAPER, money=money - now_money),)


def _without_slot(check: Check, after: list[Placement], replacing: Replacing) -> tuple[Reason, ...]:
    """Return who is in the way of a new check; nothing where it has a slot."""
    number = replacing.number_of(check.name)
    if after or number is None:
        return ()
    refused = Refused(number, None)
    told = explained(refused, replacing.new, replacing.program, replacing.slots)
    return (Reason(Cause.IN_THE_WAY, by=told.in_the_way),)


def _price(name: str, replacing: Replacing, prices: MovePrices) -> float:
    number = replacing.number_of(name)
    return 0.0 if number is None else prices.of(number, int(replacing.new[number]))


def _change(
    name: str,
    what: tuple[What, ...],
    before: list[Placement],
    after: list[Placement],
    why: tuple[Reason, ...],
    price: float,
    replacing: Replacing,
) -> Change:
    moved = (after[0].in_day - before[0].in_day).days if before and after else 0
    concerned = concerned_by(name, before, after, replacing.base, replacing.old_base)
    return Change(name, what, tuple(before), tuple(after), moved, why, price, concerned)


def known_of(plan: Plan) -> frozenset[str]:
    """Return the checks that a plan speaks of, placed or not."""
    named = {placement.check for placement in plan.placements}
    return frozenset((*named, *plan.not_placed, *plan.refused))
