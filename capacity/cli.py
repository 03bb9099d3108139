"""The command ``capacity``: reads, plans, shows and writes; all the work is elsewhere."""

import sys
from collections.abc import Sequence
from enum import IntEnum
from pathlib import Path

import click

from capacity.errors import OutputError
from capacity.findings import Finding, Level
from capacity.inputs import Book, read_book
from capacity.planning import plan as make_plan
from capacity.plans.outcome import Impossible, Outcome, OutOfTime, Planned
from capacity.progress_line import ProgressLine
from capacity.reports import describe, report
from capacity.settings import Settings


class Exit(IntEnum):
    """What the command ends with."""

    PLANNED = 0
    INPUT_ERRORS = 1
    IMPOSSIBLE = 2
    OUT_OF_TIME = 3
    USAGE = 64
    CANNOT_WRITE = 73


DEFAULTS = Settings()
BOOK = click.argument("book", metavar="BOOK", type=click.Path(path_type=Path))


@click.group(no_args_is_help=True)
def app() -> None:
    """Slot plans for an aircraft heavy-maintenance base. It plans; it releases nothing."""


@app.command()
@BOOK
def check(book: Path) -> Exit:
    """Read BOOK and say everything that is wrong with it, each with its cell and remedy.

    BOOK is a workbook, or a folder of CSV files named after the sheets.
    """
    read = read_book(book)
    _show(read.findings)
    errors = _count(read.findings, Level.ERROR)
    warnings = _count(read.findings, Level.WARNING)
    click.echo(f"{_counted(errors, 'error')}, {_counted(warnings, 'warning')} in {book}")
    return Exit.INPUT_ERRORS if errors else Exit.PLANNED


@app.command()
@BOOK
@click.option("--out", metavar="PLAN.xlsx", type=click.Path(path_type=Path), help="Plan workbook.")
@click.option(
    "--summary", metavar="PLAN.json", type=click.Path(path_type=Path), help="Plan for programs."
)
@click.option(
    "--seconds",
    type=click.FloatRange(min=0.1, max=86_400),
    default=DEFAULTS.seconds,
    show_default=True,
    help="Wall time of the search.",
)
@click.option(
    "--seed",
    type=click.IntRange(min=0, max=2**31 - 1),
    default=DEFAULTS.seed,
    show_default=True,
    help="Seed of the random search.",
)
def plan(book: Path, out: Path | None, summary: Path | None, seconds: float, seed: int) -> Exit:
    """Make the best slot plan for BOOK, with its proof. Ctrl-C gives the best one so far.

    BOOK is a workbook, or a folder of CSV files named after the sheets.
    """
    _refuse_wrong_endings(book, out, summary)
    read = read_book(book)
    _show(read.findings)
    if read.base is None:
        click.echo("The input has errors; nothing was planned.", err=True)
        return Exit.INPUT_ERRORS
    settings = Settings(seconds=seconds, seed=seed)
    with ProgressLine(read.base.currency, seconds) as line:
        outcome = make_plan(read.base, settings, line.show)
    if isinstance(outcome, Planned):
        for fault in outcome.faults:
            click.echo(f"warning: a part of the search broke down: {fault}", err=True)
    click.echo(describe(outcome, read.base, read.findings))
    _write(outcome, read, [path for path in (out, summary) if path is not None])
    return _exit_of(outcome)


def main(arguments: Sequence[str] | None = None) -> None:
    """Run the command and leave with its exit code."""
    try:
        code = app.main(args=arguments, prog_name="capacity", standalone_mode=False)
    except click.UsageError as wrong:
        wrong.show()
        sys.exit(Exit.USAGE)
    except (click.Abort, KeyboardInterrupt):
        sys.exit(Exit.OUT_OF_TIME)
    except OutputError as fault:
        click.echo(f"error {fault}", err=True)
        sys.exit(Exit.CANNOT_WRITE)
    sys.exit(code)


def _refuse_wrong_endings(book: Path, out: Path | None, summary: Path | None) -> None:
    """Find out before an hour's search, not after it, that the answer has nowhere to go."""
    for option, path, ending in (("--out", out, ".xlsx"), ("--summary", summary, ".json")):
        if path is None:
            continue
        if path.suffix.lower() != ending:
            raise click.BadParameter(f"name a file that ends in {ending}", param_hint=option)
        if path.resolve() == book.resolve():
            raise click.BadParameter("the input is never written to", param_hint=option)
        if not path.resolve().parent.is_dir():
            raise click.BadParameter(f"there is no folder {path.parent}", param_hint=option)
        if _is_folder(path):
            raise click.BadParameter(f"{path} is a folder", param_hint=option)


def _write(outcome: Outcome, book: Book, paths: list[Path]) -> None:
    for path in paths:
        if path.suffix.lower() == ".xlsx" and not isinstance(outcome, Planned):
            continue
        assert book.base is not None
        report(outcome, book.base, path, book.findings, where=book.where)
        click.echo(f"written: {path}")


def _show(findings: Sequence[Finding]) -> None:
    for finding in findings:
        click.echo(str(finding), err=finding.level is Level.ERROR)


def _count(findings: Sequence[Finding], level: Level) -> int:
    return sum(finding.level is level for finding in findings)


def _is_folder(path: Path) -> bool:
    try:
        return path.is_dir()
    except OSError:  # a name that no file system takes; writing says so
        return False


def _counted(number: int, what: str) -> str:
    return f"{number} {what}" if number == 1 else f"{number} {what}s"


def _exit_of(outcome: Outcome) -> Exit:
    match outcome:
        case Planned():
            return Exit.PLANNED
        case Impossible():
            return Exit.IMPOSSIBLE
        case OutOfTime():
            return Exit.OUT_OF_TIME
