"""Cell types that only the sheet ``Base`` has: weekdays, holidays, working-time rules."""

from typing import Annotated

import holidays
from pydantic import BeforeValidator

from capacity.inputs.reading.cells import OneOf, one_of, refuse, shown, text
from capacity.inputs.wording import nearest
from capacity.words import quoted
from capacity.working_time.rule_sets import RULE_SETS

WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
FULL_NAMES = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
NO_RULES = "none"


def weekdays(value: object) -> frozenset[int]:
    """Return the weekdays, Monday 0, of text such as ``Mon-Fri`` or ``Mon-Thu, Sat``."""
    worked: set[int] = set()
    for part in text(value).split(","):
        first, dash, last = part.partition("-")
        start = _weekday(first, value)
        end = _weekday(last, value) if dash else start
        worked.update((start + step) % 7 for step in range((end - start) % 7 + 1))
    return frozenset(worked)


def _weekday(name: str, cell: object) -> int:
    folded = name.strip().casefold()
    known = WEEKDAYS if len(folded) == 3 else FULL_NAMES
    if folded not in known:
        refuse(
            f"holds '{shown(cell)}', in which '{shown(name.strip())}' is not a weekday.",
            "Type it as Mon-Fri or Mon-Thu, Sat, with the days Mon Tue Wed Thu Fri Sat Sun.",
        )
    return known.index(folded)


def holiday_place(value: object) -> str | None:
    """Return an ISO 3166 country, optionally with ``-subdivision``; None for ``none``."""
    written = text(value)
    if written.casefold() == "none":
        return None
    country, dash, subdivision = written.partition("-")
    country = country.strip().upper()
    known = holidays.list_supported_countries(include_aliases=False)
    if country not in known:
        refuse(
            f"holds '{shown(written)}', and no holidays are known for that country.",
            "Type a two-letter country code of ISO 3166 such as DE, one with a subdivision "
            "such as GB-SCT, or none.",
        )
    if not dash:
        return country
    by_folded = {name.casefold(): name for name in known[country]}
    wanted = subdivision.strip()
    if wanted.casefold() not in by_folded:
        near = nearest(wanted, known[country])
        meant = f"Did you mean '{country}-{near}'? " if near else ""
        choice = f"Known are {quoted(known[country])}." if known[country] else "It has none."
        refuse(
            f"holds '{shown(written)}', a subdivision of {country} that is not known.",
            f"{meant}{choice}",
        )
    return f"{country}-{by_folded[wanted.casefold()]}"


rules = OneOf((*RULE_SETS, NO_RULES), nothing=NO_RULES)
"""Reads the name of a rule set that the tool ships; None for ``none``."""

Weekdays = Annotated[frozenset[int], BeforeValidator(weekdays)]
HolidayPlace = Annotated[str | None, BeforeValidator(holiday_place)]
Rules = Annotated[str | None, BeforeValidator(rules)]
CountedBy = Annotated[str, BeforeValidator(one_of("week", "day"))]
RulesMode = Annotated[str, BeforeValidator(one_of("off", "warn", "hold"))]
