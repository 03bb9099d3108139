"""Networks with a status date, counted by hand, and worked examples that others have published.

Sources: the network of the Reliable Construction Co., 14 activities in weeks, in Hillier and
Lieberman, Introduction to Operations Research, the chapter on project management with PERT/CPM:
critical path A B C E F J L N, 44 weeks (durations read again where the example is quoted, what
waits for what from memory). And "Retained logic, out of sequence progress", Project CPM
Scheduling, 2010 (scribd.com/document/575287669): data date 151; A has 5 work days left and is out
at the end of day 155, B, begun before A had ended, has 5 left as well: 160. Plans are laid out by
the search and by the audit.
"""

from datetime import date

import numpy as np
import pytest

from capacity.facts import Base, Package, ReadyDate, Stage, Status, WorkProgress
from capacity.labour.calendar import calendar_of
from capacity.plans.stays import StayLayout
from capacity.plans.worked_days import WorkedDays
from capacity.slots.candidates import find_slots
from tests.plans.stories import base, check, day

# Activity: days (weeks in the book), and what it waits for.
BUILDING = {
    "A": (2, ""), "B": (4, "A"), "C": (10, "B"), "D": (6, "C"), "E": (4, "C"), "F": (5, "E"),
    "G": (7, "D"), "H": (9, "EG"), "I": (7, "C"), "J": (8, "FI"), "K": (4, "J"), "L": (5, "J"),
    "M": (2, "H"), "N": (6, "KL"),
}  # fmt: skip
STARTS = {"A": 0, "B": 2, "C": 6, "D": 16, "E": 16, "F": 20, "G": 22, "H": 29, "I": 16, "J": 25,
          "K": 33, "L": 33, "M": 38, "N": 38}  # fmt: skip


def in_work(network: dict[str, tuple[int, str]], since: int, **facts: object) -> Base:
    stages = tuple(
        Stage(name, "maintenance", days, {"Mechanic": 10.0 * days}, tuple(after))
        for name, (days, after) in network.items()
    )
    one = check(
        package="Network",
        status=Status.FIXED,
        fixed_bay="B1",
        fixed_in=day(since),
        earliest_in=day(since),
        latest_in=day(since),
    )
    return base(one, packages=(Package("Network", stages),), **facts)


def laid(world: Base) -> dict[str, tuple[int, int]]:
    """Return start and end of each stage in day numbers: by the audit, and alike by the search."""
    one = world.checks[0]
    assert one.fixed_in is not None
    stay = StayLayout(world, WorkedDays(world)).lay_out(one, "B1", one.fixed_in)
    audited = {s.work.stage: (number(s.first), number(s.until)) for s in stay.stages}
    calendar = calendar_of(world)
    (course,) = find_slots(world, calendar).settled
    starts, ends = course.stays.starts[0], course.stays.ends[0]
    zero = calendar.number(day(0))
    searched = {
        work.name: (int(start) - zero, int(end) - zero)
        for work, start, end in zip(course.work, starts, ends, strict=True)
    }
    assert searched == audited
    assert np.max(ends) == course.stays.out_day[0]
    return audited


def number(when: date) -> int:
    return (when - day(0)).days


def row(stage: str, as_of: int, **said: object) -> WorkProgress:
    return WorkProgress("C1", day(as_of), stage, **said)  # type: ignore[arg-type]


def test_the_network_without_progress():
    found = laid(in_work(BUILDING, 0))
    assert {name: first for name, (first, _) in found.items()} == STARTS
    assert max(until for _, until in found.values()) == 44


def test_the_network_with_a_status_date():
    """Status at the start of day 22, first day 0 of the plan: two days behind on E, D as planned.

    D is done; E has 2 of its 4 days left, I 3 of 7. Then E 22-24, F 24-29, I 22-25, J 29-37, K
    37-41, L 37-42, N 42-48; G 22-29, H 29-38, M 38-40. It ends on 48, four days late.
    """
    told = (
        row("D", 22, done=1.0),
        row("E", 22, done=0.5),
        row("I", 22, hours_to_go=30.0),
    )
    found = laid(in_work(BUILDING, 0, progress=told))
    assert found == {
        "E": (22, 24), "I": (22, 25), "G": (22, 29), "F": (24, 29), "J": (29, 37), "H": (29, 38),
        "K": (37, 41), "L": (37, 42), "M": (38, 40), "N": (42, 48),
    }  # fmt: skip


def test_the_network_with_a_status_date_and_a_late_part():
    """As before, with nothing of K and M before days 40 and 41, and of F before 23.

    F can start on 24 anyhow. K 40-44, so N waits until 44 instead of 42 and ends on 50; M 41-43.
    """
    told = (row("D", 22, done=1.0), row("E", 22, done=0.5), row("I", 22, hours_to_go=30.0))
    ready = (
        ReadyDate("C1", "K", day(40), "part"),
        ReadyDate("C1", "M", day(39), "tool"),
        ReadyDate("C1", "M", day(41), "customer's approval"),
        ReadyDate("C1", "F", day(23), "part"),
    )
    found = laid(in_work(BUILDING, 0, progress=told, ready_dates=ready))
    assert found == {
        "E": (22, 24), "I": (22, 25), "G": (22, 29), "F": (24, 29), "J": (29, 37), "H": (29, 38),
        "K": (40, 44), "L": (37, 42), "M": (41, 43), "N": (44, 50),
    }  # fmt: skip


@pytest.mark.parametrize("as_of", [0, 3])
def test_what_is_begun_out_of_sequence_keeps_its_order(as_of):
    """The published example: both have 5 days left; A is out 5 days on, B 5 days behind it."""
    network = {"A": (10, ""), "B": (10, "A")}
    told = (row("A", as_of, done=0.5), row("B", as_of, done=0.5))
    found = laid(in_work(network, -4, progress=told))
    data_date = 151
    last_days = {name: data_date + until - as_of - 1 for name, (_, until) in found.items()}
    assert last_days == {"A": 155, "B": 160}
