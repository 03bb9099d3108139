"""``capacity risk``: what uncertain findings make of a plan."""

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
    planned_now,
    refuse_wrong_answer,
    seconds_option,
    seed_option,
    stop_breaks_in,
    workers_option,
)
from capacity.commands.exits import Exit
from capacity.commands.option_types import FiniteRange
from capacity.commands.outputs import Outputs
from capacity.questions.risk.compared import compare
from capacity.questions.risk.settings import Keep, RiskSettings, Shape
from capacity.questions.risk.simulated import risk_of
from capacity.questions.risk.values import SAFE
from capacity.questions.risk.what_if import base_at, base_with_buffers
from capacity.reports.risk.sheet_risk import write_risk_workbook
from capacity.reports.risk.text import WhatIf, risk_in_words, two_risks_in_words
from capacity.settings import Settings

DEFAULTS = RiskSettings()


@click.command()
@WORKBOOK
@PLAN
@seconds_option(60.0, "Time for each plan that is made.")
@seed_option()
@workers_option()
@click.option(
    "--simulations",
    "draws",
    type=click.IntRange(100, 20_000),
    default=DEFAULTS.draws,
    show_default=True,
    help="How often the plan is played through.",
)
@click.option(
    "--shape",
    type=click.Choice([shape.value for shape in Shape]),
    default=DEFAULTS.shape.value,
    show_default=True,
    help="Distribution of the findings of a stage.",
)
@click.option(
    "--default-spread",
    type=FiniteRange(0, 100),
    metavar="PER CENT",
    help="Your judgement, for stages without Findings spread %; they count as certain unless set.",
)
@click.option(
    "--keep",
    type=click.Choice([keep.value for keep in Keep]),
    default=DEFAULTS.keep.value,
    show_default=True,
    help="What a stage keeps when its findings grow: its man-hours a day, or its days.",
)
@click.option(
    "--what-if",
    type=click.Choice([way.value for way in WhatIf]),
    help="Also make a plan on the findings that 80 % of cases keep to, or one with buffers, and "
    "judge both in the same simulations.",
)
@PLAN_OUT
@out_option("RISK.xlsx", "Workbook of the answer.")
def risk(
    workbook: Path,
    plan_path: Path | None,
    seconds: float,
    seed: int,
    workers: int | None,
    draws: int,
    shape: str,
    default_spread: float | None,
    keep: str,
    what_if: str | None,
    out: Path | None,
    plan_out: Path | None,
) -> Exit:
    """Play a plan through many times with findings drawn at random.

    For each check the probability that it is out by its agreed day, and the days by which it is
    out in 50 % and 80 % of the cases; for each week and skill that of overload; a buffer that
    is enough in 80 % of the cases.
    """
    refuse_wrong_answer(workbook, plan_path, out, plan_out)
    base, read = opened(workbook, as_of_plans(plan_path))
    with Outputs(beside=plan_out or out) as outputs:
        searching = Settings(seconds=seconds, seed=seed, workers=workers)
        plan, base = planned(base, read, plan_path, searching, outputs, plan_out)
        spread = None if default_spread is None else default_spread / 100
        settings = RiskSettings(
            draws=draws, seed=seed, shape=Shape(shape), default_spread=spread, keep=Keep(keep)
        )
        with stop_breaks_in():
            found = risk_of(base, plan, settings)
        said = [risk_in_words(found, base)]
        compared = None
        if what_if is not None:
            other = base_at(base, SAFE, settings)
            if WhatIf(what_if) is WhatIf.BUFFERS:
                other = base_with_buffers(base, found)
            careful = planned_now(other, searching).plan
            with stop_breaks_in():
                compared = compare(base, plan, careful, settings, b_made_on=other)
            said.append(two_risks_in_words(compared, WhatIf(what_if)))
        outputs.write(out, lambda path: write_risk_workbook(found, base, path, compared, (plan,)))
    for text in said:
        click.echo(text)
    return outputs.end(Exit.PLANNED)
