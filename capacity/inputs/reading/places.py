"""Where things stand in the input, as a person sees it: ``Checks!F17``."""

from collections.abc import Mapping
from dataclasses import dataclass, field

FIRST_COLUMN = "A"


def same(title: str) -> str:
    """Return a sheet title or heading in the form in which it is compared."""
    return " ".join(title.casefold().split())


@dataclass(frozen=True, slots=True)
class Places:
    """The cells of one sheet.

    ``label`` is the sheet as the file calls it; ``letters`` gives the column letter of
    every heading and ``rows`` the row of every name.
    """

    label: str
    letters: Mapping[str, str] = field(default_factory=dict)
    rows: Mapping[str, int] = field(default_factory=dict)

    def cell(self, row: int, heading: str | None = None) -> str:
        """Return the cell in the column of a heading, or in the first known column."""
        by_heading = {same(known): letter for known, letter in self.letters.items()}
        # Z comes before AA: shorter names first, then by letters.
        first = min(by_heading.values(), key=lambda name: (len(name), name), default=FIRST_COLUMN)
        letter = by_heading.get(same(heading or ""), first)
        return f"{self.label}!{letter}{row}"

    def of(self, name: str, heading: str | None = None) -> str:
        """Return the cell of the row so named; the sheet when there is none."""
        row = self.rows.get(name)
        return self.label if row is None else self.cell(row, heading)
