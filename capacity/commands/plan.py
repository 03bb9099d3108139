"""``capacity plan``: the best slot plan with its proof."""

import time
from pathlib import Path

import click

from capacity.commands.common import (
    DEFAULTS,
    WORKBOOK,
    file_option,
    opened,
    out_option,
    plan_file,
    plan_out_option,
    refuse_wrong_outputs,
    seconds_option,
    seed_option,
    show,
    stop_heeded,
    workers_option,
)
from capacity.commands.exits import Exit
from capacity.commands.outputs import Outputs
from capacity.facts import Base
from capacity.inputs import Book
from capacity.planning import plan as make_plan
from capacity.plans.outcome import Impossible, Outcome, OutOfTime, Planned
from capacity.plans.plan import Plan
from capacity.progress_line import ProgressLine
from capacity.reports import describe, report
from capacity.reports.kit.cell_text import printable
from capacity.reports.plan_files.base_of import notes_about, refuse_other_base
from capacity.reports.plan_files.written import read_plan_file
from capacity.settings import Settings
from capacity.words import day

# What outputs of a large plan take, the workbook most of it.
SECONDS_TO_WRITE_A_CHECK = 0.006


@click.command()
@WORKBOOK
@file_option(
    "--plan",
    "earlier",
    "EARLIER.json",
    "Plan file of an earlier plan to begin with; what no longer fits is planned anew.",
)
@out_option("PLAN.xlsx", "Plan workbook, for people.")
@plan_out_option("Plan file, which other commands and programs read.")
@out_option("BAYS.ics", "Calendar feed of all bays.", "--calendar")
@seconds_option(DEFAULTS.seconds, "Time for the search.")
@seed_option()
@workers_option()
def plan(
    workbook: Path,
    earlier: Path | None,
    out: Path | None,
    plan_out: Path | None,
    calendar: Path | None,
    seconds: float,
    seed: int,
    workers: int | None,
) -> Exit:
    """Make the best slot plan for WORKBOOK, with its proof. Ctrl-C gives the best plan so far.

    WORKBOOK is a workbook, or a folder of CSV files named after the sheets.
    """
    refuse_wrong_outputs(
        [workbook, earlier],
        ("--out", out, ".xlsx"),
        ("--plan-out", plan_out, ".json"),
        ("--calendar", calendar, ".ics"),
    )
    began = time.monotonic()
    base, read = opened(workbook)
    begin = None if earlier is None else _begin_with(earlier, base)
    beside = time.monotonic() - began + SECONDS_TO_WRITE_A_CHECK * len(base.checks)
    settings = Settings(seconds=_for_the_search(seconds, beside), seed=seed, workers=workers)
    with Outputs(beside=plan_out or out or calendar) as outputs:
        with ProgressLine(base.currency, seconds) as line:
            outcome = make_plan(
                base,
                settings,
                line.show,
                stop_heeded(),
                begin,
                lambda plan: outputs.hold(plan_file(plan, base, read, settings)),
            )
        _write(outputs, outcome, read, plan_out, [out, calendar], begin)
    if isinstance(outcome, Planned):
        for fault in outcome.faults:
            click.echo("What a part of the search wrote before it broke down:", err=True)
            for written in fault.splitlines():
                click.echo(f"  {printable(written)}", err=True)
    click.echo(describe(base, outcome, read.messages))
    return outputs.end(_exit_of(outcome))


def _for_the_search(seconds: float, beside: float) -> float:
    """Return what is left of the time when reading and writing take ``beside`` seconds.

    All of it where the run as a whole keeps within the time given and a fifth more, and 4 s.
    """
    too_long = beside - (0.2 * seconds + 4.0)
    return seconds if too_long <= 0 else max(seconds / 2, seconds - too_long)


def _begin_with(path: Path, base: Base) -> Plan:
    """Return the plan of a plan file; say which of its checks the base does not have."""
    file = read_plan_file(path)
    refuse_other_base(file, base)
    show(notes_about(file, base))
    plan = file.plan
    if file.made is not None and file.made.work_counts_from is not None:
        click.echo(
            f"note: in {path} the work left counts from {day(file.made.work_counts_from)}; in a "
            f"plan it counts from {day(base.first_day)}."
        )
    gone = sorted({p.check for p in plan.placements} - {check.name for check in base.checks})
    if gone:
        click.echo(f"note: {path} has checks that are not in the workbook: {', '.join(gone)}.")
    return plan


def _write(
    outputs: Outputs,
    outcome: Outcome,
    book: Book,
    plan_out: Path | None,
    others: list[Path | None],
    earlier: Plan | None,
) -> None:
    """Write the plan file first; without a plan it is all that there is to write."""

    def write(path: Path) -> None:
        assert book.base is not None
        report(book.base, outcome, path, book.messages, where=book.where, earlier=earlier)

    if isinstance(outcome, Planned) or plan_out is not None:
        outputs.hold(write)
    outputs.write_plan(plan_out)
    for path in others if isinstance(outcome, Planned) else ():
        outputs.write(path, write)


def _exit_of(outcome: Outcome) -> Exit:
    match outcome:
        case Planned():
            return Exit.PLANNED
        case Impossible():
            return Exit.IMPOSSIBLE
        case OutOfTime():
            return Exit.OUT_OF_TIME
