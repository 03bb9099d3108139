"""The frame of every page to print: HTML on its own, on white, no script, no outside file.

Browsers print it as it is. A table longer than a sheet of paper goes on with its headings
repeated. Every text stays a text: all of them are escaped here, in one place.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from html import escape

from capacity.plans.plan import Plan
from capacity.reports.kit.issue import issue_line, now
from capacity.reports.kit.sheet import FOOT_CAUTION
from capacity.words import day as as_day
from capacity.words.palette import HOURS, Paint
from ui.legend import Swatch, legend
from ui.look import LIGHT
from ui.rows import TableRow

# The policy is a second lock behind the escaping: nothing in the page may run or be fetched.
POLICY = "default-src 'none'; style-src 'unsafe-inline'"
STYLE = """\
@page { size: A4 landscape; margin: 12mm 12mm 15mm; }
@page { @bottom-right { content: counter(page) " of " counter(pages); font: 8pt sans-serif; } }
html { background: #fff; color: #000; font: 10pt/1.35 sans-serif; print-color-adjust: exact; }
svg { max-width: 100%; }
body { margin: 0 auto; max-width: 273mm; }
h1 { font-size: 15pt; margin: 0 0 1mm; }
h2 { break-after: avoid; font-size: 12pt; margin: 6mm 0 1mm; }
h1, h2, p, .long { overflow-wrap: anywhere; }
p { break-after: avoid; margin: 0 0 2mm; }
table { border-collapse: collapse; margin: 3mm 0; width: 100%; }
thead { display: table-header-group; }
tr { break-inside: avoid; }
td, th { border: 0.3mm solid #000; padding: 1mm 1.5mm; text-align: left; vertical-align: top; }
.number { text-align: right; }
.short { white-space: nowrap; }
.marked { border: 0.8mm solid #000; font-weight: bold; }
.caution { border: 0.5mm solid #000; font-weight: bold; padding: 1.5mm; }
.small { font-size: 8pt; }
@media screen { body { padding: 8mm; } }
"""

FOOT = (
    '@page { @bottom-left { content: "ISSUE"; font: 8pt sans-serif; } }\n'
    f'@page {{ @bottom-center {{ content: "{FOOT_CAUTION}"; font: 8pt sans-serif; }} }}\n'
)
"""At the foot of every sheet of paper, each of which may lie in front of somebody alone."""

PAINTED = "".join(
    f".{paint.word} {{ background: {paint.fill}; color: {paint.ink}; }}\n" for paint in HOURS
)
"""The colours of hours, each a class of its word."""

SHORT_TEXT, LONGEST_WORD = 20, 24
"""Letters: a text up to here stays on one line, and a word up to there stays whole."""

NOTHING = "\u2013"
"""Stands in a cell that has no value."""


@dataclass(frozen=True, slots=True)
class Cell:
    """A text; ``is_marked`` draws a thick edge, and the text says what that means.

    ``paint`` is the kind of hours in whose colour it stands; the text says that too.
    """

    text: str
    is_number: bool = False
    is_marked: bool = False
    paint: Paint | None = None


def sheet(
    title: str,
    base_name: str,
    body: Sequence[str],
    plan: Plan | None = None,
    issued: datetime | None = None,
) -> bytes:
    """Return a page of HTML in UTF-8; ``body`` are parts made by the functions below.

    At its foot every sheet of paper says of which ``plan`` it is and when it was issued: now.
    """
    issue = issue_of(plan, issued)
    parts = (
        f"<p>{escape(base_name)}</p>",
        f'<p class="small">{escape(issue)}</p>',
        f"<h1>{escape(title)}</h1>",
        *body,
    )
    return document(f"{title} - {base_name}", style_with(issue), parts)


def issue_of(plan: Plan | None, issued: datetime | None = None) -> str:
    """Return of which plan a page is, where it is of one, and when it was issued: now."""
    return issue_line(() if plan is None else (plan,), issued or now())


def style_with(issue: str, further: str = "") -> str:
    """Return the style of pages that have ``issue`` and the caution at the foot of each sheet."""
    # Letters, digits and marks of its own alone: nothing that would end the text in the style.
    return f"{STYLE}{PAINTED}{FOOT.replace('ISSUE', issue)}{further}"


def document(title: str, style: str, body: Sequence[str]) -> bytes:
    """Return a page of HTML in UTF-8 on its own; ``style`` and ``body`` are no texts of a user."""
    parts = (
        "<!DOCTYPE html>",
        '<html lang="en"><head><meta charset="utf-8">',
        f'<meta http-equiv="Content-Security-Policy" content="{escape(POLICY)}">',
        '<meta name="viewport" content="width=device-width">',
        f"<title>{escape(title)}</title>",
        f"<style>{style}</style></head><body><main>",
        *body,
        "</main></body></html>",
        "",
    )
    return "\n".join(parts).encode(errors="replace")


def heading(text: str) -> str:
    """Return a heading that stays on the sheet of what follows it."""
    return f"<h2>{escape(text)}</h2>"


def paragraph(text: str) -> str:
    """Return a paragraph."""
    return f"<p>{escape(text)}</p>"


def caution(text: str) -> str:
    """Return a paragraph in a frame."""
    return f'<p class="caution">{escape(text)}</p>'


def picture(title: str, swatches: Sequence[Swatch]) -> str:
    """Return a legend; its texts are escaped where it is drawn."""
    return f"<p>{legend(title, swatches, LIGHT)}</p>"


def table(headings: Sequence[Cell], rows: Sequence[Sequence[Cell]], is_small: bool = False) -> str:
    """Return a table; ``is_small`` sets it in small print, for many columns or rows."""
    return "\n".join(_table(headings, rows, is_small))


def value_table(
    rows: Sequence[TableRow],
    marked: Callable[[TableRow], bool] | None = None,
    is_small: bool = False,
) -> str:
    """Return a table of rows as the pages show them: values by their headings.

    ``marked`` says whether the first cell of a row is marked.
    """
    if not rows:
        return ""
    numbers = {
        name: any(isinstance(row[name], int | float) for row in rows) for name in rows[0]
    }  # fmt: skip
    first = next(iter(rows[0]))
    headings = [Cell(name, is_number) for name, is_number in numbers.items()]
    cells = [
        [
            Cell(told(row[name]), is_number, name == first and marked is not None and marked(row))
            for name, is_number in numbers.items()
        ]
        for row in rows
    ]
    return table(headings, cells, is_small)


def told(value: object) -> str:
    """Return a value as people write it: ``Mon 4 Jan 2027``, ``1,200``, ``0.5``."""
    match value:
        case None:
            return NOTHING
        case date():
            return as_day(value)
        case bool() | str():
            return str(value)
        case int():
            return f"{value:,d}"
        case float():
            return f"{value:,.1f}"
        case _:
            return str(value)


def _table(
    headings: Sequence[Cell], rows: Sequence[Sequence[Cell]], is_small: bool
) -> Iterator[str]:
    small = ' class="small"' if is_small else ""
    names = "".join(
        f'<th scope="col"{_kinds(cell, is_heading=True)}>{escape(cell.text)}</th>'
        for cell in headings
    )
    yield f"<table{small}><thead><tr>{names}</tr></thead><tbody>"
    for row in rows:
        cells = "".join(f"<td{_kinds(cell)}>{escape(cell.text)}</td>" for cell in row)
        yield f"<tr>{cells}</tr>"
    yield "</tbody></table>"


def _kinds(cell: Cell, is_heading: bool = False) -> str:
    kinds = {
        "" if cell.paint is None else cell.paint.word: cell.paint is not None,
        "number": cell.is_number,
        "marked": cell.is_marked,
        "short": not is_heading and len(cell.text) <= SHORT_TEXT,
        "long": any(len(word) > LONGEST_WORD for word in cell.text.split()),
    }
    names = " ".join(name for name, is_so in kinds.items() if is_so)
    return f' class="{names}"' if names else ""
