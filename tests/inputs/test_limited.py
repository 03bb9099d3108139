"""Files read in a child of bounded time and memory: same answers, and limits that hold."""

import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

from capacity.child_process import python_command
from capacity.errors import InputError
from capacity.inputs import limited, read_book
from capacity.inputs.enquiries_workbook import enquiries_and_messages
from capacity.inputs.limited_child import Limits
from capacity.inputs.reading.edited_copy import SheetEdit, raw_book, sheet_tables
from capacity.inputs.reading.spliced_copy import spliced_copy
from tests.faults.running import are_gone, is_alive
from tests.inputs.books import change, the_error, valid, write_folder, write_workbook


def test_a_child_reads_what_this_process_reads(tmp_path):
    path = write_workbook(valid(), tmp_path / "book.xlsx")
    assert limited.read_book(path) == read_book(path)
    assert limited.sheet_tables(path, ["Checks"]) == sheet_tables(path, ["Checks"])
    edits = [SheetEdit("Checks", {2: {"Aircraft": "another"}})]
    content, book = limited.edited(path, edits)
    assert content == spliced_copy(path, edits)
    copy = tmp_path / "copy.xlsx"
    copy.write_bytes(content)
    assert read_book(copy) == book
    assert limited.raw_book(path) == raw_book(path)
    base = read_book(path).base
    assert limited.enquiries_and_messages(path, base) == enquiries_and_messages(path, base)


def test_a_question_larger_than_a_pipe_reaches_a_child_that_is_slow_to_begin(monkeypatch):
    """A child takes longer to begin than this looks for its answer, as on a busy machine."""
    monkeypatch.setattr(limited, "_SECONDS_BETWEEN_LOOKS", 0.001)
    monkeypatch.setattr(limited, "WALL_SECONDS", 60)
    book = limited.read_held(Path("next.xlsx"), b"x" * 2_000_000)
    assert "not an .xlsx workbook" in book.messages[0].what


def test_errors_come_back_as_they_are(tmp_path):
    sheets = valid()
    change(sheets, "Checks", 2, "Type", "T99")
    path = write_workbook(sheets, tmp_path / "book.xlsx")
    assert limited.read_book(path) == read_book(path)
    missing = tmp_path / "none.xlsx"
    assert limited.read_book(missing) == read_book(missing)
    with pytest.raises(InputError, match="cannot be opened"):
        limited.sheet_tables(missing, ["Checks"])


def test_a_file_that_takes_too_much_memory_is_refused(tmp_path, monkeypatch):
    monkeypatch.setattr(limited, "LIMITS", Limits(20, 2**29))
    folder = write_folder(valid(), tmp_path / "book")
    with (folder / "Checks.csv").open("a", encoding="utf-8") as stream:
        stream.write("xy," * 5_000_000)
    message = the_error(limited.read_book(folder))
    assert message.what == "the file takes more than 0.5 GiB of memory to read, and is not read."


def test_a_file_that_takes_too_long_is_refused(tmp_path, monkeypatch):
    monkeypatch.setattr(limited, "LIMITS", Limits(1, 2**30))
    folder = write_folder(valid(), tmp_path / "book")
    # Each sheet is just small enough to be read whole; all of them take several seconds.
    for sheet in folder.glob("*.csv"):
        with sheet.open("a", encoding="utf-8") as stream:
            stream.write(("N1," * 190 + "\n") * 2_500)
    message = the_error(limited.read_book(folder))
    assert "takes more than 1 s of processor time" in message.what


def test_the_reading_ends_when_nobody_waits_for_it(tmp_path):
    folder = write_folder(valid(), tmp_path / "book")
    with (folder / "Checks.csv").open("a", encoding="utf-8") as stream:
        stream.write(("N1," * 190 + "\n") * 15_000)
    with pytest.raises(limited.NoLongerWantedError):
        limited.read_book(folder, lambda: False)


WAITS = """
import os, subprocess, sys
from capacity.child_process import python_command
child = subprocess.Popen(python_command("capacity.inputs.limited_child", str(os.getpid())))
print(child.pid, flush=True)
child.wait()
"""


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="needs /proc")
def test_the_reading_ends_with_the_process_that_waits_for_it():
    """By kill -9; its standard input stays open, so that it could go on for ever."""
    reading, writing = os.pipe()
    with subprocess.Popen(
        [sys.executable, "-c", WAITS], stdin=reading, stdout=subprocess.PIPE, text=True
    ) as waiting:
        try:
            child = int(waiting.stdout.readline())
            time.sleep(0.5)
            assert is_alive(child)
            waiting.kill()
            waiting.wait()
            assert are_gone({child})
        finally:
            os.close(writing)
            os.close(reading)


def test_no_file_beside_the_workbook_runs(tmp_path):
    """``python -m`` would put the working folder first, and run what lies there."""
    write_workbook(valid(), tmp_path / "book.xlsx")
    for name in ("random", "zipfile", "numpy", "capacity", "openpyxl", "runpy"):
        (tmp_path / f"{name}.py").write_text("open('it ran', 'w')\n", encoding="utf-8")
    done = subprocess.run(
        python_command("capacity", "verify", "book.xlsx"),
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stdout.endswith("0 errors, 0 warnings in book.xlsx\n")
    assert not (tmp_path / "it ran").exists()
