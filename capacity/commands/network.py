"""``capacity network``: several bases planned together, with aircraft that any could take."""

from collections.abc import Iterator
from functools import partial
from pathlib import Path

import click

from capacity.commands.common import (
    out_option,
    refuse_wrong_outputs,
    seconds_option,
    seed_option,
    show,
    stop_heeded,
)
from capacity.commands.exits import Ended, Exit
from capacity.commands.option_types import FILE, FileName, FiniteRange
from capacity.commands.outputs import Outputs
from capacity.commands.saved_meanwhile import Writer
from capacity.inputs.limited import booked
from capacity.inputs.network_files import NetworkBook, read_network_book
from capacity.network.rounds import plan_network
from capacity.network.values import NetworkImpossible, NetworkPlanned, PlanOfBase
from capacity.plans.outcome import OutOfTime
from capacity.progress_line import ProgressLine
from capacity.reports import report
from capacity.reports.kit.whole_file import refuse_unwritable, write_whole
from capacity.reports.network.files import file_names
from capacity.reports.network.text import network_in_words
from capacity.reports.network.workbook import write_network_workbook
from capacity.settings import Settings


@click.command()
@click.argument("path", metavar="NETWORK.xlsx", type=FILE)
@seconds_option(600.0, "Time for all bases together, one after the other.")
@click.option(
    "--gap",
    type=FiniteRange(0, 100),
    default=0.0,
    show_default=True,
    help="End once no more than this could still be saved, in per cent of the cost.",
)
@seed_option()
@out_option("ANSWER.xlsx", "Workbook of the answer: what each base does, who takes which enquiry.")
@click.option(
    "--plans-out",
    metavar="FOLDER",
    type=FileName(file_okay=False, exists=True),
    help="Folder in which each base gets its plan file, its plan workbook, and a copy of its "
    "workbook with the enquiries it takes.",
)
def network(
    path: Path, seconds: float, gap: float, seed: int, out: Path | None, plans_out: Path | None
) -> Exit:
    """Plan several bases together, and find out which of them takes which enquiry.

    NETWORK.xlsx has the sheets Bases (Base, Workbook), Enquiries (the columns of Checks) and Ferry
    costs (Check, Base, Ferry cost: a row for each base that may take it). Ctrl-C gives the best
    plans so far.
    """
    refuse_wrong_outputs([path], ("--out", out, ".xlsx"))
    if plans_out is not None:
        refuse_unwritable(plans_out / "plan.json")
    read = read_network_book(path)
    show(read.messages)
    if read.network is None:
        click.echo("There are errors; nothing was done.", err=True)
        raise Ended(Exit.INPUT_ERRORS)
    _refuse_inputs(path, read, out, plans_out)
    settings = Settings(seconds=seconds, seed=seed, gap=max(gap / 100, Settings().gap))
    with ProgressLine(read.network.currency, seconds) as line:
        outcome = plan_network(read.network, settings, line.show, stop_heeded())
    outputs = Outputs()
    if isinstance(outcome, NetworkPlanned):
        whole = read.network
        if plans_out is not None:
            for place, writer in _of_each_base(outcome, read, plans_out):
                outputs.write(place, writer)
        outputs.write(out, lambda place: write_network_workbook(outcome, whole, place))
        for fault in outcome.faults:
            click.echo(f"What broke down: {fault}", err=True)
    click.echo(network_in_words(outcome, read.network))
    match outcome:
        case NetworkPlanned():
            return outputs.end(Exit.PLANNED)
        case NetworkImpossible():
            return outputs.end(Exit.IMPOSSIBLE)
        case OutOfTime():
            return outputs.end(Exit.OUT_OF_TIME)


def _refuse_inputs(path: Path, read: NetworkBook, out: Path | None, folder: Path | None) -> None:
    """Refuse outputs that would be written over one of the workbooks."""
    inputs = [path, *read.paths.values()]
    refuse_wrong_outputs(inputs, ("--out", out, ".xlsx"))
    if folder is not None:
        for name in file_names(read.paths).values():
            for ending in (".xlsx", "-workbook.xlsx"):
                refuse_wrong_outputs(inputs, ("--plans-out", folder / f"{name}{ending}", ".xlsx"))


def _of_each_base(
    answer: NetworkPlanned, read: NetworkBook, folder: Path
) -> Iterator[tuple[Path, Writer]]:
    """Yield the files of each base, its plan file first, and what writes them."""
    names = file_names(read.paths)
    for one in answer.bases:
        for ending in (".json", ".xlsx"):
            yield folder / f"{names[one.name]}{ending}", partial(_report, one, read)
        workbook = read.paths[one.name]
        if one.taken and not workbook.is_dir():
            taken = {taken.check for taken in one.taken}
            checks = [check for check in one.base.checks if check.name in taken]
            content = booked(workbook, checks, ())
            yield folder / f"{names[one.name]}-workbook.xlsx", partial(write_whole, content)


def _report(one: PlanOfBase, read: NetworkBook, path: Path) -> None:
    book = read.books[one.name]
    report(one.base, one.outcome, path, book.messages, where=book.where)
