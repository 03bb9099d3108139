"""The one list of changes of a base that questions try, each with the sentence that names it."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta

from capacity.facts import Base, Check, Employment, Status
from capacity.slots.rules.families import families
from capacity.slots.rules.one_more import More, OneMore
from capacity.words import day

ONE_DAY = timedelta(days=1)
A_HEAD = More("one more head", 1, "Crews", "Heads")
LATEST_IN = More("Latest in a day later", 2, "Checks", "Latest in", can_cost=True)
AGREED_OUT = More("Agreed out a day later", 2, "Checks", "Agreed out")
AGREED_DAYS = More("a day more agreed", 2, "Checks", "Agreed days")
BAY_OPEN_AGAIN = More("a bay open again", 3, "Bay closures", "From", is_one=False)


def changes_of(base: Base) -> Iterator[OneMore]:
    """Yield every change; a question takes those that it tries, in an order of its own.

    What each family of rules has one more of, a head in each skill, a closure taken away, and
    a day for each date of a check.
    """
    for family in families():
        yield from family.one_more(base)
    yield from _one_more_head(base)
    yield from _bays_open_again(base)
    yield from _dates_later(base)


def _one_more_head(base: Base) -> Iterator[OneMore]:
    """Yield a head more in the largest employed crew of each skill, all the time.

    None where no employed crew has it for its own skill.
    """
    for skill in base.skills:
        crews = [
            crew
            for crew in base.crews
            if crew.skills[0] == skill.name and crew.employment is Employment.EMPLOYED
        ]
        if not crews:
            continue
        largest = max(crews, key=lambda crew: crew.heads)
        bigger = replace(largest, heads=largest.heads + 1)
        changed = base.replace(crews=tuple(bigger if c is largest else c for c in base.crews))
        what = f"one more head in {largest.name} ({skill.name}), all {base.weeks} weeks"
        yield OneMore(A_HEAD, largest.name, what, changed, skill=skill.name)


def _bays_open_again(base: Base) -> Iterator[OneMore]:
    """Yield each closure taken away."""
    for row, closure in enumerate(base.closures):
        others = tuple(c for n, c in enumerate(base.closures) if n != row)
        what = f"{closure.bay} open from {day(closure.first)} to {day(closure.last)}" + (
            f" ({closure.reason})" if closure.reason else ""
        )
        changed = base.replace(closures=others)
        yield OneMore(BAY_OPEN_AGAIN, closure.bay, what, changed, row=row)


def _dates_later(base: Base) -> Iterator[OneMore]:
    """Yield a day more for ``Latest in`` of each booked check, and for each ``Agreed out``."""
    for number, check in enumerate(base.checks):
        if check.status is Status.BOOKED:
            later = replace(check, latest_in=check.latest_in + ONE_DAY)
            what = f"{check.name}: Latest in {day(later.latest_in)}"
            yield OneMore(LATEST_IN, check.name, what, _with(base, number, later))
        if check.agreed_out is not None:
            agreed = check.agreed_out + ONE_DAY
            what = f"{check.name}: Agreed out {day(agreed)}"
            changed = _with(base, number, replace(check, agreed_out=agreed))
            yield OneMore(AGREED_OUT, check.name, what, changed)
        elif check.agreed_days is not None:
            longer = replace(check, agreed_days=check.agreed_days + 1)
            what = f"{check.name}: Agreed days {longer.agreed_days}"
            yield OneMore(AGREED_DAYS, check.name, what, _with(base, number, longer))


def _with(base: Base, number: int, changed: Check) -> Base:
    return base.replace(checks=(*base.checks[:number], changed, *base.checks[number + 1 :]))
