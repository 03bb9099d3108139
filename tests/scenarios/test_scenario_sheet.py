"""The sheet Scenarios as edits of a workbook; every wrong cell is an error with its remedy."""

from datetime import date
from pathlib import Path

import pytest

from capacity.errors import InputError
from capacity.inputs.reading.edited_copy import SheetEdit
from capacity.inputs.scenarios_workbook import Scenario, read_scenarios, scenarios_and_messages
from tests.inputs.books import valid, write_folder, write_workbook

HEADINGS = ["Scenario", "Sheet", "Row", "Column", "Change", "Value"]


def read(tmp_path: Path, *rows: list[object]) -> tuple[Scenario, ...]:
    workbook = write_workbook(valid(), tmp_path / "base.xlsx")
    path = write_workbook({"Scenarios": [HEADINGS, *rows]}, tmp_path / "scenarios.xlsx")
    return read_scenarios(path, workbook)


def the_edit(scenario: Scenario) -> SheetEdit:
    (edit,) = scenario.edits
    return edit


def test_rows_of_one_scenario_go_together(tmp_path: Path) -> None:
    more, shut = read(
        tmp_path,
        ["more people", "Crews", "red", "Heads", "add", 2],
        ["bay shut", "Bay closures", "new row", "Bay", None, "B2"],
        ["bay shut", "bay closures", "New row", "from", "set", date(2027, 1, 11)],
        ["bay shut", "Bay closures", "new row", "To", None, date(2027, 1, 15)],
        ["bay shut", "Bay closures", "new row 2", "Bay", None, "B1"],
    )
    red = next(n for n, row in enumerate(valid()["Crews"], 1) if row[0] == "red")
    heads = valid()["Crews"][red - 1][valid()["Crews"][0].index("Heads")]
    assert the_edit(more).changed == {red: {"Heads": heads + 2}}
    closure = {"Bay": "B2", "From": date(2027, 1, 11), "To": date(2027, 1, 15)}
    assert the_edit(shut).added == (closure, {"Bay": "B1"})
    assert shut.words[0] == "Bay closures, new row, Bay: B2"


def test_rows_are_named_by_all_their_names_by_the_first_or_are_all_meant(tmp_path: Path) -> None:
    book = valid()["Packages"]
    findings = book[0].index("Findings %")
    one, package, every = read(
        tmp_path,
        ["one", "Packages", "light / inspect", "Findings %", None, 60],
        ["package", "Packages", "light", "Findings %", "add", 5],
        ["every", "Packages", "every row", "Findings %", "multiply", 2],
    )
    numbers = {f"{row[0]} / {row[1]}": n for n, row in enumerate(book[1:], 2)}
    assert the_edit(one).changed == {numbers["light / inspect"]: {"Findings %": 60}}
    assert the_edit(package).changed == {
        n: {"Findings %": book[n - 1][findings] + 5}
        for name, n in numbers.items()
        if name.startswith("light")
    }
    assert the_edit(every).changed == {
        n: {"Findings %": book[n - 1][findings] * 2} for n in numbers.values()
    }


def test_a_setting_that_is_not_there_is_added(tmp_path: Path) -> None:
    (peak,) = read(tmp_path, ["peak", "Base", "Daily peak %", "Value", None, 150])
    assert the_edit(peak).added == ({"Setting": "Daily peak %", "Value": 150},)


def test_files_of_text_say_numbers_too(tmp_path: Path) -> None:
    rows = [
        ["none", "Packages", "light / inspect", "Findings %", "multiply", "0"],
        ["half a head", "Crews", "red", "Heads", "add", "0.5"],
        ["set", "Crews", "red", "Heads", "", "12"],
        ["a name", "Crews", "red", "Pattern", "", "007"],
    ]
    asked = write_folder({"Scenarios": [HEADINGS, *rows]}, tmp_path / "asked")
    for base in (
        write_workbook(valid(), tmp_path / "base.xlsx"),
        write_folder(valid(), tmp_path / "base"),
    ):
        found = [
            change for s in read_scenarios(asked, base) for change in the_edit(s).changed.values()
        ]
        expected = [{"Findings %": 0.0}, {"Heads": 10.5}, {"Heads": 12.0}, {"Pattern": "007"}]
        assert found == expected


@pytest.mark.parametrize(
    ("row", "where", "what"),
    [
        (["s", "Crew", "red", "Heads", None, 2], "Scenarios!B2", "there is no sheet 'Crew'"),
        (["s", "Crews", "rad", "Heads", None, 2], "Scenarios!C2", "has no row 'rad'"),
        (["s", "Crews", "red", "Head", None, 2], "Scenarios!D2", "has no column 'Head'"),
        (["s", "Crews", "red", "Skills", "add", 2], "Scenarios!F2", "only numbers are added"),
        (["s", "Crews", "red", "Heads", "add", "two"], "Scenarios!F2", "only numbers are added"),
        (["s", "Crews", "red", "Heads", "half", 2], "Scenarios!E2", "half"),
        (["s", "Crews", "new row", "Heads", "add", 2], "Scenarios!E2", "nothing to add"),
        ([None, "Crews", "red", "Heads", None, 2], "Scenarios!A2", "blank"),
    ],
)
def test_what_is_wrong_is_said_with_its_cell(
    tmp_path: Path, row: list[object], where: str, what: str
) -> None:
    with pytest.raises(InputError) as faults:
        read(tmp_path, row)
    (message,) = faults.value.messages
    assert message.where == where
    assert what in message.what
    assert message.remedy


def test_a_file_without_the_sheet_or_without_rows_is_refused(tmp_path: Path) -> None:
    workbook = write_workbook(valid(), tmp_path / "base.xlsx")
    other = write_workbook({"Else": [["a"]]}, tmp_path / "other.xlsx")
    _, (message,) = scenarios_and_messages(other, workbook)
    assert "there is no sheet Scenarios" in message.what
    empty = write_workbook({"Scenarios": [HEADINGS]}, tmp_path / "empty.xlsx")
    found, messages = scenarios_and_messages(empty, workbook)
    assert found == ()
    assert messages
