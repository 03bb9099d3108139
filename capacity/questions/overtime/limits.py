"""Which working-time limits the overtime of a plan would meet, crew by crew."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from capacity.facts import Base, Crew
from capacity.plans.weeks import monday_of, week_name
from capacity.working_time.averages import AVERAGES, hours_added_up, without
from capacity.working_time.breaches import NO_OVERTIME_OF_ANY, breaches, worst_of
from capacity.working_time.duty_periods import duty_periods
from capacity.working_time.limits import RuleSet
from capacity.working_time.rule_sets import RULE_SETS
from capacity.working_time.wording import added_up_in_words, breach_in_words

ONE_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class LimitMet:
    """A working-time limit that a crew's roster passes, with the overtime or without it.

    ``by_overtime`` says that the roster alone would keep it.
    """

    crew: str
    what: str
    source: str
    times: int
    by_overtime: bool


def limits_met(
    overtime_per_head: Mapping[tuple[str, str], float], base: Base
) -> tuple[LimitMet, ...]:
    """Return the limits of the base's rule set that are passed; none where it has no rules.

    ``overtime_per_head`` are attended hours by ISO week and crew. Within a week they are laid
    evenly on the days on which the crew works: the gentlest way. Looked at are the weeks of
    the plan and those after them in which there is overtime.
    """
    if base.working_time_rules is None or base.working_time_mode == "off":
        return ()
    rules = RULE_SETS[base.working_time_rules]
    last = max((week for week, _ in overtime_per_head), default=None)
    sundays = (monday + timedelta(days=6) for monday in mondays_of(base, last))
    until = max([base.last_in_day, *sundays]) + ONE_DAY
    overtime = {crew.name: _by_day(crew, overtime_per_head, base, until) for crew in base.crews}
    return (
        *_met_on_days(base, without(rules, AVERAGES), overtime, until),
        *_met_on_average(base, rules, overtime, until),
    )


def _met_on_days(
    base: Base, rules: RuleSet, overtime: Mapping[str, Mapping[date, float]], until: date
) -> Iterator[LimitMet]:
    by_roster = {
        (broken.crew, broken.worst.limit.id)
        for broken in worst_of(breaches(base, rules, until=until))
    }
    for broken in worst_of(breaches(base, rules, overtime, until=until)):
        yield LimitMet(
            crew=broken.crew,
            what=breach_in_words(broken.worst),
            source=broken.worst.limit.source,
            times=broken.times,
            by_overtime=(broken.crew, broken.worst.limit.id) not in by_roster,
        )


def _met_on_average(
    base: Base, rules: RuleSet, overtime: Mapping[str, Mapping[date, float]], until: date
) -> Iterator[LimitMet]:
    """Yield averages that are exceeded over their reference period, or in the plan's weeks."""
    by_roster = {
        (added.crew, added.limit.id)
        for added in hours_added_up(base, rules, AVERAGES, NO_OVERTIME_OF_ANY, until=until)
        if added.is_exceeded or added.is_near
    }
    for added in hours_added_up(base, rules, AVERAGES, overtime, until=until):
        if added.is_exceeded or added.is_near:
            yield LimitMet(
                crew=added.crew,
                what=added_up_in_words(added),
                source=added.limit.source,
                times=1,
                by_overtime=(added.crew, added.limit.id) not in by_roster,
            )


def mondays_of(base: Base, last_week: str | None) -> Iterator[date]:
    """Return the Mondays from the first day's week to a week such as ``2027-W09``."""
    monday = monday_of(base.first_day)
    while last_week is not None:
        yield monday
        if week_name(monday) >= last_week:
            return
        monday += timedelta(days=7)


def _by_day(
    crew: Crew,
    overtime_per_head: Mapping[tuple[str, str], float],
    base: Base,
    until: date,
) -> dict[date, float]:
    days: dict[str, list[date]] = {}
    for period in duty_periods(crew, base, until=until).periods:
        days.setdefault(week_name(monday_of(period.day)), []).append(period.day)
    return {
        day: hours / len(days[week])
        for (week, name), hours in overtime_per_head.items()
        if name == crew.name and week in days
        for day in days[week]
    }
