"""The calendar feeds of all crews, each under the name of its file."""

from collections.abc import Iterator
from datetime import datetime

from capacity.crews.assign import Staffed
from capacity.facts import Base
from capacity.reports.plan.calendar_feed import crew_calendar


def crew_calendars(staffed: Staffed, base: Base, stamp: datetime) -> Iterator[tuple[str, bytes]]:
    """Yield a name such as ``03-Night-B.ics`` and the feed of each crew, as the sheet has them.

    ``stamp`` is the moment of writing, with its zone.
    """
    for number, crew in enumerate(base.crews, start=1):
        name = "".join(c if c.isalnum() else "-" for c in crew.name)
        yield f"{number:02}-{name}.ics", crew_calendar(staffed.plan, base, crew.name, stamp=stamp)
