"""``capacity learn``: what delivered checks teach about findings, days and man-hours."""

from datetime import datetime
from pathlib import Path

import click

from capacity.commands.common import (
    IN_FORCE,
    READ_ON,
    WORKBOOK,
    as_of_day,
    opened,
    out_option,
    refuse_wrong_outputs,
)
from capacity.commands.exits import Exit
from capacity.commands.outputs import Outputs
from capacity.questions.learn.learning import learn as learn_from
from capacity.reports.learn.text import learnt_in_words
from capacity.reports.learn.workbook import write_learnt_workbook


@click.command()
@WORKBOOK
@READ_ON
@IN_FORCE
@out_option("LEARNT.xlsx", "Workbook of what was learnt.")
def learn(workbook: Path, today: datetime | None, plan_path: Path | None, out: Path | None) -> Exit:
    """Learn from the sheet Delivered of WORKBOOK: findings, days, man-hours against plan.

    Proposes Findings %, Findings spread % and Days by package and stage, with the number of
    visits behind each. Nothing is changed in the workbook.
    """
    refuse_wrong_outputs([workbook, plan_path], ("--out", out, ".xlsx"))
    base, read = opened(workbook, as_of_day(today, plan_path))
    found = learn_from(base)
    outputs = Outputs()
    outputs.write(out, lambda path: write_learnt_workbook(found, base, read.where, path))
    click.echo(learnt_in_words(found, base, read.where))
    return outputs.end(Exit.PLANNED)
