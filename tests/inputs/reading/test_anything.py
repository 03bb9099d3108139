"""Whatever a person does to the cells, reading answers with a book and never raises."""

import tempfile
from datetime import date, datetime, time, timedelta
from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from capacity.inputs import Book, read_book
from capacity.messages import Level
from tests.inputs.books import read, valid, with_equipment, with_shops, write_folder

NAMES = ["C1", "C3", "B1", "T30", "light", "open", "inspect", "mechanic", "red", "days", "D", "-"]
CELLS = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-(10**12), 10**12),
    st.floats(allow_nan=True, allow_infinity=True),
    st.sampled_from([*NAMES, "fixed", "option", "#REF!", "=1+1", "yes", "open, close", "1e999"]),
    st.text(st.characters(exclude_categories=["Cs"], min_codepoint=32), max_size=12),
    st.dates(date(1900, 3, 1), date(2200, 1, 1)),
    st.datetimes(datetime(1950, 1, 1), datetime(2100, 1, 1)),
    st.times().map(lambda value: time(value.hour, value.minute)),
    st.integers(0, 10**6).map(lambda seconds: timedelta(seconds=seconds)),
)


@st.composite
def mutations(draw):
    """Return valid sheets with some cells, rows or sheets changed."""
    sheets = with_shops(with_equipment(valid()))
    for _ in range(draw(st.integers(1, 5))):
        title = draw(st.sampled_from(sorted(sheets)))
        rows = sheets[title]
        row = draw(st.integers(0, len(rows) - 1))
        what = draw(st.sampled_from(["cell", "cell", "cell", "drop row", "repeat row"]))
        if what == "cell":
            rows[row][draw(st.integers(0, len(rows[row]) - 1))] = draw(CELLS)
        elif what == "repeat row":
            rows.append(list(rows[row]))
        elif len(rows) > 1:
            del rows[row]
    return sheets


def answers(book: Book) -> None:
    """See that a book is a base without errors, or errors without a base."""
    spoiled = any(message.level is Level.ERROR for message in book.messages)
    assert (book.base is None) == spoiled
    assert all(message.where and message.what for message in book.messages)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(mutations())
def test_any_change_of_a_workbook_gives_a_book(sheets):
    with tempfile.TemporaryDirectory() as folder:
        answers(read(sheets, Path(folder)))


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(mutations())
def test_any_change_of_csv_files_gives_a_book(sheets):
    with tempfile.TemporaryDirectory() as folder:
        answers(read_book(write_folder(sheets, Path(folder) / "tables")))
