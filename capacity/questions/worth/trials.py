"""One more of what there is: which of the changes are worth asking about."""

from collections.abc import Collection, Iterator
from math import fsum

from capacity.facts import Base
from capacity.plans.audit import Audit
from capacity.questions.asking.changes import A_HEAD, AGREED_OUT, LATEST_IN, changes_of
from capacity.slots.rules.one_more import More, OneMore


def trials_of(
    base: Base, audit: Audit, more: Collection[More] | None, of: Collection[str] | None
) -> Iterator[OneMore]:
    """Yield the changes, those that more is likely to be gained by first.

    What each family of rules has one more of; a head of each skill that buys hours, the dearest
    first; a day for the dates that a check has passed. Of bays, skills, crews and checks that
    ``of`` names, all.
    """
    bought = _bought_by_skill(base, audit)
    passed = _dates_passed(base, audit)
    may_gain = {A_HEAD: {name for name, money in bought.items() if money > 0}, **passed}

    def turn(change: OneMore) -> tuple[int, bool, float]:
        return change.more.turn, change.more == A_HEAD, -bought.get(change.skill, 0.0)

    for change in sorted(changes_of(base), key=turn):
        if not change.more.is_one or (more is not None and change.more not in more):
            continue
        if of is not None and not change.about & {*of}:
            continue
        could = may_gain.get(change.more)
        if of is not None or could is None or (change.skill or change.of) in could:
            yield change


def _bought_by_skill(base: Base, audit: Audit) -> dict[str, float]:
    """Return the money of the hours that each skill buys."""
    return {
        skill.name: fsum(
            load.overtime * skill.overtime_cost
            + load.contract_paid * skill.contract_cost
            + load.overload * base.overload_cost
            for load in audit.weeks
            if load.skill == skill.name
        )
        for skill in base.skills
    }


def _dates_passed(base: Base, audit: Audit) -> dict[More, set[str]]:
    """Return the checks whose date is passed, or that have no slot, by what there is more of."""
    accounts = audit.by_check()
    past = {a.check for a in audit.accounts if a.days_past_latest_in > 0}
    without_slot = {check.name for check in base.checks if check.name not in accounts}
    late = {a.check for a in audit.accounts if a.late_days > 0}
    return {LATEST_IN: past | without_slot, AGREED_OUT: late}
