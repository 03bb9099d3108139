"""``capacity explain``: why there is no better plan, why a check is late, what would help."""

from pathlib import Path

import click

from capacity.commands.booking import refuse_workbook_out
from capacity.commands.common import (
    WORKBOOK,
    as_of_plans,
    asked,
    file_option,
    opened,
    out_option,
    refuse_wrong_outputs,
    seconds_option,
    seed_option,
    stop_heeded,
    workers_option,
)
from capacity.commands.exits import Exit
from capacity.commands.moves import FORM, explain_moves, moves_of
from capacity.commands.outputs import Outputs
from capacity.questions.why.explain import explain as explained
from capacity.questions.worth.selling import worth_of
from capacity.questions.worth.wording import worth_sentences
from capacity.reports.kit.cell_text import printable
from capacity.reports.kit.sheet import Book
from capacity.reports.kit.whole_file import write_whole
from capacity.reports.plan.wording import CAUTION
from capacity.reports.why.sheet_why import why_sheet, worth_sheet
from capacity.reports.why.text import has_any, ready_dates_in_words, why_in_words
from capacity.settings import Settings
from capacity.slots.rules.ready_dates import READY_AT_ONCE


@click.command()
@WORKBOOK
@file_option("--plan", "plan_path", "PLAN.json", "Plan file of the plan to ask about.")
@click.option("--check", "check", metavar="NAME", help="Ask about one check of the plan.")
@seconds_option(60.0, "Time for the conflicts and the ways out.")
@seed_option()
@workers_option()
@click.option("--worth", is_flag=True, help="Also say what one more bay, head or day would save.")
@click.option(
    "--ready-dates",
    is_flag=True,
    help="Also say what each Ready date costs, searched anew without it; with --check, its own.",
)
@click.option(
    "--move",
    "moves",
    metavar="LINE",
    multiple=True,
    help=f"A check moved by hand: {FORM}. Says whether that is legal, who is in the way and what "
    "it costs, all others staying where they are. Give the option again for further moves.",
)
@out_option("WHY.xlsx", "Workbook of the answer.")
@out_option("NEXT.xlsx", "Copy of WORKBOOK in which the moved checks are Held.", "--workbook-out")
def explain(
    workbook: Path,
    plan_path: Path | None,
    check: str | None,
    seconds: float,
    seed: int,
    workers: int | None,
    worth: bool,
    ready_dates: bool,
    moves: tuple[str, ...],
    out: Path | None,
    workbook_out: Path | None,
) -> Exit:
    """Say why: which rules conflict with each other, or what keeps a check from a better day.

    Without a plan: the fewest rules of the workbook that conflict with each other, with
    their cells, and the cheapest ways out, each tried. With a plan: for the checks that did
    not get their wish, or the one named, who or what is in the way of each better day. With
    --move: whether a slot that you choose is legal, and what it costs.
    """
    refuse_wrong_outputs(
        [workbook, plan_path],
        ("--out", out, ".xlsx"),
        ("--workbook-out", workbook_out, ".xlsx"),
    )
    refuse_workbook_out(workbook, workbook_out, bool(moves), "the checks of --move held")
    if plan_path is None and (check is not None or worth or ready_dates or moves):
        raise click.UsageError(
            "--check, --worth, --ready-dates and --move ask about a plan: give --plan too."
        )
    if moves and (check is not None or worth or ready_dates or out is not None):
        raise click.UsageError("--move is a question of its own: give it with --plan alone.")
    in_turn = moves_of(moves)
    if worth and ready_dates:
        raise click.UsageError("--worth tries Ready dates as well: leave --ready-dates out.")
    base, read = opened(workbook, as_of_plans(plan_path))
    plan = None
    if plan_path is not None:
        plan, base = asked(plan_path, base)
    if plan is not None and moves:
        return explain_moves(base, plan, in_turn, workbook, read, workbook_out)
    stop = stop_heeded()
    settings = Settings(seconds=seconds, seed=seed, workers=workers)
    found = explained(base, plan, settings, check=check, where=read.where, stop=stop)
    said = [*why_in_words(found, base)]
    worths = None
    if plan is not None and worth:
        worths = worth_of(base, plan, settings, stop=stop)
        said += worth_sentences(worths, base, read.where)
    elif plan is not None and ready_dates:
        of = None if check is None else (check,)
        worths = worth_of(base, plan, settings, more=(READY_AT_ONCE,), of=of, stop=stop)
        said += ready_dates_in_words(worths, base, read.where, check)
        worths = worths if has_any(worths) else None

    def write(path: Path) -> None:
        sheets = Book(title=f"Why, {base.name}", plans=() if plan is None else (plan,))
        why_sheet(sheets, found, base, read.where)
        if worths is not None:
            worth_sheet(sheets, worths, base, read.where)
        write_whole(sheets.content(), path)

    outputs = Outputs()
    outputs.write(out, write)
    for sentence in said:
        click.echo(printable(sentence))
    click.echo(CAUTION)
    return outputs.end(Exit.PLANNED)
