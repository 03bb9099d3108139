"""Enquiries typed into a table on a page, and the file to fill in: what may be left blank."""

import io
from datetime import date
from pathlib import Path

import openpyxl
import pytest

from capacity.facts import Status
from capacity.inputs.enquiries_workbook import UNREADABLE, enquiries_and_messages, rows_and_messages
from capacity.inputs.reading.sheets import CheckRow
from capacity.inputs.typed_enquiries import TYPED, typed_enquiries
from capacity.messages import Level
from capacity.template.enquiries_file import enquiries_file, note_of_column
from tests.reference import stories
from tests.reference.stories import bays, day, visit

BASE = stories.base(bays(1), visit("A", 5, 0, 0))
LEAST = {"Type": "Twin", "Package": "5 days", "Earliest in": day(3)}
OF_CHECKS_ALONE = {
    "Status", "Fixed bay", "Fixed in", "Remaining %", "Held", "Planned in", "Planned out"
}  # fmt: skip


def errors(*rows: dict[str, object]) -> list[str]:
    _, _, messages = typed_enquiries(rows, BASE)
    assert all(message.remedy for message in messages)
    return [f"{m.where}: {m.what}" for m in messages if m.level is Level.ERROR]


def test_the_columns_are_those_of_a_check_but_for_what_only_a_check_has() -> None:
    assert set(TYPED) == set(CheckRow.headings()) - OF_CHECKS_ALONE
    assert all(map(note_of_column, TYPED))


def test_type_package_and_earliest_in_are_enough() -> None:
    (one,), untold, messages = typed_enquiries([LEAST], BASE)
    assert (one.name, one.aircraft, one.status) == ("Enquiry 1", "Enquiry 1", Status.OPTION)
    assert (one.earliest_in, one.latest_in) == (day(3), BASE.last_in_day)
    assert untold == {"Enquiry 1"}
    assert all(message.level is not Level.ERROR for message in messages)


def test_blank_rows_count_and_a_name_that_is_taken_is_not_given() -> None:
    named = {**LEAST, "Check": "Enquiry 3", "Latest in": day(9)}
    enquiries, untold, _ = typed_enquiries([named, {}, LEAST], BASE)
    assert [one.name for one in enquiries] == ["Enquiry 3", "Enquiry 3-2"]
    assert untold == {"Enquiry 3-2"}


def test_every_error_is_told_at_once_with_row_and_column() -> None:
    told = errors(
        {**LEAST, "Check": "A", "Type": "Tvin"},
        {},
        {"Check": "B", "Package": "5 days", "Price": "dear", "Earliest in": "tomorrow"},
        {**LEAST, "Check": "C", "Latest in": day(1), "Agreed out": day(9), "Agreed days": 4.0},
    )
    places = [line.partition(": ")[0] for line in told]
    assert sorted(places) == sorted(
        [
            "row 1, Type", "row 1, Check", "row 3, Type", "row 3, Price", "row 3, Earliest in",
            "row 4, Latest in", "row 4, Agreed days",
        ]
    )  # fmt: skip


def test_a_cell_that_cannot_be_read_hides_no_other_fault_of_its_row() -> None:
    far = BASE.last_in_day.replace(year=2040)
    told = errors(
        {**LEAST, "Check": "A", "Package": "six days", "Price": "dear", "Agreed out": day(1)},
        {"Check": "B", "Earliest in": far, "Latest in": "later", "Package": "5 days"},
    )
    places = [line.partition(": ")[0] for line in told]
    assert sorted(places) == [
        "row 1, Agreed out", "row 1, Check", "row 1, Package", "row 1, Price", "row 2, Earliest in",
        "row 2, Latest in", "row 2, Type",
    ]  # fmt: skip


def test_numbers_and_dates_typed_as_text_count() -> None:
    row = {**LEAST, "Earliest in": day(3).isoformat(), "Price": "1200", "Agreed days": "7"}
    (one,), _, _ = typed_enquiries([row], BASE)
    assert (one.earliest_in, one.price, one.agreed_days) == (day(3), 1200.0, 7)


def test_what_is_for_fixed_checks_is_told_where_a_file_has_it() -> None:
    (told,) = errors({**LEAST, "Fixed bay": "N"})
    assert told == "row 1, Fixed bay: Fixed bay is for fixed checks, not for an enquiry."


def test_the_file_to_fill_in_is_read_again_as_it_was_typed(tmp_path: Path) -> None:
    row = {**LEAST, "Check": "O1", "Aircraft": "=1+1", "Latest in": day(9), "Third party": "yes"}
    path = tmp_path / "enquiries.xlsx"
    path.write_bytes(enquiries_file(BASE, [row]))
    (one,), messages = enquiries_and_messages(path, BASE)
    assert all(message.level is not Level.ERROR for message in messages)
    assert (one.name, one.aircraft, one.third_party) == ("O1", "=1+1", True)
    assert rows_and_messages(path, BASE)[0] == (row,)


def test_the_empty_file_offers_what_the_base_has(tmp_path: Path) -> None:
    book = openpyxl.load_workbook(io.BytesIO(enquiries_file(BASE)))
    assert book.sheetnames == ["Enquiries", "Lists"]
    sheet = book["Enquiries"]
    assert tuple(cell.value for cell in sheet[1]) == TYPED
    assert all(cell.comment is not None for cell in sheet[1])
    offers = {str(rule.sqref): rule.formula1 for rule in sheet.data_validations.dataValidation}
    assert offers["B2:B2000"] == "'Lists'!$A$2:$A$2"
    assert [cell.value for cell in book["Lists"]["A"] if cell.value] == ["Type", "Twin"]
    path = tmp_path / "empty.xlsx"
    path.write_bytes(enquiries_file(BASE))
    (message,) = enquiries_and_messages(path, BASE)[1]
    assert "has no rows" in message.what


@pytest.mark.parametrize(
    ("typed", "kept"),
    [("#REF!", UNREADABLE), (date(2027, 1, 4), date(2027, 1, 4)), (True, "yes"), (12.5, 12.5)],
)
def test_rows_of_a_file_are_kept_as_they_stand(tmp_path: Path, typed, kept) -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "Enquiries"
    sheet.append(["Check", "customer ", "Notes"])
    sheet.append(["O1", typed, "not read"])
    book.save(tmp_path / "o.xlsx")
    (row,), messages = rows_and_messages(tmp_path / "o.xlsx", BASE)
    assert row == {"Check": "O1", "Customer": kept}
    assert any("'Notes' is not known" in message.what for message in messages)
