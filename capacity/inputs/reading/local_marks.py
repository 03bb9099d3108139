"""How a file of text writes numbers and dates: its delimiter, its decimal sign, days in order.

A program set to a language with decimal commas writes semicolons between columns, ``12,5`` and
``4.1.2027``. What a cell means is taken from the file as a whole, and what may mean two things
is refused by whoever asks for a number.
"""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from capacity.inputs.reading.raw import RawTable, UntypedText

COMMA, SEMICOLON, TAB = ",", ";", "\t"
DELIMITERS = {COMMA: "commas", SEMICOLON: "semicolons", TAB: "tabs"}

_SAID = re.compile(r"sep=([,;\t])\r?\n?", re.IGNORECASE)
_ONE_SIGN = re.compile(r"([+-]?)(\d+)([.,])(\d+)")
_GROUPED = re.compile(r"[+-]?\d{1,3}(?:\.\d{3})+,\d+|[+-]?\d{1,3}(?:,\d{3})+\.\d+")
_DAY = re.compile(r"(\d{1,2})\.(\d{1,2})\.(\d{4})(?: 00:00(?::00)?)?")
_OTHER = {".": ",", ",": "."}
_NAMES = {".": "a point", ",": "a comma"}


class LocalText(UntypedText):
    """Text that may be a number or a date as its file writes them.

    ``plain`` is the number with a decimal point; None where the text is none, or may mean two
    numbers. ``two_numbers`` are those that it may mean. ``day`` is the date written day first.
    """

    plain: str | None = None
    two_numbers: tuple[str, str] | None = None
    day: date | None = None


@dataclass(frozen=True, slots=True)
class Marks:
    """What was taken of a file: delimiter, decimal signs seen for certain, days before months."""

    delimiter: str
    decimals: frozenset[str]
    has_days_first: bool

    def in_words(self) -> str:
        """Return the sentence for a person."""
        said = [f"the columns are separated by {DELIMITERS[self.delimiter]}"]
        if len(self.decimals) == 1:
            said.append(f"the decimal sign is {_NAMES[min(self.decimals)]}")
        elif self.decimals:
            said.append("decimal commas and decimal points both occur")
        if self.has_days_first:
            said.append("dates such as 4.1.2027 are read as day, month, year")
        return "; ".join(said) + "."


def said_delimiter(line: str) -> str | None:
    """Return the delimiter of a first line such as ``sep=;``, which is no row; None without."""
    match = _SAID.fullmatch(line)
    return match[1] if match else None


def delimiter_of(headings: str) -> str:
    """Return the delimiter that separates most headings, a comma where none does.

    Headings hold no delimiter of their own. ``csv.Sniffer`` would guess from the rows, where
    decimal commas and comma lists mislead it.
    """
    outside_quotes = "".join(headings.split('"')[::2])
    return max(DELIMITERS, key=outside_quotes.count)


def as_the_file_writes(table: RawTable, delimiter: str) -> tuple[RawTable, Marks]:
    """Return the table with every number and date understood as the whole file writes them."""
    texts = [cell for _, cells in table.rows for cell in cells if isinstance(cell, UntypedText)]
    decimals = frozenset(_certain_signs(texts))
    rows = tuple(
        (number, tuple(_understood(cell, decimals) for cell in cells))
        for number, cells in table.rows
    )
    days_first = any(_DAY.fullmatch(text.strip()) for text in texts)
    marks = Marks(delimiter, decimals, days_first)
    return RawTable(table.label, rows, table.whole), marks


def _certain_signs(texts: Iterable[str]) -> Iterator[str]:
    """Yield the decimal sign of every number that can have only one meaning."""
    for text in texts:
        written = text.strip()
        match = _ONE_SIGN.fullmatch(written)
        if match and not _may_be_grouped(match):
            yield match[3]
        elif _GROUPED.fullmatch(written):
            yield "," if written.rfind(",") > written.rfind(".") else "."


def _may_be_grouped(match: re.Match[str]) -> bool:
    """Whether a sign may stand between thousands: ``1,234``, but neither ``0,123`` nor ``12,5``."""
    whole, decimals = match[2], match[4]
    return len(decimals) == 3 and len(whole) <= 3 and not whole.startswith("0")


def _understood(cell: object, decimals: frozenset[str]) -> object:
    if not isinstance(cell, UntypedText):
        return cell
    written, local = cell.strip(), LocalText(cell)
    if match := _ONE_SIGN.fullmatch(written):
        as_decimal = f"{match[1]}{match[2]}.{match[4]}"
        if _may_be_grouped(match) and decimals != {match[3]}:
            local.two_numbers = (f"{match[1]}{match[2]}{match[4]}", as_decimal)
        else:
            local.plain = as_decimal
    elif _GROUPED.fullmatch(written):
        sign = "," if written.rfind(",") > written.rfind(".") else "."
        local.plain = written.replace(_OTHER[sign], "").replace(sign, ".")
    elif match := _DAY.fullmatch(written):
        local.day = _day(match.groups())
    else:
        return cell
    return local


def _day(parts: Sequence[str]) -> date | None:
    try:
        return date(int(parts[2]), int(parts[1]), int(parts[0]))
    except ValueError:
        return None
