"""Cross check of the work left on a check against the days that it has been in."""

import math
from collections.abc import Iterator
from datetime import date, timedelta

from capacity.inputs.checking.packages import sound_networks
from capacity.inputs.checking.stay import WorksOn, works_on
from capacity.inputs.checking.work_left import worked_days_of
from capacity.inputs.reading.facts_from_rows import packages_from
from capacity.inputs.reading.rows import Sheets
from capacity.inputs.reading.sheets import CheckRow
from capacity.messages import Level, Message
from capacity.words import day, days

WIDEST_GAP = 1 / 3
"""Shares of the work done and of the days passed that lie further apart are worth a look.

Work is not spread evenly over a stay, and overruns are common, so a narrower gap would warn of
ordinary checks; a third of a whole check is more than either explains. No source: a judgement.
"""
TINY = 1e-9
ONE_PERCENT = 0.01  # less was likely meant as something else, which another message says


def work_left_agrees_with_the_days(sheets: Sheets) -> Iterator[Message]:
    """Warn where ``Remaining %`` contradicts the worked days since the aircraft came in.

    passed = worked days in [in day, day from which the work left counts); a share of
    min(1, passed / worked days of the package) would be done by now. It contradicts when work
    is done though passed = 0, or when the two shares lie more than ``WIDEST_GAP`` apart and
    that is more than one worked day.
    """
    plan, left_from = sheets.settings, sheets.work_left_from
    if plan is None or left_from is None:
        return
    works, sound = works_on(plan, sheets), sound_networks(sheets)
    packages = {p.name: worked_days_of(p) for p in packages_from(sheets) if p.name in sound}
    for check in sheets[CheckRow].rows:
        in_day = _came_in(check, sheets)
        if check.remaining is None or in_day is None or check.package not in packages:
            continue
        if check.remaining < ONE_PERCENT:
            continue
        whole = packages[check.package]
        passed = _worked_between(in_day, left_from, works, most=whole)
        if not _contradict(check.remaining, passed, whole):
            continue
        expected = math.floor(100 * (1 - passed / whole) + 0.5)
        yield Message(
            Level.WARNING,
            sheets.at(check, "remaining"),
            f"{check.heading('remaining')} of '{check.check}' is {100 * check.remaining:.3g} % on "
            f"{day(left_from)}, but {_told(in_day, left_from, passed, whole)}, so about "
            f"{expected} % "
            "would be left.",
            "It counts from First day, in a re-plan from today. Correct what is wrong; if nothing "
            "is, leave it: the plan goes by it.",
        )


def _came_in(check: CheckRow, sheets: Sheets) -> date | None:
    """Return the day on which a check came in; None for one that is still to come."""
    if check.is_fixed:
        return check.fixed_in
    return sheets.as_of.came_in.get(check.check) if sheets.as_of else None


def _contradict(remaining: float, passed: int, whole: int) -> bool:
    done = 1 - remaining
    if passed == 0:
        return done > TINY
    gap = abs(done - passed / whole)
    return gap > WIDEST_GAP + TINY and gap * whole > 1 + TINY


def _told(in_day: date, left_from: date, passed: int, whole: int) -> str:
    if in_day > left_from:
        return f"it only comes in on {day(in_day)}"
    if passed == 0:
        return f"it came in on {day(in_day)} and no worked day has passed since"
    if passed >= whole:
        return f"it came in on {day(in_day)} and all {days(whole)} of its work have passed since"
    return (
        f"it came in on {day(in_day)} and {passed} of its {days(whole)} of work have passed since"
    )


def _worked_between(first: date, until: date, works: WorksOn, most: int) -> int:
    """Return the worked days in ``[first, until)``, ``most`` at the most."""
    number, day = 0, first
    while day < until and number < most:
        number += works(day)
        day += timedelta(days=1)
    return number
