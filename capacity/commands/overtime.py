"""``capacity overtime``: where the overtime is, and what would take it away."""

from pathlib import Path

import click

from capacity.commands.common import (
    BOOK,
    PLAN,
    as_of_plans,
    opened,
    out_option,
    planned,
    refuse_wrong_outputs,
    seconds_option,
    seed_option,
    stop_heeded,
)
from capacity.commands.exits import Exit
from capacity.commands.outputs import Outputs
from capacity.questions.overtime.measures import pull_levers
from capacity.questions.overtime.review import review_overtime
from capacity.reports.overtime.text import overtime_in_words
from capacity.reports.overtime.workbook import write_overtime_workbook


@click.command()
@BOOK
@PLAN
@seconds_option(60.0, "Wall time, of the plan and of the levers each.")
@seed_option()
@click.option("--no-levers", is_flag=True, help="Review only; try nothing.")
@out_option("OVERTIME.xlsx", "Overtime workbook.")
def overtime(
    book: Path,
    plan_path: Path | None,
    seconds: float,
    seed: int,
    no_levers: bool,
    out: Path | None,
) -> Exit:
    """Review the overtime of a plan, and try what would take it away.

    By week, crew and skill: regular, overtime, contract and overload hours, their money, hours
    a head, the limits that bind. Then levers, each tried on the plan and ranked.
    """
    refuse_wrong_outputs([book, plan_path], ("--out", out, ".xlsx"))
    base, read = opened(book, as_of_plans(plan_path))
    with Outputs(beside=out) as outputs:
        plan, base = planned(base, read, plan_path, seconds, seed, outputs)
        stop = stop_heeded()
        review = review_overtime(plan, base)
        levers = None if no_levers else pull_levers(plan, base, seconds, seed, stop)
        outputs.write(
            out, lambda path: write_overtime_workbook(review, levers, base, path, (plan,))
        )
    click.echo(overtime_in_words(review, levers, base))
    return outputs.end(Exit.PLANNED)
