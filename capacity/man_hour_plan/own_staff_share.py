"""At least half of the people on a shift are employed, in each area by itself.

Source: AMC 145.A.30(d) paragraph 1 (from memory, not re-read): at least half the staff that
perform maintenance in each workshop, hangar or flight line on any shift should be employed.
More contract people may be agreed with the authority for a time, so this only warns.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from math import ceil, fsum

TOLERANCE = 1e-9
"""Heads that are no more than the rounding of a sum."""


@dataclass(frozen=True, slots=True)
class HeadCount:
    """People present in one area on one shift; ``area`` is blank where it is not told."""

    area: str
    shift: str
    employed: float
    contract: float

    @property
    def heads(self) -> float:
        """All people present."""
        return self.employed + self.contract


@dataclass(frozen=True, slots=True)
class TooFewEmployed:
    """``worst`` is the count that lacks most employed people; ``days`` are all such days."""

    worst: HeadCount
    days: tuple[date, ...]


def least_employed(heads: float) -> float:
    """Return how many of ``heads`` must be employed: half, rounded up where heads are whole.

    Absence may take parts of a person; of 7.4 heads it is 3.7.
    """
    whole = round(heads)
    return ceil(whole / 2) if abs(heads - whole) <= TOLERANCE else heads / 2


def has_too_few_employed(count: HeadCount) -> bool:
    """Return whether ``employed < least_employed(heads)``."""
    return count.employed < least_employed(count.heads) - TOLERANCE


def too_few_employed(counts: Iterable[HeadCount]) -> tuple[HeadCount, ...]:
    """Return the counts that break the rule; a good one elsewhere makes up for none."""
    return tuple(count for count in counts if has_too_few_employed(count))


def too_few_by_shift(
    counts: Mapping[date, Sequence[HeadCount]],
) -> tuple[TooFewEmployed, ...]:
    """Return each area and shift that breaks the rule on some day, sorted by name."""
    broken: dict[tuple[str, str], dict[date, HeadCount]] = {}
    for day, of_day in sorted(counts.items()):
        for count in too_few_employed(of_day):
            broken.setdefault((count.area, count.shift), {})[day] = count
    return tuple(
        TooFewEmployed(max(days.values(), key=_lacking), tuple(days))
        for _, days in sorted(broken.items())
    )


def _lacking(count: HeadCount) -> float:
    return fsum((least_employed(count.heads), -count.employed))
