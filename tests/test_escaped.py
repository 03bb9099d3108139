"""Nothing that a file says reaches the terminal as a control character, whoever prints it.

Outside sources: ECMA-48 for escape sequences (ESC, and CSI as one C1 character, 0x9b), UAX 9 for
the marks that turn the direction of writing; both from memory.
"""

import io
import json
import subprocess
import sys
from pathlib import Path

import click
import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.console import Console

from capacity import cli
from capacity.errors import EngineError, OutputError
from capacity.escaped import EscapingStream, encodable, escaped
from capacity.messages import Level, Message
from capacity.plans.outcome import Progress
from capacity.progress_line import ProgressLine

pytestmark = pytest.mark.usefixtures("reads_once")

SAMPLES = Path(__file__).parents[1] / "sample_inputs"
HOSTILE = "\x1b]0;owned\x07\x1b[31m\x9b2J\u202eabc\u2066\ud800\x00\r\b\u200b\x7f"
STEERING = set(HOSTILE) - set("]0;owned[31m2Jabc")


def is_harmless(text: str) -> bool:
    return not set(text) & STEERING and all(c.isprintable() for c in text.replace("\n", ""))


def test_what_steers_a_terminal_is_written_out():
    assert escaped("a\x1b[31mb") == "a\\x1b[31mb"
    assert escaped("\u202e") == "\\u202e"
    assert escaped("\ud800") == "\\ud800"
    assert escaped("one\ntwo\r") == "one\\ntwo\\r"
    assert escaped("12\u00a0000\t\u20095") == "12 000  5"


@pytest.mark.parametrize("text", ["", "Łódź 3-4", "حظيرة", "整備", "a\u0301", "😀", "C:\\x"])
def test_what_people_read_stays(text):
    assert escaped(text) == text


@given(st.text(st.characters()))
def test_any_text_becomes_one_harmless_line(text):
    assert is_harmless(escaped(text))
    assert "\n" not in escaped(text)


@pytest.mark.parametrize("encoding", ["ascii", "cp1252", "utf-8", "no such", None])
def test_what_an_encoding_lacks_is_written_out(encoding):
    shown = encodable("Ł1 é", encoding)
    shown.encode("utf-8" if encoding == "utf-8" else "cp1252")
    assert shown.endswith("é" if encoding in ("cp1252", "utf-8") else "\\xe9")


def test_a_stream_keeps_its_lines_and_takes_texts_alone():
    below = io.StringIO()
    stream = EscapingStream(below)
    assert stream.write("one\n\x1btwo\n") == 9
    assert below.getvalue() == "one\n\\x1btwo\n"
    with pytest.raises(TypeError):
        stream.write(b"")


def test_a_message_is_one_line():
    assert "\n" not in str(Message(Level.ERROR, "a\nb.csv", "holds '\x1b'.", "\u202e"))


def run(*arguments: str) -> int:
    with pytest.raises(SystemExit) as ended:
        cli.main(list(arguments))
    return int(ended.value.code)


@pytest.mark.parametrize("fault", [OutputError(f"{HOSTILE} is full\nerror: no"), None])
def test_messages_of_the_command_are_escaped(fault, monkeypatch, capsys):
    def ends(*_, **__):
        click.echo(HOSTILE)
        click.echo(HOSTILE, err=True)
        if fault is not None:
            raise fault
        return 0

    monkeypatch.setattr(cli.app, "main", ends)
    run()
    shown = capsys.readouterr()
    assert is_harmless(shown.out + shown.err)
    assert "\\x1b]0;owned" in shown.out
    assert len(shown.err.splitlines()) == (2 if fault else 1)


def test_without_a_console_nothing_is_said_and_nothing_breaks(monkeypatch):
    monkeypatch.setattr(sys, "stdout", None)
    monkeypatch.setattr(sys, "stderr", None)
    assert run("verify", str(SAMPLES / "tiny.xlsx")) == 0


def test_wrong_usage_shows_what_was_typed_escaped(capsys):
    assert run("plan", "book.xlsx", "--seconds", HOSTILE) == 64
    assert run("plan", "book.xlsx", "--\x1b[31m") == 64
    assert run("\x1b[31m") == 64
    shown = capsys.readouterr().err
    assert "\\x1b" in shown
    assert is_harmless(shown)


def test_a_fault_of_the_program_is_told_escaped(monkeypatch, capsys):
    def breaks(*_, **__):
        raise EngineError(HOSTILE)

    monkeypatch.setattr(cli.app, "main", breaks)
    assert run("verify") == 70
    told = capsys.readouterr().err
    assert "EngineError" in told
    assert is_harmless(told)


def test_the_progress_line_escapes_the_currency():
    console = Console(force_terminal=False, width=200, record=True)
    with ProgressLine("E\u202e\x1b[31m", 60, console) as line:
        line.show(Progress(1.0, 0, 1000.0, None, None, "first draft"))
    assert is_harmless(console.export_text())


def test_names_from_workbook_and_plan_file_are_escaped(tmp_path, capsys):
    book = openpyxl.load_workbook(SAMPLES / "tiny.xlsx")
    sheet = book["Checks"]
    assert sheet["A2"].value == "T1"
    sheet["A2"].value = "T\u202e1"
    book["Base"]["A3"].value = "Wh\u2066at"
    path = tmp_path / "tiny.xlsx"
    book.save(path)
    run("verify", str(path))
    plan = tmp_path / "plan.json"
    plan.write_text(
        json.dumps(
            {"outcome": "\x1b[2J", "placements": [], "not_placed": ["\x1b[31m\u202e\ud800"]}
        ),
        encoding="utf-8",
    )
    assert run("compare", str(path), "--plan", str(plan), "--plan", str(plan)) == 1
    shown = capsys.readouterr()
    assert is_harmless(shown.out + shown.err)


def test_the_names_of_csv_files_are_escaped(tmp_path, capsys):
    folder = tmp_path / "tables"
    folder.mkdir()
    (folder / "Ch\x1b[31meck\n\u202es.csv").write_text("Check\n\x1b[31m\n", encoding="utf-8")
    assert run("verify", str(folder)) == 1
    shown = capsys.readouterr()
    assert is_harmless(shown.out + shown.err)


def test_a_terminal_of_another_encoding_is_no_fault(tmp_path):
    done = subprocess.run(
        [sys.executable, "-m", "capacity", "verify", "Ł\x1b.xlsx"],
        capture_output=True,
        check=False,
        cwd=tmp_path,
        env={"PYTHONIOENCODING": "cp1252", "PATH": "", "PYTHONPATH": str(SAMPLES.parent)},
    )
    assert done.returncode == 1
    assert b"\\u0141\\x1b.xlsx" in done.stderr
    assert b"\x1b" not in done.stderr
