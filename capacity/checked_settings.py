"""Values of settings are checked where they are given; each fault says what may be given."""

import math
from enum import StrEnum
from numbers import Integral, Real
from typing import TypeVar

from capacity.errors import SettingsError

# What every engine takes as a seed, and far more than any other whole number needs.
MOST_WHOLE = 2**31 - 1

AnyChoice = TypeVar("AnyChoice", bound=StrEnum)


def number_within(name: str, value: object, least: float, most: float = math.inf) -> None:
    """Raise ``SettingsError`` unless a value is a finite number, ``least <= value <= most``."""
    is_number = isinstance(value, Real) and not isinstance(value, bool)
    if not (is_number and math.isfinite(float(value)) and least <= float(value) <= most):  # type: ignore[arg-type]
        raise SettingsError(f"{name} is {value!r}. Give {_span(least, most)}.")


def whole_within(name: str, value: object, least: int, most: int = MOST_WHOLE) -> None:
    """Raise ``SettingsError`` unless a value is a whole number, ``least <= value <= most``."""
    is_whole = isinstance(value, Integral) and not isinstance(value, bool)
    if not (is_whole and least <= int(value) <= most):  # type: ignore[call-overload]
        raise SettingsError(f"{name} is {value!r}. Give a whole number, {_span(least, most)}.")


def yes_or_no(name: str, value: object) -> None:
    """Raise ``SettingsError`` unless a value is True or False."""
    if not isinstance(value, bool):
        raise SettingsError(f"{name} is {value!r}. Give True or False.")


def choice_of(kind: type[AnyChoice], name: str, value: object) -> AnyChoice:
    """Return the choice of that name; raises ``SettingsError`` where there is none."""
    try:
        return kind(str(value))
    except ValueError:
        known = " or ".join(kind)
        raise SettingsError(f"{name} is {value!r}. Choose {known}.") from None


def _span(least: float, most: float) -> str:
    if most in (math.inf, MOST_WHOLE):
        return f"{least:,g} or more"
    return f"{least:,g} to {most:,.15g}"
