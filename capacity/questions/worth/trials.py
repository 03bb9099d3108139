"""One more of what there is: which bays, heads and days are worth asking about."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace
from datetime import timedelta
from math import fsum

from capacity.facts import Base, Check, Closure, Employment, Status
from capacity.plans.audit import Audit
from capacity.questions.conflicts.ways_of_rooms import further_bay
from capacity.questions.worth.values import More
from capacity.words import day

ONE_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Trial:
    """A changed base to search anew, and the change in words."""

    more: More
    of: str
    what: str
    base: Base
    row: int = -1
    skill: str = ""

    @property
    def about(self) -> frozenset[str]:
        """Return the names by which it can be asked for."""
        return frozenset({self.of, self.skill})


def trials_of(
    base: Base, audit: Audit, more: Collection[More] | None, of: Collection[str] | None
) -> Iterator[Trial]:
    """Yield the changes, those that more is likely to be gained by first.

    Bays of each size; a head of each skill that buys hours; a day for the dates that a check
    has passed; a day off each closure. Of bays, skills, crews and checks that ``of`` names,
    all of them.
    """
    in_turn = (bays(base), heads(base, audit, of), days(base, audit, of), closures(base))
    for trials in in_turn:
        for trial in trials:
            if (more is None or trial.more in more) and (of is None or trial.about & {*of}):
                yield trial


def bays(base: Base) -> Iterator[Trial]:
    """Yield one bay more of each size and work, with a way of its own, never closed."""
    known = set()
    for bay in base.bays:
        size = (bay.max_span_m, bay.max_length_m, bay.max_tail_m, bay.work, bay.docking)
        if size not in known:
            known.add(size)
            more = base.replace(bays=(*base.bays, further_bay(bay, base)))
            yield Trial(More.BAY, bay.name, f"one more bay like {bay.name}", more)


def heads(base: Base, audit: Audit, of: Collection[str] | None) -> Iterator[Trial]:
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
        crews = [
            crew
            for crew in base.crews
            if crew.skills[0] == skill and crew.employment is Employment.EMPLOYED
        ]
        if crews and (bought[skill] > 0 or of is not None):
            largest = max(crews, key=lambda crew: crew.heads)
            bigger = replace(largest, heads=largest.heads + 1)
            changed = base.replace(
                crews=tuple(bigger if crew is largest else crew for crew in base.crews)
            )
            what = f"one more head in {largest.name} ({skill}), all {base.weeks} weeks"
            yield Trial(More.HEAD, largest.name, what, changed, skill=skill)


def days(base: Base, audit: Audit, of: Collection[str] | None) -> Iterator[Trial]:
    """Yield a day more for each date that a check of the plan has passed, or that is asked."""
    accounts = {account.check: account for account in audit.accounts}
    for number, check in enumerate(base.checks):
        account = accounts.get(check.name)
        asked = of is not None and check.name in of
        is_past = account is None or account.days_past_latest_in > 0
        if check.status is Status.BOOKED and (asked or is_past):
            later = replace(check, latest_in=check.latest_in + ONE_DAY)
            what = f"{check.name}: Latest in {day(later.latest_in)}"
            yield Trial(More.LATEST_IN, check.name, what, _with(base, number, later))
        is_late = account is not None and account.late_days > 0
        if check.agreed_out is not None and (asked or is_late):
            agreed = check.agreed_out + ONE_DAY
            what = f"{check.name}: Agreed out {day(agreed)}"
            changed = _with(base, number, replace(check, agreed_out=agreed))
            yield Trial(More.AGREED_OUT, check.name, what, changed)


def closures(base: Base) -> Iterator[Trial]:
    """Yield each closure a day shorter at either end; one of a single day is gone then."""
    for row, closure in enumerate(base.closures):
        sooner = replace(closure, last=closure.last - ONE_DAY)
        what = f"{closure.bay} open again on {day(closure.last)}"
        yield Trial(More.OPENS_SOONER, closure.bay, what, _closed(base, row, sooner), row=row)
        if base.first_day <= closure.first < closure.last:
            later = replace(closure, first=closure.first + ONE_DAY)
            what = f"{closure.bay} still open on {day(closure.first)}"
            yield Trial(More.CLOSES_LATER, closure.bay, what, _closed(base, row, later), row=row)


def _with(base: Base, number: int, changed: Check) -> Base:
    return base.replace(checks=(*base.checks[:number], changed, *base.checks[number + 1 :]))


def _closed(base: Base, row: int, changed: Closure) -> Base:
    kept = (changed,) if changed.first <= changed.last else ()
    return base.replace(closures=(*base.closures[:row], *kept, *base.closures[row + 1 :]))
