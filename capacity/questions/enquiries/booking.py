"""Enquiries taken into the plan: booked checks of the base, with all that changes for them."""

import time
from collections.abc import Collection, Sequence
from dataclasses import dataclass, field, replace
from math import fsum
from threading import Event
from typing import TypedDict

from capacity.errors import AuditError
from capacity.facts import Base, Check, Status
from capacity.plans.audit import Audit, Auditor, audit
from capacity.plans.listing import listed_anew
from capacity.plans.plan import Plan
from capacity.questions.asking.concerned import concerned_by
from capacity.questions.asking.differences import Move
from capacity.questions.enquiries.combinations import SECONDS, best_combinations
from capacity.questions.enquiries.values import Combination
from capacity.questions.replan.changes import what_changed
from capacity.questions.replan.values import Cause, Change, Reason
from capacity.settings import Settings

MOST_DAYS = 400
"""More days early or late than any plan has, for the price at which an enquiry is taken anyway."""

LEAST_RAISE = 1000.0


@dataclass(frozen=True)
class Booked:
    """A plan with enquiries booked, beside the plan that they were put to.

    ``base`` has them as booked checks, whose price is agreed and no longer in the cost of the
    plan; ``before`` is the plan without them, of ``base_before``. ``combination`` tells slots,
    costs and gain. ``left_out`` are those asked about that are not booked.
    """

    base: Base
    plan: Plan
    audit: Audit
    base_before: Base
    before: Plan
    audit_before: Audit
    combination: Combination
    changes: tuple[Change, ...]
    left_out: tuple[str, ...]
    seconds: float
    settings: Settings = field(default_factory=Settings)

    @property
    def is_worth_it(self) -> bool:
        """Return whether the prices are at least what booking costs."""
        return self.combination.gain >= -1e-6

    @property
    def names(self) -> tuple[str, ...]:
        """Return what is booked."""
        return self.combination.names


def book(
    base: Base,
    plan: Plan,
    enquiries: Sequence[Check],
    settings: Settings | None = None,
    *,
    may_move: Collection[str] | None = (),
    on_time_only: bool = False,
    anyway: bool = False,
    stop: Event | None = None,
) -> Booked | None:
    """Book the combination of enquiries that is worth most; None where none is worth it.

    With ``anyway`` all are booked that have a slot, whatever they cost, as cheaply as was found.

    Raises
    ------
    InputError
        When an enquiry is faulty, or the plan is none of this base's.
    AuditError
        When a plan does not stand up to the audit.
    """
    began = time.monotonic()
    settings = settings or Settings(seconds=SECONDS)
    search = anyway_combination if anyway else _best
    best = search(
        base, plan, enquiries, settings, may_move=may_move, on_time_only=on_time_only, stop=stop
    )
    if not best.names:
        return None
    return booked(base, plan, enquiries, best, settings, time.monotonic() - began)


def booked(
    base: Base,
    plan: Plan,
    enquiries: Sequence[Check],
    best: Combination,
    settings: Settings,
    seconds: float,
) -> Booked:
    """Return the plan of a combination with its enquiries as booked checks; audited."""
    taken = [as_booked(check) for check in enquiries if check.name in best.names]
    whole = base.replace(checks=(*base.checks, *taken))
    new = listed_anew(best.plan, whole)
    before = audit(base, plan)
    found = Auditor(whole).audit(new, before)
    if found.broken:
        raise AuditError(found.broken)
    return Booked(
        base=whole,
        plan=new,
        audit=found,
        base_before=base,
        before=plan,
        audit_before=before,
        combination=best,
        changes=(
            *(_new(check.name, new, whole) for check in taken),
            *(_moved(move, whole, best.names) for move in best.moves),
        ),
        left_out=tuple(check.name for check in enquiries if check.name not in best.names),
        seconds=seconds,
        settings=settings,
    )


def as_booked(enquiry: Check) -> Check:
    """Return the check that an enquiry becomes once it is accepted.

    Prices and days to decide by are of options only.
    """
    return replace(enquiry, status=Status.BOOKED, price=0.0, decide_by=None)


def anyway_combination(
    base: Base,
    plan: Plan,
    enquiries: Sequence[Check],
    settings: Settings,
    *,
    may_move: Collection[str] | None = (),
    on_time_only: bool = False,
    stop: Event | None = None,
) -> Combination:
    """Return the combination of all enquiries that have a slot together, as cheap as found.

    They are put to the plan at prices above all that they could cost, and once more at prices
    above what they were then found to cost; gain and prices stated are those of the enquiries as
    they are. Each of the two searches may take ``settings.seconds``.
    """
    ways: _Ways = {"may_move": may_move, "on_time_only": on_time_only, "stop": stop}
    most = _most_cost(enquiries, base)
    first = _best(base, plan, _raised(enquiries, most), settings, **ways)
    # Prices just above what is known to be enough: the search then looks at cents again.
    enough = min(most, LEAST_RAISE + 2.0 * (abs(first.costs.money) + first.gain_of_moves))
    second = _best(base, plan, _raised(enquiries, enough), settings, **ways)
    is_as_good = len(second.names) == len(first.names) and second.costs.money < first.costs.money
    best = second if is_as_good else first
    prices = {check.name: check.price for check in enquiries}
    told = tuple(replace(one, price=prices[one.check]) for one in best.enquiries)
    gain = fsum(one.price for one in told) - best.costs.money
    found = best.contribution
    if found is not None:
        found = replace(found, price=fsum(one.price for one in told))
    return replace(
        best, enquiries=told, gain=gain, most_gain=None, proven=False, contribution=found
    )


class _Ways(TypedDict):
    may_move: Collection[str] | None
    on_time_only: bool
    stop: Event | None


def _raised(enquiries: Sequence[Check], by: float) -> list[Check]:
    return [replace(check, price=check.price + by) for check in enquiries]


def _best(
    base: Base,
    plan: Plan,
    enquiries: Sequence[Check],
    settings: Settings,
    *,
    may_move: Collection[str] | None,
    on_time_only: bool,
    stop: Event | None,
) -> Combination:
    return best_combinations(
        base,
        plan,
        enquiries,
        settings,
        runners_up=0,
        may_move=may_move,
        on_time_only=on_time_only,
        stop=stop,
    ).best


def _most_cost(enquiries: Sequence[Check], base: Base) -> float:
    """Return more than enquiries can cost, whoever moves for them.

    All man-hours at the highest price of a man-hour, all days at their costs, and every option.
    """
    an_hour = max(
        base.overload_cost,
        *(max(skill.overtime_cost, skill.contract_cost) for skill in base.skills),
    )
    return 1.0 + fsum(
        _hours(check, base) * an_hour
        + MOST_DAYS
        * (check.late_cost_per_day + check.early_cost_per_day + check.wanted_cost_per_day)
        + check.price
        for check in (*base.checks, *enquiries)
    )


def _hours(check: Check, base: Base) -> float:
    return fsum(
        hours
        for stage in base.package_of(check).stages
        for hours in stage.asked_hours(check.findings_factor).values()
    )


def _new(name: str, plan: Plan, base: Base) -> Change:
    after = tuple(plan.by_check()[name])
    why = (Reason(Cause.NEW),)
    return Change(
        name,
        what_changed((), after, is_new=True),
        (),
        after,
        0,
        why,
        0.0,
        concerned_by(name, (), after, base),
    )


def _moved(move: Move, base: Base, names: tuple[str, ...]) -> Change:
    return Change(
        move.check,
        what_changed(move.before, move.after, is_new=False),
        move.before,
        move.after,
        move.days,
        (Reason(Cause.MADE_ROOM, by=names),),
        0.0,
        concerned_by(move.check, move.before, move.after, base),
    )
