"""Single cells: every fault is told with its cell and what to do, and the good ones pass."""

from datetime import date, datetime, time, timedelta

import pytest

from tests.inputs.books import change, errors, read, the_error, valid, with_shops

NUMBER_FAULTS = [
    ("1,200", "the text '1,200' where a number is wanted"),
    ("12", "the text '12' where a number is wanted"),
    ("12 m", "the text '12 m'"),
    ("nan", "the text 'nan'"),
    (True, "the truth value TRUE"),
    (-1, "is -1"),
    ("inf", "the text 'inf'"),
    (date(2027, 1, 1), "a date or time, where a number is wanted"),
    (time(7, 30), "'07:30:00', a date or time"),
    (2_000_000, "is 2,000,000"),
    ("#REF!", "the spreadsheet error #REF!"),
    (None, "is blank"),
]


@pytest.mark.parametrize(("value", "what"), NUMBER_FAULTS, ids=[str(v) for v, _ in NUMBER_FAULTS])
def test_a_number_cell_takes_numbers_only(tmp_path, value, what):
    sheets = valid()
    where = change(sheets, "Package hours", 3, "Man-hours", value)
    message = the_error(read(sheets, tmp_path))
    assert message.where == where == "Package hours!D3"
    assert message.what.startswith("Man-hours ")
    assert what in message.what


DATE_FAULTS = [
    ("04/01/2027", "not a date as year-month-day"),
    ("4 Jan 2027", "not a date as year-month-day"),
    ("2027-02-30", "not a date as year-month-day"),
    ("20270104", "bare number"),
    (46391, "the bare number 46391"),
    (datetime(2027, 1, 4, 13, 30), "2027-01-04 13:30:00, a date with a time of day"),
    ("2027-01-04 13:30", "a date with a time of day"),
    (True, "'TRUE' where a date is wanted"),
    (time(6, 0), "where a date is wanted"),
    (date(1927, 1, 4), "the year 1927"),
    ("#N/A", "the spreadsheet error #N/A"),
]


@pytest.mark.parametrize(("value", "what"), DATE_FAULTS, ids=[str(v) for v, _ in DATE_FAULTS])
def test_a_date_cell_takes_whole_days_only(tmp_path, value, what):
    sheets = valid()
    where = change(sheets, "Checks", "C1", "Latest in", value)
    message = the_error(read(sheets, tmp_path))
    assert message.where == where == "Checks!I2"
    assert what in message.what


@pytest.mark.parametrize(
    "value", ["2027-01-12", " 2027-01-12 ", datetime(2027, 1, 12), "2027-01-12 00:00:00"]
)
def test_iso_text_and_midnight_are_dates(tmp_path, value):
    sheets = valid()
    change(sheets, "Checks", "C1", "Latest in", value)
    base = read(sheets, tmp_path).base
    assert base is not None
    assert base.checks[0].latest_in == date(2027, 1, 12)


@pytest.mark.parametrize(
    ("sheet", "row", "heading", "value", "what"),
    [
        ("Checks", "C1", "Status", "maybe", "Status holds 'maybe'"),
        ("Checks", "C1", "Third party", "perhaps", "Third party holds 'perhaps'"),
        ("Checks", "C1", "Aircraft", "x" * 201, "has 201 characters"),
        ("Checks", "C1", "Customer", "two\nlines", "a line break or another control character"),
        ("Checks", "C1", "Aircraft", True, "the truth value TRUE, not text"),
        ("Checks", "C1", "Aircraft", date(2027, 1, 2), "a date or time, not text"),
        ("Checks", "C3", "Remaining %", 0, "is 0%"),
        ("Checks", "C3", "Remaining %", 101, "is 101%"),
        ("Crews", "red", "Heads", 2.5, "is 2.5, which is not a whole number"),
        ("Crews", "red", "Employment", "loaned", "Employment holds 'loaned'"),
        ("Crews", "red", "Skills", "mechanic,,x", "with an empty place"),
        ("Crews", "red", "Skills", "mechanic, mechanic", "names one thing twice"),
        ("Crews", "red", "Types", "T30, T30", "names one thing twice"),
        ("Bays", "B1", "Work", "maintenance, maintenance", "names one thing twice"),
        ("Bays", "B1", "Max span m", 0, "is 0"),
        ("Packages", 2, "Days", 0, "is 0"),
        ("Packages", 2, "Days", 1.5, "not a whole number"),
        ("Shift patterns", "days", "Cycle", "   ", "Cycle is blank"),
        ("Shifts", "D", "Start", "25:00", "Start holds '25:00'"),
        ("Shifts", "D", "Start", "early", "where a time of day is wanted"),
        ("Shifts", "D", "Hours", 25, "Hours is 25"),
        ("Skills", "mechanic", "Licence", "D", "Licence holds 'D'"),
        ("Shops", "cabin shop", "Items per day", 0, "Items per day is 0"),
        ("Shops", "cabin shop", "Items per day", -2, "Items per day is -2"),
        ("Shops", "cabin shop", "Items per day", None, "Items per day is blank"),
        ("Shop loops", 2, "Items", 0, "Items is 0"),
        ("Shop loops", 2, "Items", 1.5, "not a whole number"),
        ("Shop loops", 2, "Items", None, "Items is blank"),
        ("Shop loops", 2, "Back for", None, "Back for is blank"),
        ("Base", "Weeks", "Value", 0, "Weeks is 0"),
        ("Base", "Weeks", "Value", 111, "Weeks is 111"),
        ("Base", "Weeks", "Value", 4.5, "not a whole number"),
        ("Base", "Weeks", "Value", None, "Weeks is blank"),
        ("Base", "Weeks", "Value", "#DIV/0!", "the spreadsheet error #DIV/0!"),
        ("Base", "Longest wait days", "Value", -1, "Longest wait days is -1"),
        ("Base", "Longest wait days", "Value", 2.5, "not a whole number"),
        ("Base", "Productivity %", "Value", 0, "Productivity % is 0%"),
        ("Base", "Productivity %", "Value", 120, "Productivity % is 120%"),
        ("Base", "First day", "Value", 46391, "bare number"),
        ("Base", "Working days", "Value", "Mon-Fry", "'Fry' is not a weekday"),
    ],
)
def test_each_cell_type_refuses_what_it_cannot_mean(tmp_path, sheet, row, heading, value, what):
    sheets = with_shops(valid())
    sheets["Base"].append(["Longest wait days", 2])
    where = change(sheets, sheet, row, heading, value)
    message = the_error(read(sheets, tmp_path))
    assert message.where == where
    assert what in message.what


@pytest.mark.parametrize(
    ("value", "what", "remedy"),
    [
        ("ZZ", "no holidays are known for that country", "ISO 3166"),
        ("Germany", "no holidays are known for that country", "such as DE"),
        ("GB-SCOT", "a subdivision of GB that is not known", "Did you mean 'GB-SCT'?"),
        ("DE-XX", "a subdivision of DE that is not known", "'BY'"),
    ],
)
def test_unknown_holiday_places_are_refused(tmp_path, value, what, remedy):
    sheets = valid()
    sheets["Base"].append(["Holidays", value])
    message = the_error(read(sheets, tmp_path))
    assert message.where == "Base!B8"
    assert what in message.what
    assert remedy in message.remedy


def test_working_time_rules_are_a_shipped_set_or_none(tmp_path):
    for written, chosen in (
        ("None", None),
        ("good-practice", "good-practice"),
        ("Working-Time-Directive", "working-time-directive"),
        ("one-day-in-seven-strict", "one-day-in-seven-strict"),
        ("one-day-in-seven-equivalent", "one-day-in-seven-equivalent"),
    ):
        sheets = valid()
        sheets["Base"].append(["Working-time rules", written])
        base = read(sheets, tmp_path).base
        assert base is not None
        assert (base.working_time_rules, base.working_time_mode) == (chosen, "warn")


def test_unknown_working_time_rules_and_modes_are_refused(tmp_path):
    sheets = valid()
    sheets["Base"].append(["Working-time rules", "EU"])
    message = the_error(read(sheets, tmp_path))
    assert message.where == "Base!B8"
    assert "Working-time rules holds 'EU'" in message.what
    assert "good-practice, working-time-directive" in message.remedy
    assert message.remedy.endswith("none.")
    sheets["Base"][-1] = ["Working-time mode", "strict"]
    message = the_error(read(sheets, tmp_path))
    assert "Working-time mode holds 'strict'" in message.what
    assert message.remedy == "Type one of: off, warn, hold."


def test_the_working_time_mode_is_read(tmp_path):
    for mode in ("off", "warn", "hold"):
        sheets = valid()
        sheets["Base"].append(["Working-time mode", mode])
        base = read(sheets, tmp_path).base
        assert base is not None
        assert base.working_time_mode == mode


@pytest.mark.parametrize(
    ("text", "weekdays"),
    [
        ("Mon-Sun", range(7)),
        ("mon-fri", range(5)),
        ("Mon-Thu, Sat", (0, 1, 2, 3, 5)),
        ("Sun-Thu", (6, 0, 1, 2, 3)),
        ("Monday - Wednesday", (0, 1, 2)),
        ("Sun", (6,)),
    ],
)
def test_working_days_are_ranges_and_lists_of_weekdays(tmp_path, text, weekdays):
    sheets = valid()
    change(sheets, "Base", "Working days", "Value", text)
    base = read(sheets, tmp_path).base
    assert base is not None
    assert base.working_weekdays == frozenset(weekdays)


def test_numeric_ids_are_the_text_a_person_sees(tmp_path):
    sheets = valid()
    change(sheets, "Bays", "B2", "Bay", 2.0)
    change(sheets, "Bay closures", 2, "Bay", 2)
    change(sheets, "Checks", "C3", "Fixed bay", "2")
    base = read(sheets, tmp_path).base
    assert base is not None
    assert [bay.name for bay in base.bays] == ["B1", "2"]
    assert base.closures[0].bay == base.checks[2].fixed_bay == "2"


def test_names_with_commas_cannot_be_listed(tmp_path):
    sheets = valid()
    where = change(sheets, "Aircraft types", "T40", "Type", "T40, long")
    found = errors(read(sheets, tmp_path))
    assert found[0].where == where
    assert "cannot stand in a comma list" in found[0].what


def test_times_of_day_come_as_time_text_or_duration(tmp_path):
    for start in (time(22, 15), "22:15", timedelta(hours=22, minutes=15)):
        sheets = valid()
        change(sheets, "Shifts", "D", "Start", start)
        base = read(sheets, tmp_path).base
        assert base is not None
        assert base.shifts[0].start == time(22, 15)


def test_blank_optional_cells_take_their_defaults(tmp_path):
    sheets = valid()
    sheets["Base"] = sheets["Base"][:4]
    base = read(sheets, tmp_path).base
    assert base is not None
    assert (base.productivity, base.longest_delay_days, base.overload_cost) == (0.75, 28, 500)
    assert base.longest_wait_days == 3
    assert base.working_weekdays == frozenset(range(7))
    assert (base.currency, base.holidays) == ("EUR", None)
    assert base.checks[0].findings_factor == 1
    assert base.checks[0].remaining is None


@pytest.mark.parametrize("days", [0, 5])
def test_the_longest_wait_reaches_the_facts(tmp_path, days):
    sheets = valid()
    sheets["Base"].append(["Longest wait days", days])
    book = read(sheets, tmp_path)
    assert book.messages == ()
    assert book.base is not None
    assert book.base.longest_wait_days == days


def test_faults_of_all_sheets_come_at_once(tmp_path):
    sheets = valid()
    expected = {
        change(sheets, "Base", "Weeks", "Value", "four"),
        change(sheets, "Skills", "mechanic", "Overtime cost", -5),
        change(sheets, "Bays", "B1", "Max tail m", "high"),
        change(sheets, "Checks", "C1", "Earliest in", "soon"),
        change(sheets, "Checks", "C1", "Latest in", 5),
        change(sheets, "Shifts", "D", "Hours", None),
    }
    assert {message.where for message in errors(read(sheets, tmp_path))} == expected


def test_a_faulty_row_makes_no_further_noise(tmp_path):
    """Names of faulty rows count as known: only the cell itself is told."""
    for sheet, row, heading, value in (
        ("Packages", 3, "Days", "three"),
        ("Aircraft types", "T30", "Span m", "wide"),
        ("Bays", "B2", "Max span m", "wide"),
        ("Skills", "mechanic", "Overtime cost", "dear"),
        ("Crews", "red", "Heads", "many"),
        ("Shifts", "D", "Hours", "long"),
        ("Shift patterns", "days", "Cycle", None),
        ("Package hours", 2, "Man-hours", "many"),
    ):
        sheets = valid()
        where = change(sheets, sheet, row, heading, value)
        book = read(sheets, tmp_path)
        assert [message.where for message in book.messages] == [where]


def test_a_column_of_faults_is_counted_rather_than_listed(tmp_path):
    sheets = valid()
    sheets["Package hours"] += [["light", "open", f"skill {n}", "many"] for n in range(80)]
    found = errors(read(sheets, tmp_path))
    assert len(found) == 51
    assert found[-1].what == "30 more cells of 'Man-hours' are faulty."


# Pairs that read the same; the code points are those of the Unicode standard.
@pytest.mark.parametrize(
    "written",
    ["T\u00a030", "T  30", "\ufeffT 30", "T \u200b30", "T\u200930"],
    ids=["no-break blank", "two blanks", "byte order mark", "blank of no width", "thin blank"],
)
def test_names_that_look_the_same_are_the_same(tmp_path, written):
    sheets = valid()
    change(sheets, "Aircraft types", "T30", "Type", "T 30")
    for row in sheets["Checks"][1:]:
        row[2] = written if row[2] == "T30" else row[2]
    base = read(sheets, tmp_path).base
    assert base is not None
    assert {check.type for check in base.checks} <= {"T 30", "T40"}


def test_a_letter_with_its_accent_apart_is_the_same_letter(tmp_path):
    sheets = valid()
    change(sheets, "Bays", "B2", "Bay", "H\u00e4nger")
    change(sheets, "Bay closures", 2, "Bay", "Ha\u0308nger")
    change(sheets, "Checks", "C3", "Fixed bay", "Ha\u0308nger")
    base = read(sheets, tmp_path).base
    assert base is not None
    assert base.closures[0].bay == base.bays[1].name == "H\u00e4nger"


def test_a_name_that_nobody_sees_is_refused(tmp_path):
    sheets = valid()
    where = change(sheets, "Checks", "C1", "Aircraft", "\u200b\u200b")
    message = the_error(read(sheets, tmp_path))
    assert message.where == where
    assert "only characters that nobody sees" in message.what


def test_signs_beyond_the_common_letters_are_kept(tmp_path):
    sheets = valid()
    name = "\u2708\ufe0f \U0001f469\u200d\U0001f527 \u4f60"  # a joined picture is one sign
    change(sheets, "Checks", "C1", "Customer", name)
    base = read(sheets, tmp_path).base
    assert base is not None
    assert base.checks[0].customer == name


def test_bounds_are_written_out(tmp_path):
    sheets = valid()
    change(sheets, "Crews", "red", "Heads", 1e9)
    change(sheets, "Skills", "mechanic", "Overtime cost", -1)
    told = {f.where: f"{f.what} {f.remedy}" for f in errors(read(sheets, tmp_path))}
    assert told == {
        "Crews!C2": "Heads is 1,000,000,000. It must be at least 0 and at most 10,000.",
        "Skills!B2": "Overtime cost is -1. It must be at least 0 and at most 1,000,000,000.",
    }


def test_a_name_that_became_a_date_is_shown_as_one(tmp_path):
    sheets = valid()
    change(sheets, "Checks", "C1", "Check", date(2027, 1, 3))
    found = errors(read(sheets, tmp_path))
    assert found[0].what == "Check holds '2027-01-03', which is a date or time, not text."
