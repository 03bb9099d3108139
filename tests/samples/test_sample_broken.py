"""Every slip planted in the broken workbook is found where it stands, and nothing else."""

from pathlib import Path

from capacity.inputs import read_book
from capacity.messages import Level

PLANTED = {
    "Skills!C3": "Overtime cost is -55",
    "Bays!A8": "'Bay 23' is here and in row 7",
    "Bay closures!B2": "From Mon 4 Jan 2027 is after To Sun 3 Jan 2027",
    "Aircraft types!B5": "Span m holds the text '59.8 m'",
    "Packages!C17": "stages of the package 'Regional C-check' wait for each other in a circle",
    "Packages!C36": "'Engine' is not a stage of the package 'Single-aisle light check'",
    "Package hours!C190": "'Avionic' is not in the sheet Skills",
    "Checks!Q5": "the fixed check 'N-02' comes into 'Bay 21' on Wed 30 Dec 2026, but 'N-01'",
    "Checks!I10": "Latest in Wed 6 Jan 2027 is before Earliest in Fri 29 Jan 2027",
    "Checks!C14": "no bay can hold the check 'W-10'",
    "Checks!A26": "'N-12' is here and in row 25",
    "Checks!I31": "Latest in holds the text '13/02/2027'",
    "Checks!D39": "'Single-aisle repaint' is not in the sheet Packages",
    "Shift patterns!B3": "'M' is not in the sheet Shifts",
    "Absence!D38": "on Mon 15 Feb 2027, 71 heads of the crew 'Inspection blue' are away",
}


def test_every_slip_is_found_in_its_cell_and_nothing_else(samples: Path) -> None:
    book = read_book(samples / "broken.xlsx")
    found = {message.where: message for message in book.messages if message.level != Level.NOTE}
    assert found.keys() == PLANTED.keys()
    for where, beginning in PLANTED.items():
        assert found[where].what.startswith(beginning), found[where]
        assert found[where].remedy
    assert book.base is None


def test_there_is_one_message_a_slip(samples: Path) -> None:
    messages = read_book(samples / "broken.xlsx").messages
    assert sum(message.level != Level.NOTE for message in messages) == len(PLANTED)


def test_only_the_absence_is_no_error(samples: Path) -> None:
    messages = read_book(samples / "broken.xlsx").messages
    warned = [message.where for message in messages if message.level is Level.WARNING]
    assert warned == ["Absence!D38"]
