"""Several bases and what they are asked, read from files; every wrong cell told with its remedy."""

from datetime import date
from pathlib import Path

import pytest

from capacity.inputs.network_files import NetworkBook, read_network_book
from capacity.messages import Level
from tests.inputs.books import Sheets, change, valid, write_workbook

pytestmark = pytest.mark.usefixtures("reads_once")

BASES: list[list[object]] = [["Base", "Workbook"], ["North", "north.xlsx"], ["South", "south.xlsx"]]
ENQUIRIES: list[list[object]] = [
    ["Check", "Aircraft", "Type", "Package", "Earliest in", "Latest in", "Price"],
    ["E1", "N-E1", "T30", "light", date(2027, 1, 6), date(2027, 1, 20), 9000],
    ["E2", "N-E2", "T40", "light", date(2027, 1, 6), date(2027, 1, 20), 8000],
]
FERRIES: list[list[object]] = [
    ["Check", "Base", "Ferry cost"],
    ["E1", "North", 500],
    ["E1", "South", 0],
    ["E2", "South", 700],
]


def other_base() -> Sheets:
    sheets = valid()
    change(sheets, "Base", "Base", "Value", "Southfield")
    return sheets


def read(
    folder: Path,
    north: Sheets | None = None,
    south: Sheets | None = None,
    **sheets: list[list[object]],
) -> NetworkBook:
    write_workbook(north or valid(), folder / "north.xlsx")
    write_workbook(south or other_base(), folder / "south.xlsx")
    tables = {"Bases": BASES, "Enquiries": ENQUIRIES, "Ferry costs": FERRIES, **sheets}
    return read_network_book(write_workbook(tables, folder / "network.xlsx"))


def errors(book: NetworkBook) -> list[str]:
    assert book.network is None
    return [f"{m.where}: {m.what} {m.remedy}" for m in book.messages if m.level is Level.ERROR]


def test_bases_and_enquiries_are_read(tmp_path: Path) -> None:
    network = read(tmp_path).network
    assert network is not None
    assert {name: base.name for name, base in network.bases.items()} == {
        "North": "Northfield",
        "South": "Southfield",
    }
    first, second = network.enquiries
    assert (first.check.price, first.earns_at("North"), first.earns_at("South")) == (
        9000,
        8500,
        9000,
    )
    assert second.ferry_costs == {"South": 700}
    assert [one.name for one in network.asked_of("North")] == ["E1"]
    assert first.at("North", 1500).price == 7000


def test_everything_wrong_is_told_at_once(tmp_path: Path) -> None:
    book = read(
        tmp_path,
        Bases=[*BASES, ["North", "west.xlsx"], ["East", "south.xlsx"]],
        Enquiries=[
            *ENQUIRIES,
            ["E2", "N-E3", "T30", "light", date(2027, 1, 6), date(2027, 1, 20), 1],
            ["C1", "N-E4", "T30", "heavy", date(2027, 1, 6), date(2027, 1, 20), 1],
            ["E5", "N-E5", "T30", "light", date(2027, 1, 6), date(2027, 1, 20), 1],
        ],
        **{
            "Ferry costs": [
                *FERRIES,
                ["E1", "South", 20],
                ["E9", "North", 0],
                ["C1", "West", 0],
                ["C1", "North", "much"],
                ["C1", "South", 1],
            ]
        },
    )
    said = "\n".join(errors(book))
    for told in (
        "Bases!A4: 'North' is named twice.",
        "Bases!B5: 'south.xlsx' is the workbook of 'South' already.",
        "Ferry costs!A5: 'E1' has a ferry cost to 'South' twice.",
        "Ferry costs!A6: 'E9' is not in the sheet Enquiries.",
        "Ferry costs!B7: 'West' is not in the sheet Bases.",
        "Ferry costs!C8: Ferry cost",
        "Enquiries!A4: 'E2'",
        "Enquiries!A5: 'C1' is already a check in the base's workbook.",
        "Enquiries!D5: 'heavy' is not in the sheet Packages of the base's workbook.",
    ):
        assert told in said, said


def test_an_enquiry_that_no_base_is_asked_about(tmp_path: Path) -> None:
    (said,) = errors(read(tmp_path, **{"Ferry costs": FERRIES[:3]}))
    assert said.startswith("Enquiries!A3: no base is asked about 'E2'.")


def test_what_is_wrong_at_one_base_names_it(tmp_path: Path) -> None:
    south = other_base()
    for sheet, column in (("Packages", 0), ("Package hours", 0), ("Checks", 3)):
        for row in south[sheet][1:]:
            row[column] = "small" if row[column] == "light" else row[column]
    said = errors(read(tmp_path, south=south))
    assert said == [
        "Enquiries!D2: at South: 'light' is not in the sheet Packages of the base's workbook. "
        "Known are 'small' and 'paint prep'; otherwise add it to the sheet Packages.",
        "Enquiries!D3: 'light' is not in the sheet Packages of the base's workbook. "
        "Known are 'small' and 'paint prep'; otherwise add it to the sheet Packages.",
    ]


def test_bases_that_do_not_go_together_and_faulty_workbooks(tmp_path: Path) -> None:
    south = other_base()
    south["Base"].append(["Currency", "GBP"])
    change(south, "Base", "First day", "Value", date(2027, 1, 11))
    said = "\n".join(errors(read(tmp_path, south=south)))
    assert "Bases!B3: its Currency is GBP, that of 'North' is EUR." in said
    assert "Bases!B3: its First day is Mon 11 Jan 2027" in said
    north = valid()
    change(north, "Checks", "C1", "Type", "T99")
    said = "\n".join(errors(read(tmp_path, north=north)))
    assert "north.xlsx, Checks!C2: " in said


@pytest.mark.parametrize("sheet", ["Bases", "Enquiries", "Ferry costs"])
def test_a_sheet_that_is_not_there(tmp_path: Path, sheet: str) -> None:
    said = errors(read(tmp_path, **{sheet: []}))
    assert any(f"there is no sheet {sheet}, or nothing in it" in one for one in said)


def test_a_workbook_that_is_not_there(tmp_path: Path) -> None:
    said = errors(read(tmp_path, Bases=[*BASES, ["West", "west.xlsx"]]))
    assert said == [
        "Bases!B4: the file cannot be opened (No such file or directory). Check the name, and that "
        "it may be read."
    ]
