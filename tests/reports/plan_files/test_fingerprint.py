"""The fingerprint of a workbook: what makes a difference, and what makes none."""

import dataclasses
import json
from datetime import date
from pathlib import Path

import openpyxl
import pytest

from capacity.facts import Base
from capacity.inputs import read_book
from capacity.reports.plan_files.fingerprint import NOT_IN_THE_WORKBOOK, fingerprint_of
from tests.inputs.books import (
    Sheets,
    change,
    valid,
    with_equipment,
    with_shops,
    write_folder,
    write_workbook,
)


def full() -> Sheets:
    return with_shops(with_equipment(valid()))


def base_of(path) -> Base:
    base = read_book(path).base
    assert base is not None
    return base


@pytest.fixture
def before(tmp_path):
    return fingerprint_of(base_of(write_workbook(full(), tmp_path / "before.xlsx")))


def test_every_sheet_that_says_something_has_its_names(before):
    assert set(before) == set(full())
    assert set(before["Checks"]) == {"C1", "C2", "C3", "C4"}
    assert set(before["Package hours"]) == {"light", "paint prep"}
    assert set(before["Absence"]) == {"red"}


def test_a_folder_of_csv_files_has_the_same(before, tmp_path):
    assert fingerprint_of(base_of(write_folder(full(), tmp_path / "tables"))) == before


def test_order_formats_and_unknown_columns_make_no_difference(before, tmp_path):
    sheets = full()
    for rows in sheets.values():
        width = len(rows[0])
        for row in rows:
            remark = "Remark of ours" if row is rows[0] else "a remark"
            row[:] = [remark, *[None] * (width - len(row)), *reversed(row)]
    for name in ("Skills", "Bays", "Checks", "Crews", "Package hours"):
        sheets[name][1:] = sheets[name][:0:-1]
    path = write_workbook(sheets, tmp_path / "other.xlsx")
    book = openpyxl.load_workbook(path)
    book["Checks"]["B2"].font = openpyxl.styles.Font(bold=True)
    book.save(path)
    assert fingerprint_of(base_of(path)) == before


def test_an_empty_column_or_sheet_makes_no_difference(before, tmp_path):
    sheets = full()
    change(sheets, "Packages", 2, "Longest days", None)
    change(sheets, "Crews", "red", "Types", None)
    sheets["Functions"] = [["Function", "Skill"]]
    assert fingerprint_of(base_of(write_workbook(sheets, tmp_path / "other.xlsx"))) == before


@pytest.mark.parametrize(
    ("sheet", "row", "heading", "value", "name"),
    [
        ("Base", "Productivity %", "Value", 81, "Productivity %"),
        ("Base", "Weeks", "Value", 5, "Weeks"),
        ("Skills", "mechanic", "Overtime cost", 61, "mechanic"),
        ("Bay closures", "B2", "To", date(2027, 2, 4), "B2"),
        ("Packages", 3, "Days", 4, "light"),
        ("Package hours", 4, "Man-hours", 20.6, "light"),
        ("Checks", "C2", "Customer", "Aero West", "C2"),
        ("Crews", "red", "Heads", 11, "red"),
        ("Absence", "red", "Heads", 1, "red"),
        ("Shop loops", "light", "Items", 4, "light"),
    ],
)
def test_one_cell_changes_one_name(before, tmp_path, sheet, row, heading, value, name):
    sheets = full()
    change(sheets, sheet, row, heading, value)
    after = fingerprint_of(base_of(write_workbook(sheets, tmp_path / "other.xlsx")))
    changed = [
        (where, one)
        for where in before
        for one in before[where]
        if before[where][one] != after[where].get(one)
    ]
    assert changed == [(sheet, name)]


def test_own_days_and_licences_go_by_their_day_and_crew(before, tmp_path):
    sheets = full()
    sheets["Base calendar"] = [
        ["From", "To", "Worked", "Reason"],
        [date(2027, 1, 13), date(2027, 1, 14), "no", "stocktaking"],
    ]
    sheets["Licences"] = [
        ["Crew", "Skill or type", "People", "Until"],
        ["red", "mechanic", 1, date(2027, 1, 20)],
    ]
    after = fingerprint_of(base_of(write_workbook(sheets, tmp_path / "other.xlsx")))
    assert {sheet: set(after[sheet]) for sheet in set(after) - set(before)} == {
        "Base calendar": {"Wed 13 Jan 2027"},
        "Licences": {"red"},
    }
    assert {sheet: after[sheet] for sheet in before} == before


def test_every_fact_of_a_base_is_in_it():
    """Each field is changed, and must be told by the sheet or the setting that it is."""
    whole = Base("Home", date(2027, 1, 4), 4, (), (), (), (), (), (), (), ())
    before = fingerprint_of(whole)
    for field in dataclasses.fields(Base):
        value = getattr(whole, field.name)
        if isinstance(value, tuple) or field.name in NOT_IN_THE_WORKBOOK:
            continue
        other = {str: "other", int: 9, float: 0.123, bool: not value, date: date(2027, 2, 1)}.get(
            type(value), "other"
        )
        if isinstance(value, frozenset):
            other = frozenset({0, 1})
        assert fingerprint_of(whole.replace(**{field.name: other})) != before, field.name


def test_it_takes_little_room():
    """The sample quarter of 42 checks: some thousand characters, no more than the placements."""
    base = read_book(Path(__file__).parents[3] / "sample_inputs" / "quarter.xlsx").base
    assert base is not None
    assert len(json.dumps(fingerprint_of(base), indent=1)) < 10_000


def test_labour_rate_and_material_are_told_once_given_and_else_leave_no_trace(tmp_path):
    plain = base_of(write_workbook(valid(), tmp_path / "plain.xlsx"))
    before = fingerprint_of(plain)
    assert "Labour rate" not in before["Base"]
    with_rate = fingerprint_of(plain.replace(labour_rate=40.0))
    assert set(with_rate["Base"]) - set(before["Base"]) == {"Labour rate"}
    light, *others = plain.packages
    dearer = plain.replace(packages=(dataclasses.replace(light, material_cost=500.0), *others))
    after = fingerprint_of(dearer)["Packages"]
    assert {name for name in after if after[name] != before["Packages"][name]} == {light.name}


@pytest.mark.parametrize("sheet", ["Progress", "Extra work", "Ready dates"])
def test_news_of_a_check_change_its_name_on_their_sheet_alone(before, tmp_path, sheet):
    sheets = full()
    rows = {
        "Progress": [
            ["Check", "Stage", "As of", "Done %"],
            ["C3", "inspect", date(2027, 1, 4), 40],
        ],
        "Extra work": [
            ["Check", "Stage", "Skill", "Man-hours", "Reason"],
            ["C1", "open", "mechanic", 9, "modification"],
        ],
        "Ready dates": [["Check", "Stage", "Not before"], ["C1", "open", date(2027, 1, 8)]],
    }
    sheets[sheet] = rows[sheet]
    changed = []
    if sheet == "Progress":
        change(sheets, "Checks", "C3", "Remaining %", None)
        changed = [("Checks", "C3")]
    after = fingerprint_of(base_of(write_workbook(sheets, tmp_path / "other.xlsx")))
    told = [
        (where, name)
        for where in {*before, *after}
        for name in {*before.get(where, {}), *after.get(where, {})}
        if before.get(where, {}).get(name) != after.get(where, {}).get(name)
    ]
    assert sorted(told) == sorted([*changed, (sheet, str(rows[sheet][1][0]))])
