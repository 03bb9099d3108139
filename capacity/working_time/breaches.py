"""Which limits of a rule set the crews' rosters break, with overtime."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from types import MappingProxyType

from capacity.facts import Base
from capacity.working_time.duty import Duties
from capacity.working_time.duty_periods import NO_BREAKS, NO_OVERTIME, duty_periods
from capacity.working_time.limits import Breach, Limit, RuleSet

NO_OVERTIME_OF_ANY: Mapping[str, Mapping[date, float]] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Broken:
    """A limit that a crew breaks: how often, and the breach that is worst."""

    crew: str
    worst: Breach
    times: int


def breaches_of(duties: Duties, rule_set: RuleSet) -> tuple[Breach, ...]:
    """Return all breaches of one person's duties, limit by limit in the set's order."""
    return tuple(breach for limit in rule_set.limits for breach in limit.rule(duties, limit))


def breaches(
    base: Base,
    rule_set: RuleSet,
    overtime_by_crew: Mapping[str, Mapping[date, float]] = NO_OVERTIME_OF_ANY,
    *,
    break_hours: Mapping[str, float] = NO_BREAKS,
    first_day: date | None = None,
    until: date | None = None,
) -> dict[str, tuple[Breach, ...]]:
    """Return the breaches of every crew, by its name; an empty tuple where there are none.

    ``overtime_by_crew`` are hours of one person by day, shared evenly or not: of a crew whose
    people give different overtime, tell that of the person who gives most.

    Raises
    ------
    ValueError
        As ``duty_periods``, or when overtime is told of a crew that the base does not have.
    """
    if unknown := set(overtime_by_crew) - {crew.name for crew in base.crews}:
        raise ValueError(f"overtime of crews that are not there: {sorted(unknown)}")
    return {
        crew.name: breaches_of(
            duty_periods(
                crew,
                base,
                overtime_by_crew.get(crew.name, NO_OVERTIME),
                break_hours=break_hours,
                first_day=first_day,
                until=until,
            ),
            rule_set,
        )
        for crew in base.crews
    }


def worst_of(found: Mapping[str, Iterable[Breach]]) -> tuple[Broken, ...]:
    """Return each crew and limit once, in the order they were found, with the worst breach."""
    worst: dict[tuple[str, Limit], Breach] = {}
    times: Counter[tuple[str, Limit]] = Counter()
    for crew, of_crew in found.items():
        for breach in of_crew:
            key = crew, breach.limit
            times[key] += 1
            if key not in worst or breach.beyond > worst[key].beyond:
                worst[key] = breach
    return tuple(
        Broken(crew, breach, times[crew, limit]) for (crew, limit), breach in worst.items()
    )
