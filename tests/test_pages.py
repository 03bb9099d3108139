"""The pages that people read name commands, options, columns and files that are there."""

import ast
import inspect
import os
import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import click
import pytest

import capacity
from capacity.cli import QUESTIONS, Questions, app
from capacity.inputs.reading.sheets import SHEETS, SettingLine, Settings

ROOT = Path(__file__).parents[1]
README = ROOT / "README.md"
WORKBOOK = ROOT / "sample_inputs" / "WORKBOOK.md"
PAGES = [README, WORKBOOK, ROOT / "DEVELOPERS.md", *sorted((ROOT / "tests/bench").glob("*.md"))]


def text_of(page):
    return page.read_text(encoding="utf-8")


def commands_of(text):
    """Yield the words of every ``capacity ...`` in blocks of code and between backticks."""
    blocks = re.findall(r"^```sh\n(.*?)^```$", text, re.MULTILINE | re.DOTALL)
    inline = re.findall(r"`([^`]+)`", re.sub(r"^```.*?^```$", "", text, flags=re.M | re.S))
    lines = [line for block in blocks for line in block.replace("\\\n", " ").splitlines()]
    for line in [*lines, *(" ".join(span.split()) for span in inline)]:
        found = re.search(r"(?:^|/bin/)capacity ([a-z].*)", line)
        if found:
            yield shlex.split(found[1], comments=True)


def options_of(name, *rest):
    """Return the options of a command; of one with commands of its own those of the one named."""
    command = app.get_command(None, name)
    if isinstance(command, click.Group):
        command = command.get_command(None, rest[0]) if rest else command
    return {option for parameter in command.params for option in parameter.opts}


def wrong_commands(text):
    wrong = []
    for name, *rest in commands_of(text):
        if name not in QUESTIONS:
            wrong.append(name)
            continue
        given = {word for word in rest if word.startswith("--")} - {"--help"}
        wrong += [f"{name} {option}" for option in sorted(given - options_of(name, *rest))]
    return wrong


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_commands_and_options_are_there(page):
    assert isinstance(app, Questions)
    assert wrong_commands(text_of(page)) == []


def test_a_command_or_option_that_is_not_there_is_seen():
    text = "```sh\ncapacity plan a.xlsx \\\n  --no-such b  # --out\n```\nor `capacity\ncheck a`"
    assert wrong_commands(text) == ["plan --no-such", "check"]


def test_every_command_is_named():
    said = {words[0] for page in (README, WORKBOOK) for words in commands_of(text_of(page))}
    assert said == set(QUESTIONS)


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_links_lead_to_files_and_headings(page):
    for link in re.findall(r"\]\(([^)]+)\)", text_of(page)):
        path, _, heading = link.partition("#")
        target = page.parent / path if path else page
        assert target.exists(), link
        headings = re.findall(r"^#+ (.+)$", text_of(target), re.MULTILINE) if heading else []
        assert not heading or heading in {h.lower().replace(" ", "-") for h in headings}, link


SOMEBODY_ELSES = {"random.py"}
"""Named in the pages as a file that may lie beside a workbook."""


def modules_missing(text):
    inline = re.findall(r"`([^`\n]+)`", re.sub(r"^ *```.*?^ *```$", "", text, flags=re.M | re.S))
    named = {name for span in inline for name in re.findall(r"(?<![\w*])[\w/]+\.py\b", span)}
    folders = [ROOT / name for name in ("capacity", "ui", "tests", "sample_inputs")]
    there = [f"/{path.relative_to(ROOT).as_posix()}" for f in folders for path in f.rglob("*.py")]
    return sorted(
        name
        for name in named - SOMEBODY_ELSES
        if not any(path.endswith(f"/{name}") for path in there)
    )


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_modules_are_there(page):
    assert modules_missing(text_of(page)) == []


def test_a_module_that_is_not_there_is_seen():
    text = "`slots/rules/families.py` and `nothing.py`, `no/such_file.py`, `sheet_*.py`"
    assert modules_missing(text) == ["no/such_file.py", "nothing.py"]


def test_the_reference_has_every_sheet_and_column_and_no_other():
    rows = re.findall(
        r"^\| (\*?)`([^`]+)`\*? \| [^|]+ \| (.+) \|$", text_of(WORKBOOK), re.MULTILINE
    )
    told = {sheet: re.sub(r" \(`[^`]+`\)", "", columns) for _, sheet, columns in rows}
    models = [Settings, *(model for model in SHEETS if model is not SettingLine)]
    assert {sheet: set(columns.split(", ")) for sheet, columns in told.items()} == {
        model.sheet: {field.alias for field in model.model_fields.values() if field.alias}
        for model in models
    }


def test_readme_stays_a_page_that_is_read():
    # One screen and a half: everything else belongs on the page that it points to.
    assert len(text_of(README).splitlines()) <= 130


def test_the_example_of_the_python_api_runs_as_it_stands(tmp_path):
    (example,) = re.findall(r"^```python\n(.*?)^```$", text_of(README), re.MULTILINE | re.DOTALL)
    shutil.copy(ROOT / "sample_inputs" / "tiny.xlsx", tmp_path / "quarter.xlsx")
    command = [sys.executable, "-W", "error", "-c", example]
    subprocess.run(command, cwd=tmp_path, env={**os.environ, "PYTHONPATH": str(ROOT)}, check=True)
    assert {path.name for path in tmp_path.iterdir()} == {"quarter.xlsx", "plan.xlsx"}


def test_the_calls_of_the_reference_name_what_is_there():
    (example,) = re.findall(r"^```python\n(.*?)^```$", text_of(WORKBOOK), re.MULTILINE | re.DOTALL)
    calls = [node for node in ast.walk(ast.parse(example)) if isinstance(node, ast.Call)]
    assert len(calls) > 8
    for call in (call for call in calls if isinstance(call.func, ast.Attribute)):
        given = {keyword.arg: None for keyword in call.keywords}
        if isinstance(call.func.value, ast.Name) and call.func.value.id == "capacity":
            function = getattr(capacity, call.func.attr)
            inspect.signature(function).bind(*call.args, **given)
        else:  # of a value that was made before
            made = (capacity.ByHand, capacity.Draft)
            (method,) = [getattr(c, call.func.attr) for c in made if hasattr(c, call.func.attr)]
            inspect.signature(method).bind(None, *call.args, **given)
