"""Take values out of a JSON file; whatever is wrong is kept with its place."""

import json
from collections.abc import Callable
from datetime import date
from os import PathLike
from pathlib import Path
from typing import TypeVar
from unicodedata import category

from capacity.errors import InputError
from capacity.messages import Level, Message

MOST_BYTES = 20_000_000
"""A plan of thousands of checks has a tenth of them."""

MOST_ITEMS = 50_000
"""Of one list or object. A workbook has at most 20,000 checks, and a check few slots and stages."""

MOST_TOLD = 1_000
"""Faults that are named one by one: a file with more is not one that this program wrote."""

LONGEST_NAME = 200
FIRST_YEAR, LAST_YEAR = 1990, 2110
"""What the workbook takes, with room for checks that came in before and go out after."""

WRITE_ANEW = "Write the plan file anew with this program, and do not change it by hand."

MOST = 1e15
"""No figure of a plan is larger; this counts every cent of one to the digit."""

_BREAKING = {"Cc", "Cs", "Zl", "Zp"}  # which no name of a workbook has

T = TypeVar("T")


def parsed(source: str | PathLike[str]) -> tuple[str, object]:
    """Return the name of a JSON file and what it holds.

    ``source`` is its path, or its text, which begins with a brace.

    Raises
    ------
    InputError
        When it cannot be read as JSON.
    """
    if isinstance(source, str) and source.lstrip().startswith("{"):
        name, text = "the plan file", source
    else:
        path = Path(source)
        name = path.name or str(path)
        text = _text_of(path, name)
    try:
        return name, json.loads(text)
    except json.JSONDecodeError as fault:
        where = f"{name}, line {fault.lineno} column {fault.colno}"
        raise InputError([error(where, f"it is not JSON ({fault.msg}).", WRITE_ANEW)]) from fault
    except ValueError as fault:  # a whole number of thousands of digits
        raise InputError(
            [error(name, "it holds a number too long to read.", WRITE_ANEW)]
        ) from fault
    except RecursionError as fault:
        raise InputError([error(name, "it is nested too deeply.", WRITE_ANEW)]) from fault


def _text_of(path: Path, name: str) -> str:
    try:
        with path.open("rb") as file:
            content = file.read(MOST_BYTES + 1)
        if len(content) > MOST_BYTES:
            what = f"the file has more than {MOST_BYTES // 1_000_000} MB."
            raise InputError([error(name, what, "Give the plan file of one plan.")])
        return content.decode(encoding="utf-8-sig")
    except UnicodeDecodeError as fault:
        raise InputError([error(name, "the file is not in UTF-8.", WRITE_ANEW)]) from fault
    except (OSError, ValueError) as fault:
        what = f"the file cannot be opened ({getattr(fault, 'strerror', None) or fault})."
        remedy = "Check the name, and that it may be read."
        raise InputError([error(name, what, remedy)]) from fault


class JsonReader:
    """Takes values out of parsed JSON; whatever is wrong is kept with its place."""

    def __init__(self) -> None:
        """Begin without any fault."""
        self.messages: list[Message] = []

    def told(self) -> list[Message]:
        """Return the faults, the first of very many by themselves and the number of the others."""
        more = len(self.messages) - MOST_TOLD
        if more <= 0:
            return self.messages
        what = f"{more:,} more faults like those before."
        return [*self.messages[:MOST_TOLD], error("the plan file", what, WRITE_ANEW)]

    def fault(self, where: str, what: str, remedy: str = WRITE_ANEW) -> None:
        """Keep what is wrong."""
        self.messages.append(error(where, what, remedy))

    def object_of(self, value: object, where: str) -> dict[str, object]:
        """Return the value if it is an object, an empty one if not."""
        if not isinstance(value, dict):
            self.fault(where, "an object in braces is wanted here.")
            return {}
        if len(value) > MOST_ITEMS:
            self.fault(where, f"an object of at most {MOST_ITEMS:,} entries is wanted here.")
            return {}
        return value

    def take(
        self, told: dict[str, object], key: str, where: str, reads: Callable[[object], T]
    ) -> T | None:
        """Return what stands under a key, None when it is missing or faulty."""
        place = f"{where}.{key}" if where else key
        if key not in told:
            if told or not where:  # that it is no object at all has been said
                self.fault(place, "it is missing.")
            return None
        return self.read(told[key], place, reads)

    def read(self, value: object, where: str, reads: Callable[[object], T]) -> T | None:
        """Return the value as it is read, None when it is faulty."""
        try:
            return reads(value)
        except ValueError as fault:
            self.fault(where, str(fault))
            return None


def text(value: object) -> str:
    """Return a text."""
    if not isinstance(value, str):
        raise ValueError("text is wanted here.")
    if len(value) > LONGEST_NAME or any(category(mark) in _BREAKING for mark in value):
        what = f"text of at most {LONGEST_NAME} characters on one line is wanted here."
        raise ValueError(what)
    return value


def items(value: object) -> list[object]:
    """Return a list."""
    if not isinstance(value, list):
        raise ValueError("a list in square brackets is wanted here.")
    if len(value) > MOST_ITEMS:
        raise ValueError(f"a list of at most {MOST_ITEMS:,} entries is wanted here.")
    return value


def number(value: object) -> float:
    """Return a number."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise ValueError("a number is wanted here.")
    if not abs(value) <= MOST:  # nor is one that is no number at all
        raise ValueError(f"a number of at most {MOST:,.0f} is wanted here.")
    return float(value)


def day(value: object) -> date:
    """Return a date."""
    try:
        found = date.fromisoformat(text(value))
    except ValueError as fault:
        raise ValueError("a date such as 2027-01-31 is wanted here.") from fault
    if not FIRST_YEAR <= found.year <= LAST_YEAR:
        raise ValueError(f"a date of the years {FIRST_YEAR} to {LAST_YEAR} is wanted here.")
    return found


def error(where: str, what: str, remedy: str) -> Message:
    """Return an error."""
    return Message(Level.ERROR, where, what, remedy)
