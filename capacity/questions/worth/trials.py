"""One more of what there is: which bays, heads and days are worth asking about."""

from collections.abc import Collection, Iterator
from dataclasses import replace
from datetime import timedelta
from math import fsum

from capacity.facts import Base, Check, Status
from capacity.plans.audit import Audit
from capacity.questions.asking.changes import one_more_head
from capacity.slots.rules.families import families
from capacity.slots.rules.one_more import More, OneMore
from capacity.words import day

ONE_DAY = timedelta(days=1)
A_HEAD = More("one more head", 1, "Crews", "Heads")
LATEST_IN = More("Latest in a day later", 2, "Checks", "Latest in", can_cost=True)
AGREED_OUT = More("Agreed out a day later", 2, "Checks", "Agreed out")


def trials_of(
    base: Base, audit: Audit, more: Collection[More] | None, of: Collection[str] | None
) -> Iterator[OneMore]:
    """Yield the changes, those that more is likely to be gained by first.

    What each family of rules has one more of; a head of each skill that buys hours; a day for the
    dates that a check has passed. Of bays, skills, crews and checks that ``of`` names, all.
    """
    of_rules = (one for family in families() for one in family.one_more(base))
    trials = [*of_rules, *heads(base, audit, of), *days(base, audit, of)]
    for trial in sorted(trials, key=lambda trial: trial.more.turn):
        if (more is None or trial.more in more) and (of is None or trial.about & {*of}):
            yield trial


def heads(base: Base, audit: Audit, of: Collection[str] | None) -> Iterator[OneMore]:
    """Yield one head more in the largest employed crew of each skill, the dearest skill first."""
    bought = {
        skill.name: fsum(
            load.overtime * skill.overtime_cost
            + load.contract * skill.contract_cost
            + load.overload * base.overload_cost
            for load in audit.weeks
            if load.skill == skill.name
        )
        for skill in base.skills
    }
    for skill in sorted(bought, key=lambda name: -bought[name]):
        more = one_more_head(skill, base)
        if more is not None and (bought[skill] > 0 or of is not None):
            yield OneMore(A_HEAD, more.of, more.what, more.base, skill=skill)


def days(base: Base, audit: Audit, of: Collection[str] | None) -> Iterator[OneMore]:
    """Yield a day more for each date that a check of the plan has passed, or that is asked."""
    accounts = audit.by_check()
    for number, check in enumerate(base.checks):
        account = accounts.get(check.name)
        asked = of is not None and check.name in of
        is_past = account is None or account.days_past_latest_in > 0
        if check.status is Status.BOOKED and (asked or is_past):
            later = replace(check, latest_in=check.latest_in + ONE_DAY)
            what = f"{check.name}: Latest in {day(later.latest_in)}"
            yield OneMore(LATEST_IN, check.name, what, _with(base, number, later))
        is_late = account is not None and account.late_days > 0
        if check.agreed_out is not None and (asked or is_late):
            agreed = check.agreed_out + ONE_DAY
            what = f"{check.name}: Agreed out {day(agreed)}"
            changed = _with(base, number, replace(check, agreed_out=agreed))
            yield OneMore(AGREED_OUT, check.name, what, changed)


def _with(base: Base, number: int, changed: Check) -> Base:
    return base.replace(checks=(*base.checks[:number], changed, *base.checks[number + 1 :]))
