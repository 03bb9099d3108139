"""Cross checks of the base's own calendar: closed days, worked days off, shortened days."""

from collections.abc import Iterator
from datetime import date, timedelta

from capacity.inputs.checking.stay import ONE_DAY, usual_days
from capacity.inputs.reading.rows import Sheets
from capacity.inputs.reading.sheets import CalendarRow
from capacity.messages import Level, Message
from capacity.words import counted, day, days

MOST_DAYS = 366
"""A row, and all closed days together: more are a slip in a year, and too many to plan over."""

MOST_NAMED = 3


def rows_tell_something(sheets: Sheets) -> Iterator[Message]:
    """Require that a row says what is different, and does not say two things at once."""
    for row in sheets[CalendarRow].rows:
        if row.worked is None and row.hours is None:
            yield Message(
                Level.ERROR,
                sheets.at(row, "worked"),
                "the row does not say what is different on its days.",
                "Type yes or no, or give Hours % of shortened days.",
            )
        elif row.worked is False and row.hours is not None:
            yield Message(
                Level.ERROR,
                sheets.at(row, "hours"),
                "Hours % is of days that are worked, and Worked says no.",
                "Clear Hours %, or type yes.",
            )


def rows_are_no_slips(sheets: Sheets) -> Iterator[Message]:
    """Refuse rows of more than a year, and more than a year of closed days in all."""
    closed = 0
    for row in sheets[CalendarRow].rows:
        length = (row.last - row.first).days + 1
        if length > MOST_DAYS:
            yield Message(
                Level.ERROR,
                sheets.at(row, "last"),
                f"the row is of {days(length)}, from {day(row.first)} to {day(row.last)}.",
                f"Correct From or To; a row may be of {MOST_DAYS} days at most.",
            )
            continue
        before, closed = closed, closed + max(0, length) * (row.worked is False)
        if before <= MOST_DAYS < closed:
            yield Message(
                Level.ERROR,
                sheets.at(row, "worked"),
                f"with this row the base is closed on {days(closed)} in all.",
                f"Delete rows of days gone by, or correct the dates: at most {MOST_DAYS} days can "
                "be closed here.",
            )


def rows_agree(sheets: Sheets) -> Iterator[Message]:
    """Require that rows that share a day say the same of it."""
    forward = [
        row
        for row in sheets[CalendarRow].rows
        if row.first <= row.last and (row.last - row.first).days < MOST_DAYS
    ]
    said: dict[date, CalendarRow] = {}
    for row in forward:
        for day_ in _days(row):
            other = said.setdefault(day_, row)
            if (other.worked, other.hours) != (row.worked, row.hours):
                yield Message(
                    Level.ERROR,
                    sheets.at(row, "first"),
                    f"{day(day_)} is in row {other.row} too, which says something else of it.",
                    "Let every day be in one row only, or let both say the same.",
                )
                break


def worked_days_off(sheets: Sheets) -> Iterator[Message]:
    """Note the days that would be off and are worked, so that no weekend slips in."""
    if sheets.settings is None:
        return
    usual = usual_days(sheets.settings)
    for row in sheets[CalendarRow].rows:
        if row.worked and (row.last - row.first).days < MOST_DAYS:
            off = [day_ for day_ in _days(row) if not usual(day_)]
            if off:
                named = ", ".join(day(day_) for day_ in off[:MOST_NAMED])
                more = ", ..." if len(off) > MOST_NAMED else ""
                yield Message(
                    Level.NOTE,
                    sheets.at(row, "worked"),
                    f"the base works on {counted(len(off), 'day')} that would be off: "
                    f"{named}{more}.",
                    "Leave Worked blank where days off are to stay off.",
                )


def _days(row: CalendarRow) -> Iterator[date]:
    return (row.first + timedelta(days=n) for n in range((row.last - row.first + ONE_DAY).days))
