"""How much of a base is looked at together: all of it, or a part at a time where it is too large.

A hangar of 60 checks has some 60,000 candidates, a year of 220 checks some 40,000. Two hundred
bays that lie behind each other with 300 checks have two million, whose rows would take ten
gigabytes and minutes before the first plan.
"""

from dataclasses import dataclass
from math import ceil, prod

from capacity.errors import TooLargeError
from capacity.facts import Base
from capacity.labour.kinds import kinds_of
from capacity.settings import Settings
from capacity.slots.candidates.enumerated import Courses, LaidOut
from capacity.slots.candidates.scope import EVERY_BAY, Scope
from capacity.slots.candidates.ways import courses_by_check
from capacity.slots.candidates.work import kinds_by_leg

# The man-hours of a course by week and kind of work lie in memory, 8 bytes each.
MOST_BYTES_OF_HOURS = 1_000_000_000
# Weeks after the last in day in which checks are still at work, for an estimate.
TAIL_WEEKS = 12
# In days of a check that are looked at in any case: the ends of its window and two more.
FEWEST_DAYS = 4
MOST_GROUPS = (48, 24, 12, 6, 4, 3, 2, 1)
"""Groups of bays a leg that are tried, until the candidates are few enough."""


@dataclass(frozen=True)
class Size:
    """What a base would come to, all of it together."""

    courses: int
    cells: int

    @property
    def bytes_of_hours(self) -> int:
        """Return the memory that the man-hours of all courses would take."""
        return 8 * self.courses * self.cells


def size_of(base: Base) -> Size:
    """Return how many courses there are, and week-and-kind cells each, before any is made."""
    courses = sum(courses_by_check(base).values())
    return Size(courses, (base.weeks + TAIL_WEEKS) * len(kinds_of(base)))


def days_apart(base: Base, settings: Settings) -> int:
    """Return how far apart the in days lie that are looked at: 1 where all of them can be.

    Raises
    ------
    TooLargeError
        When even a few in days a check are more than memory or the time given holds.
    """
    size = size_of(base)
    search, seconds = settings.search, settings.seconds
    most = within(seconds, search.fewest_courses, search.courses_a_second, search.most_courses)
    too_many = max(size.courses / most, size.bytes_of_hours / MOST_BYTES_OF_HOURS)
    checks = len(base.checks)
    if too_many > 1 and FEWEST_DAYS * checks > most:
        needed = FEWEST_DAYS * checks / max(1, search.courses_a_second)
        raise TooLargeError(
            f"{checks:,} checks are more than can be planned together in {seconds:g} s: laying "
            f"them out takes some {needed:,.0f} s before the search begins, and about "
            f"{size.bytes_of_hours / 2**30:,.1f} GiB for all their in days. Plan for longer "
            "(--seconds), for fewer weeks, or hangar by hangar."
        )
    return max(1, ceil(too_many))


def within(seconds: float, fewest: int, a_second: int, most: int) -> int:
    """Return what is allowed in so many seconds, between the least and the most."""
    return int(min(max(fewest, a_second * seconds), most))


def scope_for(laid: LaidOut, settings: Settings) -> Scope:
    """Return all bays where their candidates are few enough, else so many groups as are."""
    search = settings.search
    most = within(
        settings.seconds, search.fewest_columns, search.columns_a_second, search.most_columns
    )
    options = [(len(courses.past), _groups_by_leg(courses, laid)) for courses in laid.movable]

    def columns(most_groups: int | None) -> int:
        return sum(
            count * prod(g if most_groups is None else min(g, most_groups) for g in groups)
            for count, groups in options
        )

    if columns(None) <= most:
        return EVERY_BAY
    few = next((few for few in MOST_GROUPS if columns(few) <= most), MOST_GROUPS[-1])
    return Scope(few)


def _groups_by_leg(courses: Courses, laid: LaidOut) -> tuple[int, ...]:
    """Return how many groups of bays a movable check could go into at each leg."""
    mine = [group for group in laid.groups if courses.check.name in group.fits]
    return tuple(
        sum(not kind or kind in group.work for group in mine) for kind in kinds_by_leg(courses.work)
    )
