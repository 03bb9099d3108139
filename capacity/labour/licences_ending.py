"""What hours licences take that end within the weeks of a plan."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from capacity.facts import Base, Licence
from capacity.labour.available import hours_a_head
from capacity.labour.calendar import calendar_of


@dataclass(frozen=True, slots=True)
class LicenceEnding:
    """A licence that ends within the plan, by its ``row`` from 0 on, and man-hours then missing.

    ``hours`` are those of its people from the day after to the last in day of the plan.
    """

    row: int
    licence: Licence
    hours: float


def licences_ending(base: Base) -> Iterator[LicenceEnding]:
    """Yield the licences that end in the weeks of the plan, before its last day."""
    calendar = calendar_of(base) if base.licences else None
    for row, licence in enumerate(base.licences):
        if calendar is None or not base.first_day <= licence.until < base.last_in_day:
            continue
        crew = base.crew(licence.crew)
        present, a_head = hours_a_head(crew, base, calendar)
        days = slice(calendar.number(licence.until) + 1, calendar.number(base.last_in_day) + 1)
        lost = np.minimum(present, licence.people) * a_head
        yield LicenceEnding(row, licence, float(lost[days].sum()))
