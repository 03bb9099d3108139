"""Hours added up over many days: of a person on average, and of one who always works most.

A rule on an average is kept or not over its reference period, of which a plan may show only a
part. What lies around the plan is then taken from the roster, without overtime, and the weeks
of the plan are told by themselves too.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta

from capacity.facts import Base, Crew
from capacity.working_time.breaches import NO_OVERTIME_OF_ANY
from capacity.working_time.duty import ONE_DAY, Duties
from capacity.working_time.duty_periods import NO_OVERTIME, duty_periods
from capacity.working_time.limits import TINY, Breach, Limit, RuleSet
from capacity.working_time.total_rules import (
    average_night_hours,
    average_weekly_hours,
    hours_in_days,
)

AVERAGES: frozenset[Callable[..., object]] = frozenset({average_weekly_hours, average_night_hours})
"""Rules over a reference period, which may be longer than the plan."""
ADDED_UP = AVERAGES | {hours_in_days}
"""Rules on sums of overtime over days: whoever works most on each of them may be several people."""


@dataclass(frozen=True, slots=True)
class HoursAddedUp:
    """What a person of a crew comes to under a rule on sums, at the most of all periods.

    ``value`` is over ``[first, until)``, the whole reference period; ``alone`` over the days of
    the plan in it, the same where the plan is as long. ``worst`` is that of one person who on
    every day has the most overtime that anybody of the crew has, over the days of the plan.
    All are in the unit of the limit.
    """

    crew: str
    limit: Limit
    first: date
    until: date
    value: float
    alone: float
    worst: float
    is_filled: bool

    @property
    def is_exceeded(self) -> bool:
        """Whether a person on average exceeds the limit, over the whole of its period."""
        return self.value > self.limit.number + TINY

    @property
    def is_near(self) -> bool:
        """Whether the weeks of the plan alone exceed it, or one person at worst."""
        return max(self.alone, self.worst) > self.limit.number + TINY


def without(rule_set: RuleSet, rules: frozenset[Callable[..., object]]) -> RuleSet:
    """Return a rule set without the limits of some rules."""
    return replace(rule_set, limits=tuple(one for one in rule_set.limits if one.rule not in rules))


def hours_added_up(
    base: Base,
    rule_set: RuleSet,
    rules: frozenset[Callable[..., object]],
    overtime: Mapping[str, Mapping[date, float]],
    *,
    worst: Mapping[str, Mapping[date, float]] = NO_OVERTIME_OF_ANY,
    first_day: date | None = None,
    until: date | None = None,
) -> Iterator[HoursAddedUp]:
    """Return each crew's figures under the limits of ``rules``; ``overtime`` as in ``breaches``.

    ``overtime`` is that of a person on average, ``worst`` that of one who always has most; of
    crews that it does not name it is the same.
    """
    first = base.first_day if first_day is None else first_day
    end = base.last_in_day + ONE_DAY if until is None else until
    for crew in base.crews:
        on_average = overtime.get(crew.name, NO_OVERTIME)
        at_worst = worst.get(crew.name, on_average)
        for limit in rule_set.limits:
            if limit.rule not in rules:
                continue
            is_filled = limit.rule in AVERAGES and (end - first).days < limit.days
            around = timedelta(days=limit.days)
            days = (end - around, first + around) if is_filled else (first, end)
            whole = _most(_duties(crew, base, on_average, *days), limit)
            alone = _most(_duties(crew, base, on_average, first, end), limit)
            most = _most(_duties(crew, base, at_worst, first, end), limit)
            if whole is None:
                continue
            yield HoursAddedUp(
                crew=crew.name,
                limit=limit,
                first=max(days[0], whole.day + ONE_DAY - around),
                until=whole.day + ONE_DAY,
                value=whole.value,
                alone=alone.value if alone is not None else 0.0,
                worst=most.value if most is not None else 0.0,
                is_filled=is_filled,
            )


def _duties(
    crew: Crew, base: Base, overtime: Mapping[date, float], first: date, until: date
) -> Duties:
    return duty_periods(crew, base, overtime, first_day=first, until=until)


def _most(duties: Duties, limit: Limit) -> Breach | None:
    """Return the largest value that the rule of a limit looks at, as if none were allowed."""
    found = limit.rule(duties, replace(limit, number=-1.0))
    return max(found, key=lambda breach: breach.value, default=None)
