"""Every option of every command meets values that no plan can be made with."""

import contextlib
import io
import math
from datetime import datetime
from pathlib import Path
from unittest.mock import patch

import click
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from capacity.cli import QUESTIONS, app, main
from capacity.commands.exits import Exit
from capacity.commands.option_types import FIRST_YEAR, LAST_YEAR
from capacity.inputs.enquiries_workbook import enquiries_and_messages
from capacity.inputs.read_input import read_book

TINY = str(Path(__file__).parents[1] / "sample_inputs" / "tiny.xlsx")
COMMANDS = {name: app.get_command(None, name) for name in QUESTIONS}
OPTIONS = [
    (name, option)
    for name, command in COMMANDS.items()
    for option in command.params
    if isinstance(option, click.Option) and not option.is_flag
]
NUMBERS = ["nan", "-nan", "NaN", "inf", "-inf", "1e300", "-1e300", "1e999", "-1", "9" * 5000]
DAYS = ["9999-12-31", "0001-01-01", "1999-12-31", "2100-01-01", "2027-02-30", "٢٠٢٧-01-01"]
TEXTS = ["", " ", "\ud800", "\x1b[31m", "a\nb", "=1+1", "x" * 5000, "nul", "😀" * 90]
VALUES = st.one_of(st.sampled_from([*NUMBERS, *DAYS, *TEXTS]), st.floats().map(str), st.text())
MOST = 1e9


@pytest.fixture(autouse=True, scope="module")
def read_here():
    """Read without the child process, which has tests of its own, and the sample only once."""
    sample = read_book(Path(TINY))

    def reads(path, **options):
        return sample if str(path) == TINY else read_book(path, **options)

    with pytest.MonkeyPatch.context() as patches:
        patches.setattr("capacity.commands.common.read_book", reads)
        patches.setattr("capacity.commands.verify.read_book", reads)
        patches.setattr(
            "capacity.commands.asked_enquiries.enquiries_and_messages", enquiries_and_messages
        )
        yield


def ended(*arguments: str) -> int:
    with pytest.raises(SystemExit) as end:
        main(list(arguments))
    return int(end.value.code)


def required(command: click.Command, but: click.Option) -> list[str]:
    """Return a command's arguments and required options without one of them."""
    typed: list[str] = []
    for one in command.params:
        if isinstance(one, click.Argument):
            typed.append(TINY)
        elif one.required and one is not but:
            typed += [one.opts[0], "2027-01-04" if isinstance(one.type, click.DateTime) else TINY]
    return typed


def short(value: str) -> str:
    return ascii(value)[:12]


@settings(max_examples=120)
@given(st.sampled_from(OPTIONS), VALUES)
def test_an_option_is_refused_or_a_value_to_plan_with(chosen, value):
    name, option = chosen
    command = COMMANDS[name]
    seen = {}

    def takes(**values):
        seen.update(values)
        return Exit.PLANNED

    with patch.object(command, "callback", takes), contextlib.redirect_stderr(io.StringIO()):
        code = ended(name, *required(command, option), f"{option.opts[0]}={value}")
    assert code in (Exit.PLANNED, Exit.USAGE)
    assert (code == Exit.PLANNED) == bool(seen)
    for told in seen.values():
        if isinstance(told, float):
            assert math.isfinite(told)
            assert 0 <= told <= MOST
        if isinstance(told, datetime):
            assert FIRST_YEAR <= told.year <= LAST_YEAR


@pytest.mark.parametrize("value", ["nan", "inf", "1e300", "9" * 5000], ids=short)
@pytest.mark.parametrize(
    "option",
    [o for o in OPTIONS if isinstance(o[1].type, click.types._NumberRangeBase)],
    ids=lambda option: f"{option[0]} {option[1].opts[0]}",
)
def test_a_number_that_is_none_is_wrong_usage(option, value, capsys):
    name, one = option
    arguments = (name, *required(COMMANDS[name], one), one.opts[0], value)
    assert ended(*arguments) == Exit.USAGE
    assert "Traceback" not in capsys.readouterr().err


@pytest.mark.parametrize("name", ["😀" * 90, "x" * 5000, "a\0b", "no/" * 2000], ids=short)
@pytest.mark.parametrize("option", ["--out", "--plan-out", "--calendar"])
def test_a_file_that_cannot_be_is_told_before_the_work(option, name, capsys):
    ending = {"--out": "xlsx", "--plan-out": "json", "--calendar": "ics"}[option]
    code = ended("plan", "nowhere.xlsx", option, f"{name}.{ending}")
    assert code in (Exit.USAGE, Exit.CANNOT_WRITE)
    assert "Traceback" not in capsys.readouterr().err


def test_links_in_a_ring_are_told(tmp_path, capsys):
    ring = tmp_path / "plan.xlsx"
    ring.symlink_to(ring)
    assert ended("plan", TINY, "--out", str(ring)) == Exit.USAGE
    assert ended("plan", str(ring), "--seconds", "1") == Exit.INPUT_ERRORS
    assert ended("explain", TINY, "--plan", str(ring)) == Exit.INPUT_ERRORS


@pytest.mark.parametrize("name", ["😀" * 90, "x" * 5000, "a\0b", "\ud800", "", "\x1b"], ids=short)
@pytest.mark.parametrize(
    "arguments",
    [
        ("verify", "{}"),
        ("plan", "{}"),
        ("plan", TINY, "--plan", "{}"),
        ("explain", TINY, "--plan", "{}"),
        ("compare", TINY, "--plan", "{}", "--plan", "{}"),
        ("replan", TINY, "--plan", "{}", "--today", "2027-01-04"),
        ("replan", TINY, "--plan", TINY, "--today", "2027-01-04", "--old-workbook", "{}"),
        ("enquiry", TINY, "--enquiries", "{}"),
        ("crews", TINY, "--plan", TINY, "--calendars", "{}"),
    ],
    ids=lambda arguments: " ".join(a for a in arguments if a != TINY),
)
def test_no_name_of_a_file_to_read_breaks_anything(arguments, name, capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    code = ended(*(part.format(name) for part in arguments))
    assert code in (Exit.USAGE, Exit.INPUT_ERRORS)


@pytest.mark.parametrize("text", TEXTS, ids=short)
@pytest.mark.parametrize("option", ["--type", "--package"])
def test_no_name_of_an_enquiry_breaks_anything(option, text, capsys):
    values = {"--type": "Narrow", "--package": "Light", "--earliest": "2027-01-04", option: text}
    assert ended("enquiry", TINY, *(part for pair in values.items() for part in pair)) == 1
