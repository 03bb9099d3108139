"""The tables of broken.xlsx: the quarter with fifteen different slips of the hand."""

from collections.abc import Mapping

from invented_quarter import Rows

# Sheet, the first cells of the row, heading, and what was typed there by mistake.
SLIPS: list[tuple[str, tuple[object, ...], str, object]] = [
    ("Skills", ("Powerplant",), "Overtime cost", -55),
    ("Bays", ("Bay 24",), "Bay", "Bay 23"),
    ("Bay closures", ("Bay 32",), "To", "2027-01-03"),
    ("Aircraft types", ("Redwood 290",), "Span m", "59.8 m"),
    ("Packages", ("Regional C-check", "Rectification"), "After", "Gear swing"),
    ("Packages", ("Single-aisle light check", "Closing up"), "After",
     "Rectification, Engine, Cabin"),
    ("Package hours", ("Single-aisle C-check", "Avionics updates", "Avionics"), "Skill", "Avionic"),
    ("Checks", ("N-02",), "Fixed bay", "Bay 21"),
    ("Checks", ("W-06",), "Latest in", "2027-01-06"),
    ("Checks", ("W-10",), "Type", "Sequoia 500"),
    ("Checks", ("N-13",), "Check", "N-12"),
    ("Checks", ("R-05",), "Latest in", "13/02/2027"),
    ("Checks", ("P-03",), "Package", "Single-aisle repaint"),
    ("Shift patterns", ("early and late",), "Cycle", "E E E E E - - L L L L M - -"),
    ("Absence", ("Inspection blue",), "Heads", 71),
]  # fmt: skip

# A type too wide for every bay, so that the slip in W-10 names one that is there.
TOO_WIDE_BESIDE = "Redwood 340"
TOO_WIDE = ("Sequoia 500", 71.8, 72.4, 19.1, "twin-aisle")


def broken(tables: Mapping[str, Rows]) -> dict[str, Rows]:
    """Return a copy of the tables with every slip in it."""
    spoiled = {title: list(rows) for title, rows in tables.items()}
    spoiled["Aircraft types"].append(TOO_WIDE)
    types = spoiled["Packages"][0].index("Types")
    for number, row in enumerate(spoiled["Packages"]):
        if TOO_WIDE_BESIDE in str(row[types]):
            types_too = f"{row[types]}, {TOO_WIDE[0]}"
            spoiled["Packages"][number] = (*row[:types], types_too, *row[types + 1 :])
    for title, name, heading, typed in SLIPS:
        rows = spoiled[title]
        number = next(n for n, row in enumerate(rows) if row[: len(name)] == name)
        column = rows[0].index(heading)
        rows[number] = (*rows[number][:column], typed, *rows[number][column + 1 :])
    return spoiled
