"""How many rows an empty workbook begins with, and what they are called."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from capacity.checked_settings import choice_of, whole_within
from capacity.errors import SettingsError
from capacity.words import quoted

MOST_ROWS = 1_000
"""Numbered rows of one sheet; whoever has more of anything copies it from where it is."""


HEADINGS_OF_HOURS = ("package", "stage", "skill", "man-hours")
"""Headings that the sheet ``Package hours`` has in one of its forms."""


class HoursBy(StrEnum):
    """The form of the sheet ``Package hours``."""

    ROWS = "rows"
    """A row a stage and skill."""

    COLUMNS = "columns"
    """A row a stage, with a column a skill."""


@dataclass(frozen=True, slots=True)
class Placeholders:
    """What an empty workbook holds beside its headings: counts of numbered rows, and settings.

    ``skills`` may also be their names. Nothing is counted that is not asked for.

    Raises
    ------
    SettingsError
        When a count is no whole number from 0 to 1,000, or hours are asked for by columns
        without skills.
    """

    bays: int = 0
    types: int = 0
    packages: int = 0
    checks: int = 0
    crews: int = 0
    skills: int | Sequence[str] = 0
    name: str = ""
    first_day: date | None = None
    weeks: int | None = None
    hours_by: HoursBy = HoursBy.ROWS

    def __post_init__(self) -> None:
        """Check every value."""
        for name in ("bays", "types", "packages", "checks", "crews"):
            whole_within(name, getattr(self, name), 0, MOST_ROWS)
        if isinstance(self.skills, int):
            whole_within("skills", self.skills, 0, MOST_ROWS)
        if self.weeks is not None:
            whole_within("weeks", self.weeks, 1, 110)
        choice_of(HoursBy, "hours_by", self.hours_by)
        if self.hours_by != HoursBy.COLUMNS:
            return
        skills = self.names_of("Skill")
        if not skills:
            raise SettingsError(
                "Hours with a column a skill need the skills. Say how many, or their names."
            )
        taken = [name for name in skills if name.casefold() in HEADINGS_OF_HOURS]
        if taken:
            raise SettingsError(
                f"{quoted(taken)} is a heading of the sheet Package hours and cannot head the "
                "hours of a skill too. Name the skill otherwise, or take rows."
            )

    def names_of(self, heading: str) -> tuple[str, ...]:
        """Return the names under a heading: ``Bay 1``, ``Bay 2`` and so on, or those given."""
        counts = {
            "Bay": self.bays,
            "Type": self.types,
            "Package": self.packages,
            "Check": self.checks,
            "Crew": self.crews,
            "Skill": self.skills,
        }
        wanted = counts.get(heading, 0)
        if not isinstance(wanted, int):
            return tuple(wanted)
        return tuple(f"{heading} {number}" for number in range(1, wanted + 1))


FIRST_STAGE = "Stage 1"
"""What the only stage of a numbered package is called."""
