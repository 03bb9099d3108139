"""The order in which a person writes the parts of a date, and dates read in it.

A date is always shown with the name of its month, or as in ISO 8601, so that no order misleads.
"""

import re
from datetime import date
from enum import Enum

from capacity.words import day

MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
CENTURY = 2000
"""To which a year of two figures is added: a plan lies in no other."""

_YEAR_FIRST = re.compile(r"(\d{4})[-./ ](\d{1,2})[-./ ](\d{1,2})(?:[T ]00:00(?::00(?:\.0+)?)?Z?)?")
_NUMBERS = re.compile(r"(\d{1,2})\s?[-./]\s?(\d{1,2})\s?[-./]\s?(\d{4}|\d{2})")
_DAY_AND_NAME = re.compile(r"(\d{1,2})[-. ]*([a-z]{3,9})[-., ]*(\d{4}|\d{2})")
_NAME_AND_DAY = re.compile(r"([a-z]{3,9})[-. ]*(\d{1,2})[-., ]+(\d{4}|\d{2})")
_WEEKDAY = re.compile(r"^(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*[.,]?\s+")


class DateOrder(Enum):
    """Which part of a date comes first."""

    DAY = "day"
    MONTH = "month"
    YEAR = "year"

    @property
    def grid_format(self) -> str:
        """How a grid shows a date."""
        return {
            DateOrder.DAY: "ddd D MMM YYYY",
            DateOrder.MONTH: "ddd MMM D, YYYY",
            DateOrder.YEAR: "YYYY-MM-DD ddd",
        }[self]

    def shown(self, value: date) -> str:
        """Return a date as a grid shows it: ``Mon 4 Jan 2027`` where the day comes first."""
        match self:
            case DateOrder.DAY:
                return day(value)
            case DateOrder.MONTH:
                return f"{value:%a %b} {value.day}, {value.year}"
            case DateOrder.YEAR:
                return f"{value:%Y-%m-%d %a}"


_MONTH_FIRST = {"en-US", "en-PH", "es-US", "en-PR"}
_YEAR_FIRST_LANGUAGES = {"zh", "ja", "ko", "hu", "lt", "sv", "mn", "eu", "fa", "bo", "ug"}
_YEAR_FIRST_PLACES = {"en-CA", "fr-CA", "en-ZA", "en-SE"}


def order_of(locale: str | None) -> DateOrder:
    """Return the order that people of a locale such as ``en-GB`` are used to.

    By the short dates of the Unicode locale data, from memory; the day first where nothing is
    known, as in most of the world. The page lets a person choose another one.
    """
    told = (locale or "").replace("_", "-")
    if told in _MONTH_FIRST:
        return DateOrder.MONTH
    if told in _YEAR_FIRST_PLACES or told.partition("-")[0] in _YEAR_FIRST_LANGUAGES:
        return DateOrder.YEAR
    return DateOrder.DAY


def read_date(text: str, order: DateOrder) -> date | None:
    """Return the date that a person of an order means by a text; None where that is not certain.

    The year first, or a month by its name, is certain in any order. Numbers alone are read in the
    person's order, or in the only one in which they are a date; those whose first two may both be
    a month are no date for whoever writes the year first.
    """
    told = _WEEKDAY.sub("", " ".join(text.casefold().split()))
    told = re.sub(r"\s+(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*$", "", told)
    if found := _YEAR_FIRST.fullmatch(told.upper()):
        return _date(int(found[1]), int(found[2]), int(found[3]))
    if found := _DAY_AND_NAME.fullmatch(told):
        return _date(_year(found[3]), _month(found[2]), int(found[1]))
    if found := _NAME_AND_DAY.fullmatch(told):
        return _date(_year(found[3]), _month(found[1]), int(found[2]))
    found = _NUMBERS.fullmatch(told)
    if found is None:
        return None
    first, second, year = int(found[1]), int(found[2]), _year(found[3])
    day_first, month_first = _date(year, second, first), _date(year, first, second)
    if day_first is None or month_first is None or day_first == month_first:
        return day_first or month_first
    return {DateOrder.DAY: day_first, DateOrder.MONTH: month_first, DateOrder.YEAR: None}[order]


def _year(text: str) -> int:
    return int(text) if len(text) == 4 else CENTURY + int(text)


def _month(name: str) -> int:
    """Return the number of a month by its name or its first letters; 0 where there is none."""
    known = MONTHS.index(name[:3]) + 1 if name[:3] in MONTHS else 0
    whole = date(CENTURY, known, 1).strftime("%B").casefold() if known else ""
    return known if whole.startswith(name) or name == "sept" else 0


def _date(year: int, month: int, in_month: int) -> date | None:
    try:
        return date(year, month, in_month)
    except ValueError:
        return None
