"""Hand-made rosters of one person, and random ones."""

from collections.abc import Iterable
from datetime import date, datetime, time, timedelta

from hypothesis import strategies as st

from capacity.facts import Base, Crew, Pattern, Shift
from capacity.working_time.duty import Duties, DutyPeriod
from capacity.working_time.limits import Breach, Limit
from capacity.working_time.rule_sets import RULE_SETS

MONDAY = date(2027, 1, 4)


def duty(
    number: int,
    start: float = 7,
    hours: float = 12,
    overtime: float = 0,
    *,
    night: bool = False,
    pause: float = 0,
    first_day: date = MONDAY,
) -> DutyPeriod:
    """Return a duty of the day with that number, counted from 1; hours include the pause."""
    opens = datetime.combine(first_day, time()) + timedelta(days=number - 1, hours=start)
    scheduled_end = opens + timedelta(hours=hours)
    return DutyPeriod(opens, scheduled_end, scheduled_end + timedelta(hours=overtime), night, pause)


def night(number: int, hours: float = 12, overtime: float = 0, start: float = 19) -> DutyPeriod:
    return duty(number, start, hours, overtime, night=True)


def roster(*periods: DutyPeriod, days: int = 28, first_day: date = MONDAY) -> Duties:
    return Duties(first_day, first_day + timedelta(days=days), periods)


def limit(name: str) -> Limit:
    (found,) = (one for rule_set in RULE_SETS.values() for one in rule_set.limits if one.id == name)
    return found


def broken(name: str, duties: Duties) -> list[tuple[int, float]]:
    """Return the breaches of one limit: number of the day, counted from 1, and value."""
    one = limit(name)
    return [
        ((breach.day - duties.first_day).days + 1, round(breach.value, 6))
        for breach in one.rule(duties, one)
    ]


def crew_base(
    cycle: str, shifts: Iterable[Shift], *, weeks: int = 4, **settings: object
) -> tuple[Crew, Base]:
    """Return a crew that works the cycle from the first day on, and its base."""
    turns = tuple(None if word == "-" else word for word in cycle.split())
    crew = Crew("Red", ("Airframe",), 6, "turn", MONDAY)
    base = Base(
        name="Invented",
        first_day=MONDAY,
        weeks=weeks,
        skills=(),
        bays=(),
        types=(),
        packages=(),
        checks=(),
        crews=(crew,),
        patterns=(Pattern("turn", turns),),
        shifts=tuple(shifts),
    )
    return crew, base.replace(**settings)


def beyond(breaches: Iterable[Breach]) -> dict[tuple[str, date], float]:
    """Return by how much each limit is missed on each day, the most where it is told twice."""
    found: dict[tuple[str, date], float] = {}
    for breach in breaches:
        key = breach.limit.id, breach.day
        found[key] = max(found.get(key, 0.0), breach.beyond)
    return found


@st.composite
def rosters(
    draw: st.DrawFn, *, days: int = 21, overtime: bool = True, calls: bool = True
) -> Duties:
    """Draw a roster in quarters of an hour in which nobody is on two duties at once."""
    quarters = st.integers(0, 8).map(lambda number: number / 4)
    periods: list[DutyPeriod] = []
    for number in range(1, days + 1):
        kind = draw(st.sampled_from("DDENN--" + ("C" if calls else "")))
        if kind == "-":
            continue
        start = draw(st.sampled_from({"D": [5.5, 7], "E": [13, 14], "N": [19, 22], "C": [8]}[kind]))
        extra = draw(quarters) if overtime else 0.0
        period = (
            duty(number, start, 0, 4 + extra)
            if kind == "C"
            else duty(
                number,
                start,
                draw(st.sampled_from([7.5, 8, 10, 12, 12.5])),
                extra,
                night=kind == "N",
                pause=draw(st.sampled_from([0, 0.5])),
            )
        )
        if not periods or periods[-1].end <= period.start:
            periods.append(period)
    return roster(*periods, days=days)
