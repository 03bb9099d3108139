"""Cross checks of the aircraft types that a package is for."""

from collections.abc import Iterator

from capacity.inputs.checking.references import is_unknown
from capacity.inputs.checking.repeated import repeated
from capacity.inputs.reading.facts_from_rows import types_of_packages
from capacity.inputs.reading.rows import Sheets
from capacity.inputs.reading.sheets import CheckRow, StageRow, TypeRow
from capacity.messages import Level, Message
from capacity.words import quoted


def types_are_told_alike(sheets: Sheets) -> Iterator[Message]:
    """Require that the rows of a package that name types name the same ones."""
    rows = (row for row in sheets[StageRow].rows if row.types)
    for row, before in repeated(rows, lambda row: row.package):
        if {*before.types} != {*row.types}:
            yield Message(
                Level.ERROR,
                sheets.at(row, "types"),
                f"the package '{row.package}' is for {quoted(row.types)} here and for "
                f"{quoted(before.types)} in row {before.row}.",
                "Name the same types in both rows, or in one of them only.",
            )


def checks_are_of_a_type_of_their_package(sheets: Sheets) -> Iterator[Message]:
    """Require that a package that names types is for the type of each of its checks."""
    types = types_of_packages(sheets)
    for check in sheets[CheckRow].rows:
        named = types.get(check.package, ())
        if not named or check.type in named or is_unknown(sheets, check.type, TypeRow):
            continue
        if any(is_unknown(sheets, name, TypeRow) for name in named):
            continue  # it may be this type that is misspelt
        yield Message(
            Level.ERROR,
            sheets.at(check, "package"),
            f"the package '{check.package}' is for {quoted(named)}, and the check "
            f"'{check.check}' is on the type '{check.type}'.",
            f"Name another package, correct {sheets.at(check, 'type')}, or add the type to Types "
            "of the package.",
        )
