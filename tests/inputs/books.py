"""A small, valid, invented base as sheets of rows, and ways to write it to a file."""

import copy
import csv
from datetime import date, time
from pathlib import Path

import openpyxl

from capacity.inputs import Book, read_book
from capacity.messages import Level, Message

Sheets = dict[str, list[list[object]]]

FIRST_DAY = date(2027, 1, 4)  # a Monday

VALID: Sheets = {
    "Base": [
        ["Setting", "Value"],
        ["Base", "Northfield"],
        ["First day", FIRST_DAY],
        ["Weeks", 4],
        ["Working days", "Mon-Fri"],
        ["Productivity %", 80],
        ["Longest delay days", 7],
    ],
    "Skills": [
        ["Skill", "Overtime cost", "Overtime cap %", "Contract cost", "Contract cap %"],
        ["mechanic", 60, 20, 90, 25],
        ["sheet metal", 65, 10, 95, 0],
    ],
    "Bays": [
        ["Bay", "Hangar", "Max span m", "Max length m", "Max tail m", "Work", "Docking",
         "Changeover days"],
        ["B1", "North", 40, 45, 14, "maintenance", None, 1],
        ["B2", "North", 36, 40, 12.5, "maintenance", "narrow", 0],
    ],
    "Bay closures": [
        ["Bay", "From", "To", "Reason"],
        ["B2", date(2027, 2, 1), date(2027, 2, 3), "door"],
    ],
    "Aircraft types": [
        ["Type", "Span m", "Length m", "Tail m", "Docking"],
        ["T30", 34, 38, 12, "narrow"],
        ["T40", 38, 44, 13, None],
    ],
    "Packages": [
        ["Package", "Stage", "After", "Work", "Days", "Findings %"],
        ["light", "open", None, "maintenance", 2, 0],
        ["light", "inspect", None, "maintenance", 3, 50],
        ["light", "close", "open, inspect", "maintenance", 1, 0],
        ["paint prep", "wash", "-", "maintenance", 1, 0],
    ],
    "Package hours": [
        ["Package", "Stage", "Skill", "Man-hours"],
        ["light", "open", "mechanic", 40],
        ["light", "inspect", "mechanic", 60],
        ["light", "inspect", "sheet metal", 20.5],
        ["light", "close", "mechanic", 30],
        ["paint prep", "wash", "mechanic", 8],
    ],
    "Checks": [
        ["Check", "Aircraft", "Type", "Package", "Customer", "Third party", "Status",
         "Earliest in", "Latest in", "Agreed out", "Early cost per day", "Late cost per day",
         "Price", "Fixed bay", "Fixed in", "Remaining %"],
        ["C1", "N-1", "T30", "light", "own", "no", "booked", date(2027, 1, 4),
         date(2027, 1, 12), date(2027, 1, 20), 100, 500, None, None, None, None],
        ["C2", "N-2", "T40", "light", "Aero East", "yes", "option", date(2027, 1, 6),
         date(2027, 1, 20), None, 0, 0, 9000, None, None, None],
        ["C3", "N-3", "T30", "light", "own", "no", "fixed", None, None, None, 0, 0, None, "B2",
         date(2026, 12, 31), 50],
        ["C4", "N-4", "T40", "paint prep", "own", "no", "fixed", None, None, None, 0, 0, None,
         "B1", date(2027, 1, 12), None],
    ],
    "Crews": [
        ["Crew", "Skills", "Heads", "Pattern", "Starts cycle on", "Employment"],
        ["red", "mechanic", 10, "days", FIRST_DAY, "employed"],
        ["blue", "sheet metal", 4, "days", FIRST_DAY, "contract"],
    ],
    "Shift patterns": [["Pattern", "Cycle"], ["days", "D D D D D - -"]],
    "Shifts": [["Shift", "Start", "Hours", "Night"], ["D", time(6, 0), 7.5, "no"]],
    "Absence": [
        ["Crew", "From", "To", "Heads", "Reason"],
        ["red", date(2027, 1, 11), date(2027, 1, 15), 2, "training"],
    ],
}  # fmt: skip


def valid() -> Sheets:
    """Return a copy that a test may change."""
    return copy.deepcopy(VALID)


def with_equipment(sheets: Sheets) -> Sheets:
    """Return the sheets with a pool of two jack sets, one of them out for two days."""
    sheets["Equipment"] = [["Equipment", "Number"], ["jack set", 2]]
    sheets["Equipment outages"] = [
        ["Equipment", "From", "To", "Number", "Reason"],
        ["jack set", date(2027, 1, 6), date(2027, 1, 7), 1, "overhaul"],
    ]
    return sheets


def with_shops(sheets: Sheets) -> Sheets:
    """Return the sheets with three items of each light check at a shop that turns two a day."""
    sheets["Shops"] = [["Shop", "Items per day"], ["cabin shop", 2]]
    sheets["Shop loops"] = [
        ["Package", "Shop", "Items", "Leave at", "Back for"],
        ["light", "cabin shop", 3, "open", "close"],
    ]
    return sheets


def with_fixed(*stays: tuple[str, int, int]) -> Sheets:
    """Return valid sheets with bays A to D and checks F1, F2, ... fixed there, and no others.

    Each stay is a bay, an in day in January, and a number of days, all of them worked. The
    check F1 has the package ``work 1``, which starts in row 6, F2 ``work 2`` and so on.
    """
    sheets = valid()
    change(sheets, "Base", "Working days", "Value", "Mon-Sun")
    like = sheets["Bays"][1]
    sheets["Bays"] = [sheets["Bays"][0], *([bay, *like[1:]] for bay in "ABCD")]
    sheets["Bay closures"] = sheets["Bay closures"][:1]
    check = sheets["Checks"][4]
    sheets["Checks"] = sheets["Checks"][:1]
    for number, (bay, in_day, days) in enumerate(stays, start=1):
        package = f"work {number}"
        sheets["Packages"].append([package, "all", "-", "maintenance", days, 0])
        sheets["Package hours"].append([package, "all", "mechanic", 10])
        sheets["Checks"].append([f"F{number}", *check[1:]])
        change(sheets, "Checks", f"F{number}", "Package", package)
        change(sheets, "Checks", f"F{number}", "Fixed bay", bay)
        change(sheets, "Checks", f"F{number}", "Fixed in", date(2027, 1, in_day))
    return sheets


def row_of(sheet: list[list[object]], name: str) -> int:
    """Return the number of the row whose first cell is the name, counted from 1."""
    return next(number for number, row in enumerate(sheet, start=1) if row[0] == name)


def change(sheets: Sheets, sheet: str, name: str | int, heading: str, value: object) -> str:
    """Set one cell, in a new column if need be, and return where it stands.

    The row is given by its first cell, or by its number as a person sees it.
    """
    rows = sheets[sheet]
    if heading not in rows[0]:
        for row in rows:
            row.append(None)
        rows[0][-1] = heading
    column = rows[0].index(heading)
    number = name if isinstance(name, int) else row_of(rows, name)
    rows[number - 1][column] = value
    return f"{sheet}!{openpyxl.utils.get_column_letter(column + 1)}{number}"


def write_workbook(sheets: Sheets, path: Path) -> Path:
    """Write the sheets as an .xlsx file and return its path."""
    book = openpyxl.Workbook()
    book.remove(book.active)
    for title, rows in sheets.items():
        sheet = book.create_sheet(title)
        for row in rows:
            sheet.append(row)
    book.save(path)
    return path


def write_folder(sheets: Sheets, folder: Path) -> Path:
    """Write the sheets as .csv files and return the folder."""
    folder.mkdir()
    for title, rows in sheets.items():
        with (folder / f"{title}.csv").open("w", encoding="utf-8-sig", newline="") as stream:
            csv.writer(stream).writerows(rows)
    return folder


def read(sheets: Sheets, folder: Path) -> Book:
    """Read the sheets by way of a workbook."""
    return read_book(write_workbook(sheets, folder / "book.xlsx"))


def errors(book: Book) -> list[Message]:
    """Return the errors among the messages; a book with errors has no base."""
    found = [message for message in book.messages if message.level is Level.ERROR]
    assert (book.base is None) == bool(found)
    return found


def warnings(book: Book) -> list[Message]:
    """Return the warnings among the messages."""
    return [message for message in book.messages if message.level is Level.WARNING]


def the_error(book: Book) -> Message:
    """Return the only error, and see that it says what to do."""
    found = errors(book)
    assert len(found) == 1, "\n".join(map(str, found))
    assert found[0].remedy
    return found[0]


def the_warning(book: Book) -> Message:
    """Return the only message, a warning that leaves the base usable."""
    assert book.base is not None, "\n".join(map(str, book.messages))
    (found,) = book.messages
    assert found.level is Level.WARNING
    assert found.remedy
    return found
