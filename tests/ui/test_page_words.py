"""What a page says names no option of a command: the page has fields and buttons instead."""

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from ui.page_words import ON_THE_PAGE, as_on_the_page

ROOT = Path(__file__).parents[2]
OPTION_ALONE = re.compile(r"--[a-z-]+")
OPTION = re.compile(r"(?:^|[\s(`'\"])--[a-z]")

ON_THE_COMMAND_LINE_ONLY = (
    "capacity/commands/",
    "capacity/cli.py",
    "capacity/dashboard.py",  # its own options, and those of the server that it starts
    "capacity/child_process.py",
    "capacity/reports/network/",  # no page plans several bases
    "capacity/reports/enquiries/booked_wording.py",  # said by --book alone; the page has a button
    "capacity/reports/plan/sheet_ready_dates.py",  # a sheet of the plan workbook
    "ui/serving/",  # what the server is started with
    "ui/page_words.py",
)
"""Files whose sentences no page shows."""


def sentences(source: Path) -> Iterator[str]:
    """Yield the texts of a file without its docstrings, pieces of one text joined."""
    written = source.read_text(encoding="utf-8")
    if "--" not in written:
        return
    tree = ast.parse(written)
    documented = {
        id(node.body[0].value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef)
        and node.body
        and isinstance(node.body[0], ast.Expr)
    }
    pieces = {id(v) for n in ast.walk(tree) if isinstance(n, ast.JoinedStr) for v in n.values}
    for node in ast.walk(tree):
        match node:
            case ast.JoinedStr():
                told = (v.value if isinstance(v, ast.Constant) else "X" for v in node.values)
                yield "".join(map(str, told))
            case ast.Constant(value=str(text)) if id(node) not in documented | pieces:
                yield text


@cache
def all_sentences() -> tuple[tuple[str, str], ...]:
    """Return the texts of files that name an option somewhere, each with its file."""
    sources = [s for folder in ("capacity", "ui") for s in sorted((ROOT / folder).rglob("*.py"))]
    return tuple((str(s.relative_to(ROOT)), text) for s in sources for text in sentences(s))


def test_every_option_that_a_sentence_names_has_words_on_the_page():
    named = [
        (source, text)
        for source, text in all_sentences()
        if not source.startswith(ON_THE_COMMAND_LINE_ONLY)
        and OPTION.search(text)
        and not OPTION_ALONE.fullmatch(text)
    ]
    assert len(named) >= len(ON_THE_PAGE) - 1, "the texts are found"
    assert [told for told in named if OPTION.search(as_on_the_page(told[1]))] == []


def test_the_words_of_the_page_are_used_for_sentences_that_are_there():
    told = [text for source, text in all_sentences() if source.startswith("capacity/")]
    # What begins with an option may be put together: the option, a colon, and the rest.
    told += [f"{text}: " for text in told if OPTION_ALONE.fullmatch(text)]
    assert [command for command, _ in ON_THE_PAGE if not any(command in t for t in told)] == []


def test_a_message_that_begins_with_an_option_begins_with_the_field_of_the_page():
    told = as_on_the_page("--not-in: 'N-04' has rows in Progress.")
    assert told == "Checks that did not come: 'N-04' has rows in Progress."
