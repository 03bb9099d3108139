"""``capacity overtime``: where the overtime is, and what would take it away."""

from pathlib import Path

import click

from capacity.commands.common import (
    PLAN,
    PLAN_OUT,
    WORKBOOK,
    as_of_plans,
    opened,
    out_option,
    planned,
    refuse_wrong_answer,
    seconds_option,
    seed_option,
    stop_heeded,
    workers_option,
)
from capacity.commands.exits import Exit
from capacity.commands.outputs import Outputs
from capacity.questions.overtime.measures import try_measures
from capacity.questions.overtime.review import review_overtime
from capacity.reports.overtime.text import overtime_in_words
from capacity.reports.overtime.workbook import write_overtime_workbook
from capacity.settings import Settings


@click.command()
@WORKBOOK
@PLAN
@seconds_option(60.0, "Time for the measures, and for the plan where one is made first.")
@seed_option()
@workers_option()
@click.option("--no-measures", is_flag=True, help="Review the overtime only; try no measures.")
@PLAN_OUT
@out_option("OVERTIME.xlsx", "Workbook of the answer.")
def overtime(
    workbook: Path,
    plan_path: Path | None,
    seconds: float,
    seed: int,
    workers: int | None,
    no_measures: bool,
    out: Path | None,
    plan_out: Path | None,
) -> Exit:
    """Review the overtime of a plan, and try what would take it away.

    By week, crew and skill: regular, overtime, contract and overload hours, their cost, hours
    per head, the limits that bind. Then measures, each tried on the plan and ranked.
    """
    refuse_wrong_answer(workbook, plan_path, out, plan_out)
    base, read = opened(workbook, as_of_plans(plan_path))
    with Outputs(beside=plan_out or out) as outputs:
        settings = Settings(seconds=seconds, seed=seed, workers=workers)
        plan, base = planned(base, read, plan_path, settings, outputs, plan_out)
        stop = stop_heeded()
        review, measures = review_overtime(base, plan), None
        if not no_measures:
            measures = try_measures(base, plan, settings, stop=stop)
        outputs.write(
            out, lambda path: write_overtime_workbook(review, measures, base, path, (plan,))
        )
    click.echo(overtime_in_words(review, measures, base))
    return outputs.end(Exit.PLANNED)
