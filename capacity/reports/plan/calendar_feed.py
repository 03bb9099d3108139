"""Calendar feeds (iCalendar, RFC 5545) of the stays in the bays and of the shifts of a crew.

The bytes are meant for ``write_whole``. The same plan gives the same bytes: the moment it was
made and its number come from the caller, and an event keeps its UID when it is planned anew,
so that calendar programs move it instead of adding another.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from itertools import pairwise
from uuid import UUID, uuid5

from icalendar import Calendar, Event

from capacity.crews.crew_plan import Attendance, CrewPlan
from capacity.facts import Base, Bay, CalendarDays, Check, Closure, Crew, Shift, Status
from capacity.plans.plan import Placement, Plan
from capacity.plans.worked_days import WorkedDays
from capacity.reports.kit.cell_text import printable
from capacity.reports.plan.wording import CAUTION
from capacity.words import LEAST_HOURS, day, hours, own_days

UIDS = UUID("5b1c0d0e-6d0b-5c53-9a3e-0c8f0f2b7a41")
"""The namespace of all UIDs; another one would make every event a new one."""

PRODUCER = "-//hangar-capacity//calendar feed//EN"
ONE_DAY = timedelta(days=1)


def bay_calendar(
    plan: Plan, base: Base, bay: str | None = None, *, stamp: datetime, sequence: int = 0
) -> bytes:
    """Return the feed of one bay, or of all where none is named.

    Each stay is an event of whole days over ``[in, out)``, each closure one too, and so are the
    base's own days, closed or shortened, in every feed. A stay keeps
    its UID as long as its check and the stage it begins with are the same, whatever its bay and
    days. ``stamp`` is the moment the plan was made, with its zone; ``sequence`` is the number
    of the plan, rising with every new one. Customers are not named: a feed travels far.

    Raises
    ------
    ValueError
        When the base has no such bay or the stamp has no zone.
    """
    bays = {one.name: one for one in base.bays if bay in (None, one.name)}
    if bay is not None and not bays:
        raise ValueError(f"the base has no bay {bay}")
    next_of = _next_placements(plan)
    events = [
        _stay(placement, base.check(placement.check), bays[placement.bay], base, next_of)
        for placement in plan.placements
        if placement.bay in bays
    ]
    events += [
        _closure(closure, bays[closure.bay], base)
        for closure in dict.fromkeys(base.closures)
        if closure.bay in bays
    ]
    events += [_own_days(own, base) for own in dict.fromkeys(base.calendar_days)]
    name = f"{base.name}: {'all bays' if bay is None else bay}"
    return _feed(name, events, stamp, sequence)


def crew_calendar(
    crew_plan: CrewPlan, base: Base, crew: str, *, stamp: datetime, sequence: int = 0
) -> bytes:
    """Return the feed of a crew: one event a shift with its aircraft, heads and stages.

    Only shifts for which the crew plan has work. Times are local ones without a zone, from the
    start of the shift over its attended hours, fewer on a shortened day; the unpaid break and
    overtime come on top. Stamp and sequence are those of ``bay_calendar``.

    Raises
    ------
    ValueError
        When the base has no such crew or the stamp has no zone.
    """
    if all(one.name != crew for one in base.crews):
        raise ValueError(f"the base has no crew {crew}")
    stages: dict[tuple[date, str, str], dict[str, None]] = defaultdict(dict)
    for work in crew_plan.work:
        if work.crew == crew:
            stages[work.day, work.shift, work.check][work.stage] = None
    there: dict[tuple[date, str], list[Attendance]] = defaultdict(list)
    for attendance in crew_plan.attendance:
        if attendance.crew == crew:
            there[attendance.day, attendance.shift].append(attendance)
    aircraft = {check.name: check.aircraft for check in base.checks}
    events, worked_days = [], WorkedDays(base)
    for (on, name), people in there.items():
        lines = {
            check: _work_on(
                f"{check}, {aircraft[check]}",
                [one for one in people if one.check == check],
                tuple(stages[on, name, check]),
            )
            for check in sorted({one.check for one in people})
        }
        shift = base.shift(name)
        shift = replace(shift, hours=shift.hours * worked_days.hours_share(on))
        events.append(_shift(base.crew(crew), on, shift, lines, base))
    return _feed(f"{base.name}: crew {crew}", events, stamp, sequence)


def _feed(name: str, events: Iterable[Event], stamp: datetime, sequence: int) -> bytes:
    if stamp.utcoffset() is None:
        raise ValueError("the stamp has no zone")
    calendar = Calendar()
    calendar.add("prodid", PRODUCER)
    calendar.add("version", "2.0")
    calendar.add("method", "PUBLISH")
    calendar.add("name", printable(name))  # RFC 7986
    calendar.add("x-wr-calname", printable(name))  # what older programs read
    for event in sorted(events, key=lambda event: (str(event.start), event["uid"])):
        event.add("dtstamp", stamp.astimezone(UTC))
        event.add("sequence", sequence)
        calendar.add_component(event)
    return bytes(calendar.to_ical())


def _event(start: date, end: date, summary: str, lines: Iterable[str], *identity: str) -> Event:
    """Return an event; two dates make whole days, of which the end is the first day free."""
    event = Event()
    event.add("uid", str(uuid5(UIDS, "\n".join(map(printable, identity)))))
    event.add("dtstart", start)
    event.add("dtend", end)
    event.add("summary", printable(summary))
    event.add("description", "\n".join(map(printable, lines)))
    return event


def _next_placements(plan: Plan) -> dict[Placement, Placement]:
    """Return, for a placement after which its check moves to another bay, the one there."""
    by_check: defaultdict[str, list[Placement]] = defaultdict(list)
    for placement in sorted(plan.placements, key=lambda p: (p.in_day, p.out_day)):
        by_check[placement.check].append(placement)
    return {one: other for stay in by_check.values() for one, other in pairwise(stay)}


def _stay(
    placement: Placement,
    check: Check,
    bay: Bay,
    base: Base,
    next_of: Mapping[Placement, Placement],
) -> Event:
    goes_on = next_of.get(placement)
    lines = [
        f"{check.aircraft}, {check.type}, {check.package}, {check.status}",
        *(
            f"{stage.stage}: {day(stage.first)} to {day(stage.until - ONE_DAY)}"
            for stage in placement.stages
        ),
        (
            f"Out: {day(placement.out_day)}"
            if goes_on is None
            else f"Moves to {goes_on.bay}: {day(placement.out_day)}"
        ),
        CAUTION,
    ]
    event = _event(
        placement.in_day,
        placement.out_day,
        f"{bay.name}: {check.name}, {check.aircraft}, {check.package}",
        lines,
        base.name,
        "stay",
        placement.check,
        placement.stage_from,
    )
    event.add("location", printable(_place(bay)))
    event.add("status", "TENTATIVE" if check.status is Status.OPTION else "CONFIRMED")
    event.add("transp", "TRANSPARENT")  # a stay takes up a bay, not the reader's time
    return event


def _closure(closure: Closure, bay: Bay, base: Base) -> Event:
    reason = f": {closure.reason}" if closure.reason else ""
    event = _event(
        closure.first,
        closure.last + ONE_DAY,
        f"{bay.name} closed{reason}",
        [f"No aircraft from {day(closure.first)} to {day(closure.last)}"],
        base.name,
        "closure",
        closure.bay,
        closure.first.isoformat(),
        closure.last.isoformat(),
        closure.reason,
    )
    event.add("location", printable(_place(bay)))
    event.add("status", "CONFIRMED")
    event.add("transp", "TRANSPARENT")
    return event


def _own_days(own: CalendarDays, base: Base) -> Event:
    told = own_days(own).partition(": ")[2]
    event = _event(
        own.first,
        own.last + ONE_DAY,
        f"{base.name}: {told}",
        [own_days(own)],
        base.name,
        "own days",
        own.first.isoformat(),
        own.last.isoformat(),
    )
    event.add("status", "CONFIRMED")
    event.add("transp", "TRANSPARENT")
    return event


def _place(bay: Bay) -> str:
    return f"{bay.hangar}, {bay.name}" if bay.hangar else bay.name


def _shift(crew: Crew, on: date, shift: Shift, lines: dict[str, str], base: Base) -> Event:
    start = datetime.combine(on, shift.start)
    event = _event(
        start,
        start + timedelta(hours=shift.hours),
        f"{crew.name}, shift {shift.name}: {', '.join(lines)}",
        [*lines.values(), "The unpaid break and overtime are not in the times.", CAUTION],
        base.name,
        "shift",
        crew.name,
        on.isoformat(),
        shift.name,
    )
    if crew.area:
        event.add("location", printable(crew.area))
    event.add("status", "CONFIRMED")
    return event


def _work_on(aircraft: str, people: list[Attendance], stages: tuple[str, ...]) -> str:
    """Return a line such as ``V1, ZZ-A: 2.25 Airframe; stages Opening up; overtime 4.0 h``."""
    heads = [f"{round(one.heads, 2):g} {one.skill}" for one in people]
    parts = [f"{aircraft}: {', '.join(sorted(heads))}"]
    if stages:
        parts.append(f"stages {', '.join(stages)}")
    overtime = sum(one.overtime_hours for one in people)
    if overtime >= LEAST_HOURS:
        parts.append(f"overtime {hours(overtime)}")
    return "; ".join(parts)
