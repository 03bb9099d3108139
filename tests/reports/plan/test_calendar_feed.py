"""Calendar feeds, read back with icalendar.

Source of the format: RFC 5545, from memory: an end is not part of the event (3.6.1), texts
escape backslash, semicolon, comma and line break (3.3.11), a moment of making is in UTC
(3.8.7.2), lines have 75 octets at the most (3.1).
"""

from collections import Counter
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta, timezone

import pytest
from icalendar import Calendar, Event

from capacity.crews.crew_plan import Attendance, CrewPlan, StageHours
from capacity.facts import Base, CalendarDays, Closure, Crew, Shift, Status
from capacity.plans.outcome import Planned
from capacity.reports.kit.whole_file import write_whole
from capacity.reports.plan.calendar_feed import bay_calendar, crew_calendar

STAMP = datetime(2026, 12, 1, 9, 30, tzinfo=UTC)
MONDAY = date(2027, 1, 4)


def events(feed: bytes) -> list[Event]:
    return list(Calendar.from_ical(feed).walk("VEVENT"))


def by_uid(feed: bytes) -> dict[str, Event]:
    found = {str(event["uid"]): event for event in events(feed)}
    assert len(found) == len(events(feed))
    return found


def test_every_stay_is_whole_days_up_to_its_out_day(base: Base, planned: Planned) -> None:
    stays = Counter(
        (event.decoded("dtstart"), event.decoded("dtend"), str(event["summary"]).split(", ")[0])
        for event in events(bay_calendar(planned.plan, base, stamp=STAMP))
        if "closed" not in event["summary"]
    )
    assert stays == Counter(
        (one.in_day, one.out_day, f"{one.bay}: {one.check}") for one in planned.plan.placements
    )
    assert {type(start) for start, _, _ in stays} == {date}


def test_a_bay_has_its_own_stays_and_closures(base: Base, planned: Planned) -> None:
    found = events(bay_calendar(planned.plan, base, "N3", stamp=STAMP))
    stays = [one for one in planned.plan.placements if one.bay == "N3"]
    assert len(found) == len(stays) + 1
    assert {str(event["location"]) for event in found} == {"North, N3"}
    (closed,) = (event for event in found if "closed" in event["summary"])
    assert str(closed["summary"]) == "N3 closed: door repair"
    (closure,) = (one for one in base.closures if one.bay == "N3")
    assert closed.decoded("dtstart") == closure.first
    assert closed.decoded("dtend") == closure.last + timedelta(days=1)


def test_the_feeds_of_all_bays_together_are_the_feed_of_all(base: Base, planned: Planned) -> None:
    whole = by_uid(bay_calendar(planned.plan, base, stamp=STAMP))
    parts: dict[str, Event] = {}
    for bay in base.bays:
        parts |= by_uid(bay_calendar(planned.plan, base, bay.name, stamp=STAMP))
    assert {uid: event.to_ical() for uid, event in parts.items()} == {
        uid: event.to_ical() for uid, event in whole.items()
    }


def test_own_days_of_the_base_are_in_every_feed_once(base: Base, planned: Planned) -> None:
    own = (
        CalendarDays(date(2027, 1, 13), date(2027, 1, 14), worked=False, reason="stocktaking"),
        CalendarDays(date(2027, 1, 22), date(2027, 1, 22), hours_share=0.5),
    )
    of = base.replace(calendar_days=own)
    for feed in (
        bay_calendar(planned.plan, of, "N3", stamp=STAMP),
        bay_calendar(planned.plan, of, stamp=STAMP),
    ):
        found = {str(event["summary"]): event for event in events(feed)}
        closed = found[f"{base.name}: closed (stocktaking)"]
        assert closed.decoded("dtstart") == date(2027, 1, 13)
        assert closed.decoded("dtend") == date(2027, 1, 15)
        assert f"{base.name}: 50.0 % of the hours of each shift" in found
    before = by_uid(bay_calendar(planned.plan, base, stamp=STAMP))
    assert len(by_uid(bay_calendar(planned.plan, of, stamp=STAMP))) == len(before) + 2


def test_a_stay_tells_its_stages_and_how_firm_it_is(base: Base, planned: Planned) -> None:
    checks = {check.name: check for check in base.checks}
    feed = bay_calendar(planned.plan, base, stamp=STAMP)
    statuses = set()
    for placement in planned.plan.placements:
        check = checks[placement.check]
        (event,) = (one for one in events(feed) if f": {check.name}," in one["summary"])
        option = check.status is Status.OPTION
        assert str(event["status"]) == ("TENTATIVE" if option else "CONFIRMED")
        statuses.add(option)
        lines = str(event["description"]).split("\n")
        assert lines[0].startswith(f"{check.aircraft}, {check.type}, {check.package}")
        assert [line.split(":")[0] for line in lines[1:3]] == ["Opening up", "Work"]
        assert "does not replace" in lines[-1]
        assert check.customer not in str(event["description"])
    assert statuses == {True, False}


def test_last_days_of_stages_are_told_as_people_say_them(base: Base, planned: Planned) -> None:
    first = min(planned.plan.placements, key=lambda one: one.check)
    feed = bay_calendar(planned.plan, base, first.bay, stamp=STAMP)
    (event,) = (one for one in events(feed) if f": {first.check}," in one["summary"])
    last = first.stages[0].until - timedelta(days=1)
    assert f" to {last:%a} {last.day} {last:%b %Y}\n" in str(event["description"])


def test_a_check_planned_anew_keeps_its_uid(base: Base, planned: Planned) -> None:
    moved = replace(planned.plan.placements[0], bay="S2", in_day=MONDAY, out_day=date(2027, 2, 1))
    again = replace(planned.plan, placements=(moved, *planned.plan.placements[1:]))
    old = by_uid(bay_calendar(planned.plan, base, stamp=STAMP, sequence=4))
    new = by_uid(bay_calendar(again, base, stamp=STAMP, sequence=5))
    assert old.keys() == new.keys()
    changed = {uid for uid in old if old[uid].get("dtend") != new[uid].get("dtend")}
    assert len(changed) == 1
    assert {int(event["sequence"]) for event in old.values()} == {4}
    assert {int(event["sequence"]) for event in new.values()} == {5}


def test_the_feed_is_the_same_each_time_and_whatever_the_order(
    base: Base, planned: Planned
) -> None:
    feed = bay_calendar(planned.plan, base, stamp=STAMP)
    turned = replace(planned.plan, placements=planned.plan.placements[::-1])
    assert bay_calendar(turned, base, stamp=STAMP) == feed


def test_the_stamp_is_told_in_utc(base: Base, planned: Planned) -> None:
    stamp = datetime(2026, 12, 1, 11, 30, tzinfo=timezone(timedelta(hours=2)))
    feed = bay_calendar(planned.plan, base, stamp=stamp)
    assert feed == bay_calendar(planned.plan, base, stamp=STAMP)
    assert b"DTSTAMP:20261201T093000Z\r\n" in feed
    with pytest.raises(ValueError, match="no zone"):
        bay_calendar(planned.plan, base, stamp=datetime(2026, 12, 1))


def test_unknown_bays_and_crews_are_refused(base: Base, planned: Planned) -> None:
    with pytest.raises(ValueError, match="no bay N9"):
        bay_calendar(planned.plan, base, "N9", stamp=STAMP)
    with pytest.raises(ValueError, match="no crew Red"):
        crew_calendar(CREW_PLAN, base, "Red", stamp=STAMP)


def test_a_closure_told_twice_is_one_event(base: Base, planned: Planned) -> None:
    twice = base.replace(closures=(*base.closures, *base.closures))
    assert bay_calendar(planned.plan, twice, stamp=STAMP) == bay_calendar(
        planned.plan, base, stamp=STAMP
    )


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("a;b,c\\d:e\"f'", "a;b,c\\d:e\"f'"),
        ("ends\r\nEND:VEVENT", "ends  END:VEVENT"),
        ("ends\nBEGIN:VALARM\rX", "ends BEGIN:VALARM X"),
        ("nul\0 half\ud800", "nul  half "),
        ("Łódź 飞机 " * 20, ("Łódź 飞机 " * 20)),
        ("\\n not a break", "\\n not a break"),
    ],
)
def test_texts_stay_texts(base: Base, planned: Planned, text: str, read: str) -> None:
    closure = Closure("E2", MONDAY, MONDAY, text)
    feed = bay_calendar(planned.plan, base.replace(closures=(closure,)), "E2", stamp=STAMP)
    (closed,) = (event for event in events(feed) if "closed" in event["summary"])
    assert str(closed["summary"]) == f"E2 closed: {read}"
    stays = sum(placement.bay == "E2" for placement in planned.plan.placements)
    assert len(events(feed)) == stays + 1
    lines = feed.split(b"\r\n")
    assert max(map(len, lines)) <= 75
    assert not any(b"\r" in line or b"\n" in line for line in lines)


def test_a_feed_is_written_whole(base: Base, planned: Planned, tmp_path) -> None:
    feed = bay_calendar(planned.plan, base, stamp=STAMP)
    write_whole(feed, tmp_path / "bays.ics")
    assert (tmp_path / "bays.ics").read_bytes() == feed
    calendar = Calendar.from_ical((tmp_path / "bays.ics").read_bytes())
    assert str(calendar["version"]) == "2.0"
    assert str(calendar["prodid"])
    assert str(calendar["name"]) == "Wold Heath: all bays"


SHIFTS = (Shift("D", time(6, 30), 7.5), Shift("N", time(22, 15), 8.25, night=True))
RED = Crew("Red", ("Airframe", "Engines"), 6, "turn", MONDAY, area="North")
BLUE = Crew("Blue", ("Avionics",), 3, "turn", MONDAY)
TUESDAY = MONDAY + timedelta(days=1)
CREW_PLAN = CrewPlan(
    first_day=MONDAY,
    until=MONDAY + timedelta(days=14),
    attendance=(
        Attendance(TUESDAY, "N", "Red", "V004", "Airframe", 5.0),
        Attendance(MONDAY, "D", "Red", "V003", "Engines", 1.0, 1.25),
        Attendance(MONDAY, "D", "Red", "V003", "Airframe", 2.25, 2.75),
        Attendance(MONDAY, "D", "Red", "V002", "Airframe", 2.0),
        Attendance(MONDAY, "D", "Blue", "V003", "Avionics", 3.0),
    ),
    work=(
        StageHours(MONDAY, "D", "Red", "V003", "Opening up", "Engines", 4.0),
        StageHours(MONDAY, "D", "Red", "V003", "Opening up", "Airframe", 4.0),
        StageHours(MONDAY, "D", "Red", "V003", "Work", "Airframe", 8.0),
        StageHours(MONDAY, "D", "Blue", "V003", "Closing", "Avionics", 8.0),
        StageHours(TUESDAY, "N", "Red", "V004", "Work", "Airframe", 30.0),
    ),
    stages=(),
    bought=(),
    short=(),
)


def with_crews(base: Base) -> Base:
    return base.replace(crews=(RED, BLUE), shifts=SHIFTS)


def test_each_shift_of_a_crew_is_an_event_in_floating_local_time(base: Base) -> None:
    feed = crew_calendar(CREW_PLAN, with_crews(base), "Red", stamp=STAMP)
    day_shift, night_shift = events(feed)
    assert day_shift.decoded("dtstart") == datetime(2027, 1, 4, 6, 30)
    assert day_shift.decoded("dtend") == datetime(2027, 1, 4, 14, 0)
    assert night_shift.decoded("dtstart") == datetime(2027, 1, 5, 22, 15)
    assert night_shift.decoded("dtend") == datetime(2027, 1, 6, 6, 30)
    assert b"DTSTART:20270104T063000\r\n" in feed
    assert b"TZID" not in feed
    assert str(day_shift["location"]) == "North"


def test_a_shortened_day_ends_sooner(base: Base) -> None:
    """The early shift of 7.5 hours at 60 %: four and a half."""
    short = CalendarDays(date(2027, 1, 4), date(2027, 1, 4), hours_share=0.6)
    of = with_crews(base).replace(calendar_days=(short,))
    day_shift, night_shift = events(crew_calendar(CREW_PLAN, of, "Red", stamp=STAMP))
    assert day_shift.decoded("dtend") == datetime(2027, 1, 4, 11, 0)
    assert night_shift.decoded("dtend") == datetime(2027, 1, 6, 6, 30)


def test_a_shift_lists_aircraft_heads_stages_and_overtime(base: Base) -> None:
    aircraft = {check.name: check.aircraft for check in base.checks}
    event = events(crew_calendar(CREW_PLAN, with_crews(base), "Red", stamp=STAMP))[0]
    assert str(event["summary"]) == "Red, shift D: V002, V003"
    lines = str(event["description"]).split("\n")
    assert lines[:2] == [
        f"V002, {aircraft['V002']}: 2 Airframe",
        f"V003, {aircraft['V003']}: 1 Engines, 2.25 Airframe; stages Opening up, Work; "
        "overtime 4.0 h",
    ]
    assert lines[2] == "The unpaid break and overtime are not in the times."


def test_a_crew_reads_of_its_own_shifts_only(base: Base) -> None:
    (event,) = events(crew_calendar(CREW_PLAN, with_crews(base), "Blue", stamp=STAMP))
    assert str(event["summary"]) == "Blue, shift D: V003"
    assert "Airframe" not in str(event["description"])
    assert "stages Closing" in str(event["description"])
    assert "location" not in event


def test_a_shift_with_other_work_keeps_its_uid(base: Base) -> None:
    other = replace(CREW_PLAN, attendance=CREW_PLAN.attendance[:3])
    old = crew_calendar(CREW_PLAN, with_crews(base), "Red", stamp=STAMP)
    new = crew_calendar(other, with_crews(base), "Red", stamp=STAMP)
    assert by_uid(old).keys() == by_uid(new).keys()
    assert old != new
    assert not by_uid(old).keys() & by_uid(
        crew_calendar(CREW_PLAN, with_crews(base), "Blue", stamp=STAMP)
    )


def test_a_crew_without_work_has_an_empty_feed(base: Base) -> None:
    idle = replace(CREW_PLAN, attendance=(), work=())
    assert events(crew_calendar(idle, with_crews(base), "Red", stamp=STAMP)) == []
