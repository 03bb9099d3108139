"""What the rules about stays keep a check from being out sooner: laid out once more without."""

from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from capacity.facts import Base, Check
from capacity.labour.calendar import calendar_of
from capacity.slots.candidates import find_slots
from capacity.slots.rules.families import lifted
from capacity.slots.rules.rule import Rule


@dataclass(frozen=True, slots=True)
class ShorterStay:
    """A rule without which a check that comes in on a day could be out ``days`` sooner."""

    rule: Rule
    out_day: date
    days: int


def shorter_stays(check: Check, base: Base, in_day: date) -> tuple[ShorterStay, ...]:
    """Return the rules that keep a check that comes in on a day from being out sooner.

    Each is lifted by itself and the check laid out alone, at its quickest; ``out_day`` is the
    day on which it would be out, whatever else is in its way.
    """
    out_day = _soonest_out(check, base, in_day)
    found = []
    for rule, without in lifted(base, {check.package}):
        sooner = _soonest_out(check, without, in_day)
        if out_day is not None and sooner is not None and sooner < out_day:
            found.append(ShorterStay(rule, sooner, (out_day - sooner).days))
    return tuple(found)


def _soonest_out(check: Check, base: Base, in_day: date) -> date | None:
    """Return the first day on which the check can be out; None where it can come in nowhere."""
    alone = replace(check, earliest_in=in_day, latest_in=in_day)
    if check.fixed_in is not None:
        alone = replace(check, fixed_in=in_day)
    small = base.replace(checks=(alone,), closures=(), longest_delay_days=0, equipment_outages=())
    calendar = calendar_of(small)
    slots = find_slots(small, calendar, last_in_day=in_day)
    courses = slots.settled[0] if slots.settled else slots.candidates[0].courses
    on_day = courses.stays.in_day == calendar.number(in_day)
    if not on_day.any():
        return None
    first = int(np.min(courses.stays.out_day[on_day]))
    return calendar.origin + timedelta(days=first)
