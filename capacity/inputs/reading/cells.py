"""Cell types: what a person may write into a cell, and the value it stands for.

Every check speaks as the end of a sentence that begins with the heading, and gives a remedy.
"""

import math
import re
import unicodedata
from datetime import date, datetime, time, timedelta
from typing import Annotated, NoReturn

from pydantic import AfterValidator, BeforeValidator
from pydantic_core import PydanticCustomError

from capacity.inputs.reading.local_marks import LocalText
from capacity.inputs.reading.raw import PercentNumber, UntypedText

LONGEST_TEXT = 200
FIRST_YEAR, LAST_YEAR = 2000, 2099  # far from where a typed year is a slip of the hand

_PLAIN_NUMBER = re.compile(r"[+-]?\d+(\.\d+)?([eE][+-]?\d+)?")
_NOT_FINITE = re.compile(r"[+-]?(nan|inf(inity)?)", re.IGNORECASE)
_ISO_DAY = re.compile(r"(\d{4}-\d{2}-\d{2})(?:[ T](\d{2}:\d{2}(?::\d{2}(?:\.\d+)?)?))?")
_CLOCK = re.compile(r"(\d{1,2}):(\d{2})(?::00)?")
_BREAKING = {"Cc", "Cs", "Zl", "Zp"}  # control, half characters, line and paragraph ends
_UNSEEN = str.maketrans("", "", "\u00ad\u200b\u2060\ufeff")  # soft hyphen, joints of no width


def refuse(what: str, remedy: str) -> NoReturn:
    """Refuse a cell; ``what`` continues a sentence that begins with the heading."""
    raise PydanticCustomError("cell", "{what}", {"what": what, "remedy": remedy})


def shown(value: object) -> str:
    """Return a value as a person sees it, cut to a bearable length."""
    if isinstance(value, bool):
        return str(value).upper()
    text = str(value)
    if isinstance(value, datetime) and value.time() == time():
        text = str(value.date())
    visible = "".join(mark if mark.isprintable() else "?" for mark in text)
    return visible if len(visible) <= 40 else visible[:39] + "…"


def text(value: object) -> str:
    """Return text as it is read aloud; a whole number such as 2.0 becomes ``2``.

    Texts that look the same are the same: blanks of any kind and number count as one, letters
    put together from parts as whole ones, and marks that nobody sees as nothing.
    """
    if isinstance(value, bool):
        refuse(f"holds the truth value {shown(value)}, not text.", "Format the cell as text.")
    if isinstance(value, int | float):
        if not math.isfinite(value):
            refuse(f"holds {value}, not text.", "Type a name.")
        return str(int(value)) if value == int(value) else str(float(value))
    if not isinstance(value, str):
        refuse(
            f"holds '{shown(value)}', which is a date or time, not text.",
            "Format the cell as text and type it again.",
        )
    stripped = value.strip()
    if len(stripped) > LONGEST_TEXT:
        refuse(f"has {len(stripped):,} characters.", f"Use at most {LONGEST_TEXT}.")
    if any(unicodedata.category(mark) in _BREAKING for mark in stripped):
        refuse("holds a line break or another control character.", "Type the text on one line.")
    plain = " ".join(unicodedata.normalize("NFC", stripped.translate(_UNSEEN)).split())
    if not plain:
        refuse("holds only characters that nobody sees.", "Type a name, or clear the cell.")
    if isinstance(value, UntypedText) and re.fullmatch(r"\d+\.0+", plain):
        return str(int(plain.partition(".")[0]))
    return plain


def listed_name(value: object) -> str:
    """Return a name that may stand in a comma list."""
    name = text(value)
    if "," in name or name == "-":
        refuse(
            f"holds the name '{shown(name)}', which cannot stand in a comma list.",
            "Use a name without commas that is not a lone hyphen.",
        )
    return name


def word(value: object) -> str:
    """Return a name that may stand in a list separated by blanks."""
    name = listed_name(value)
    if len(name.split()) > 1:
        refuse(
            f"holds the name '{shown(name)}', which has blanks inside.",
            "Use one word, because a cycle separates the shifts by blanks.",
        )
    return name


def names(value: object) -> tuple[str, ...]:
    """Return the names of a comma list."""
    parts = tuple(part.strip() for part in text(value).split(","))
    if not all(parts):
        refuse(f"is the list '{shown(value)}' with an empty place.", "Remove the spare comma.")
    if len(set(parts)) < len(parts):
        refuse(f"names one thing twice: '{shown(value)}'.", "Name each once.")
    return parts


def words(value: object) -> tuple[str, ...]:
    """Return the words of a list separated by blanks."""
    return tuple(text(value).split())


def number(value: object) -> float:
    """Return a finite number; text counts only where a file knows no cell types."""
    if isinstance(value, bool):
        refuse(f"holds the truth value {shown(value)} where a number is wanted.", "Type a number.")
    if isinstance(value, LocalText) and value.two_numbers is not None:
        larger, smaller = value.two_numbers
        refuse(
            f"holds '{shown(value)}', which may be {larger} or {smaller}.",
            "Type it without a sign between thousands, and with as many decimals as it has.",
        )
    if isinstance(value, LocalText) and value.plain is not None:
        value = UntypedText(value.plain)
    if isinstance(value, UntypedText):
        stripped = value.strip()
        if _PLAIN_NUMBER.fullmatch(stripped) or _NOT_FINITE.fullmatch(stripped):
            value = float(stripped)
    if isinstance(value, str):
        refuse(
            f"holds the text '{shown(value)}' where a number is wanted.",
            "Type it as a plain number such as 1200 or 12.5, without separators or units.",
        )
    if not isinstance(value, int | float):
        refuse(
            f"holds '{shown(value)}', a date or time, where a number is wanted.",
            "Format the cell as a number and type it again, such as 7.5.",
        )
    try:
        result = float(value)
    except OverflowError:
        result = math.inf
    if not math.isfinite(result):
        refuse(f"holds {result}, which is not a finite number.", "Type a finite number.")
    return result


def percent(value: object) -> float:
    """Return the share that a percentage stands for: 75 and a cell showing 75 % give 0.75."""
    if isinstance(value, PercentNumber):
        return number(float(value))
    return number(value) / 100


def yes_no(value: object) -> bool:
    """Return whether the cell says yes."""
    if isinstance(value, bool):
        return value
    answer = value.strip().casefold() if isinstance(value, str) else ""
    if answer in ("yes", "true"):
        return True
    if answer in ("no", "false"):
        return False
    refuse(f"holds '{shown(value)}'.", "Type yes or no.")


def day(value: object) -> date:
    """Return a date: a real date cell, or ISO text."""
    if isinstance(value, LocalText) and value.day is not None:
        value = value.day
    if isinstance(value, str):
        value = _day_from_text(value.strip())
    if isinstance(value, bool) or not isinstance(value, int | float | date):
        refuse(f"holds '{shown(value)}' where a date is wanted.", "Type a date.")
    if isinstance(value, int | float):
        refuse(
            f"holds the bare number {shown(value)} where a date is wanted.",
            "Format the cell as a date, or type it as 2027-01-31.",
        )
    if isinstance(value, datetime):
        if value.time() != time():
            refuse(
                f"holds {shown(value)}, a date with a time of day.",
                "Type the date alone; a check takes whole days.",
            )
        value = value.date()
    if not FIRST_YEAR <= value.year <= LAST_YEAR:
        refuse(f"holds the year {value.year}.", f"Type a year from {FIRST_YEAR} to {LAST_YEAR}.")
    return value


def _day_from_text(written: str) -> date:
    if _PLAIN_NUMBER.fullmatch(written):
        refuse(
            f"holds the bare number {shown(written)} where a date is wanted.",
            "Type the date as 2027-01-31.",
        )
    match = _ISO_DAY.fullmatch(written)
    try:
        if match is None:
            raise ValueError(written)
        return datetime.fromisoformat(f"{match[1]}T{match[2] or '00:00'}")
    except ValueError:
        refuse(
            f"holds the text '{shown(written)}', which is not a date as year-month-day.",
            "Type a real date, or text such as 2027-01-31.",
        )


def clock(value: object) -> time:
    """Return a time of day: a real time cell, or text such as ``06:00``."""
    if isinstance(value, timedelta) and timedelta() <= value < timedelta(days=1):
        return (datetime.min + value).time()
    if isinstance(value, time):
        return value
    match = _CLOCK.fullmatch(value.strip()) if isinstance(value, str) else None
    if match is None or int(match[1]) > 23 or int(match[2]) > 59:
        refuse(f"holds '{shown(value)}' where a time of day is wanted.", "Type it as 06:00.")
    return time(int(match[1]), int(match[2]))


def between(
    least: float = -math.inf, most: float = math.inf, *, above: float = -math.inf, unit: str = ""
) -> AfterValidator:
    """Return the check that a number lies from ``least`` to ``most`` and above ``above``.

    ``unit`` is 100 times the value where it is ``%``, as the cell shows it.
    """
    times = 100 if unit == "%" else 1

    def seen(value: float) -> str:
        return f"{value * times:,.10g}"

    low = f"above {seen(above)}" if above > -math.inf else f"at least {seen(least)}"
    high = f" and at most {seen(most)}" if most < math.inf else ""

    def check(value: float) -> float:
        if not (least <= value <= most and value > above):
            refuse(f"is {seen(value)}{unit}.", f"It must be {low}{high}.")
        return value

    return AfterValidator(check)


def _whole(value: object) -> int:
    result = number(value)
    if result != int(result):
        refuse(f"is {result:g}, which is not a whole number.", "Type a whole number.")
    return int(result)


class OneOf:
    """The reader of a cell that holds one of a few words, in any case.

    ``allowed`` are the words in the order in which they are offered; ``nothing`` is the one
    among them that stands for None, if any.
    """

    def __init__(self, allowed: tuple[str, ...], nothing: str | None = None) -> None:
        """Keep the words."""
        self.allowed = allowed
        self._nothing = nothing
        self._by_folded = {choice.casefold(): choice for choice in allowed}

    def __call__(self, value: object) -> str | None:
        """Return the word as it is written here."""
        chosen = self._by_folded.get(text(value).casefold())
        if chosen is None:
            refuse(f"holds '{shown(value)}'.", f"Type one of: {', '.join(self.allowed)}.")
        return None if chosen == self._nothing else chosen


def one_of(*allowed: str) -> OneOf:
    """Return the reader of a cell that holds one of a few words, in any case."""
    return OneOf(allowed)


Text = Annotated[str, BeforeValidator(text)]
Name = Annotated[str, BeforeValidator(listed_name)]
Word = Annotated[str, BeforeValidator(word)]
Names = Annotated[tuple[str, ...], BeforeValidator(names)]
Words = Annotated[tuple[str, ...], BeforeValidator(words)]
YesNo = Annotated[bool, BeforeValidator(yes_no)]
Day = Annotated[date, BeforeValidator(day)]
Clock = Annotated[time, BeforeValidator(clock)]

Money = Annotated[float, BeforeValidator(number), between(0, 1e9)]
ManHours = Annotated[float, BeforeValidator(number), between(0, 1e6)]
Metres = Annotated[float, BeforeValidator(number), between(most=1000, above=0)]
Factor = Annotated[float, BeforeValidator(number), between(0, 100)]
HoursOfDay = Annotated[float, BeforeValidator(number), between(most=24, above=0)]
HoursOfMonth = Annotated[float, BeforeValidator(number), between(most=31 * 24, above=0)]
Heads = Annotated[float, BeforeValidator(number), between(most=10_000, above=0)]
Rate = Annotated[float, BeforeValidator(number), between(most=10_000, above=0)]

Percent = Annotated[float, BeforeValidator(percent), between(0, 10, unit="%")]
# The most of a day, in per cent of the even share of a day.
PeakPercent = Annotated[float, BeforeValidator(percent), between(1, 4, unit="%")]
PartPercent = Annotated[float, BeforeValidator(percent), between(most=1, above=0, unit="%")]
DonePercent = Annotated[float, BeforeValidator(percent), between(0, 1, unit="%")]

Days = Annotated[int, BeforeValidator(_whole), between(0, 1000)]
# An aircraft that waits longer than two weeks is parked elsewhere; every day is a candidate more.
WaitDays = Annotated[int, BeforeValidator(_whole), between(0, 14)]
SomeDays = Annotated[int, BeforeValidator(_whole), between(1, 1000)]
Weeks = Annotated[int, BeforeValidator(_whole), between(1, 110)]
Count = Annotated[int, BeforeValidator(_whole), between(0, 10_000)]
SomeCount = Annotated[int, BeforeValidator(_whole), between(1, 10_000)]
