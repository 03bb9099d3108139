"""Read a whole input: the facts, or everything that is wrong with it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from capacity.facts import Base
from capacity.findings import Finding, Level
from capacity.inputs.checking import check
from capacity.inputs.csv_folder import read_csv_folder
from capacity.inputs.facts_from_rows import base_from
from capacity.inputs.places import Places, same
from capacity.inputs.raw import UnreadableError
from capacity.inputs.tables import is_known, read_tables
from capacity.inputs.workbook import read_workbook


@dataclass(frozen=True, slots=True)
class Book:
    """What was read; ``base`` is None when any finding is an error."""

    base: Base | None
    findings: tuple[Finding, ...]
    _places: Mapping[str, Places] = field(default_factory=dict, repr=False)

    def where(self, sheet: str, name: str, column: str | None = None) -> str:
        """Return the cell of the row so named, such as ``Checks!F17``.

        Without a column it is the first one; without such a row it is the sheet.
        """
        places = self._places.get(same(sheet))
        return places.of(name, column) if places else sheet


def read_book(path: Path) -> Book:
    """Return what an ``.xlsx`` workbook or a folder of ``.csv`` files says.

    Bad input never raises: whatever is wrong is among the findings, all of it at once.
    """
    name = path.name or str(path)
    try:
        raw = (read_csv_folder if path.is_dir() else read_workbook)(path, is_known)
    except UnreadableError as fault:
        return Book(None, (Finding(Level.ERROR, name, fault.what, fault.remedy),))
    except OSError as fault:
        what = f"the file cannot be opened ({fault.strerror or fault})."
        remedy = "Check the name, and that it may be read."
        return Book(None, (Finding(Level.ERROR, name, what, remedy),))
    sheets, findings = read_tables(raw)
    findings += check(sheets)
    spoiled = any(finding.level is Level.ERROR for finding in findings)
    base = None if spoiled or sheets.settings is None else base_from(sheets, sheets.settings)
    return Book(base, tuple(findings), sheets.places())
