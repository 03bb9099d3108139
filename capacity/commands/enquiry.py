"""``capacity enquiry``: whether an aircraft can be taken too, when, and at what price."""

import time
from collections.abc import Sequence
from datetime import date, datetime
from pathlib import Path

import click

from capacity.commands.common import (
    PLAN,
    WORKBOOK,
    as_of_plans,
    file_option,
    opened,
    out_option,
    plan_out_option,
    planned,
    refuse_wrong_outputs,
    seconds_option,
    seed_option,
    show,
    stop_heeded,
)
from capacity.commands.exits import Exit
from capacity.commands.option_types import AMOUNT, DAY, SECONDS
from capacity.commands.outputs import Outputs
from capacity.errors import AuditError, InputError
from capacity.facts import Base, Check
from capacity.inputs.enquiries_workbook import notes_of_enquiries
from capacity.inputs.limited import enquiries_and_messages
from capacity.messages import Level
from capacity.plans.audit import audit
from capacity.plans.listing import listed_anew
from capacity.questions.asking.as_outcome import as_outcome
from capacity.questions.enquiries.asked import ask
from capacity.questions.enquiries.asked import enquiry as enquiry_of
from capacity.questions.enquiries.combinations import best_combinations
from capacity.reports import report
from capacity.reports.enquiries.text import enquiries_in_words
from capacity.reports.enquiries.workbook import write_enquiries_workbook
from capacity.settings import Settings

ALL = "all"


@click.command()
@WORKBOOK
@PLAN
@file_option(
    "--enquiries",
    "enquiries_path",
    "ENQUIRIES.xlsx",
    "Workbook of several enquiries, with the columns of Checks; Status may be missing.",
)
@click.option("--type", "aircraft_type", help="Type of the aircraft, as in Aircraft types.")
@click.option("--package", help="Package of its check, as in Packages.")
@click.option("--earliest", type=DAY, help="First day on which it may come in.")
@click.option(
    "--latest",
    type=DAY,
    help="Last day on which it may come in; unless set, as late as the plan allows.",
)
@click.option("--agreed-out", type=DAY, help="Day by which it is to be out.")
@click.option("--late-cost", type=AMOUNT, default=0.0, help="Cost per day late out.")
@click.option("--price", type=AMOUNT, default=0.0, help="Price that is paid for it.")
@click.option(
    "--may-move",
    multiple=True,
    metavar="CHECK",
    help="A check that may move for it; give the option again for more, or 'all'. None unless set.",
)
@click.option("--on-time-only", is_flag=True, help="Leave out slots that are late out.")
@seconds_option(10.0, "Time for each enquiry when others may move, and for the best combination.")
@click.option(
    "--plan-seconds",
    type=SECONDS,
    default=60.0,
    show_default=True,
    help="Time for the plan that is made first, where --plan names none.",
)
@seed_option()
@out_option("ANSWER.xlsx", "Workbook of the answer: slots, costs, combinations.")
@plan_out_option("Plan file of the plan with the best combination taken.")
def enquiry(
    workbook: Path,
    plan_path: Path | None,
    enquiries_path: Path | None,
    aircraft_type: str | None,
    package: str | None,
    earliest: datetime | None,
    latest: datetime | None,
    agreed_out: datetime | None,
    late_cost: float,
    price: float,
    may_move: tuple[str, ...],
    on_time_only: bool,
    seconds: float,
    plan_seconds: float,
    seed: int,
    out: Path | None,
    plan_out: Path | None,
) -> Exit:
    """Ask what one more aircraft, or several, would cost on top of a plan.

    For each: every slot it could have and its cost, the break-even price, who would have to
    move, the weeks with overload. For several: the best combination to take.
    """
    began = time.monotonic()
    refuse_wrong_outputs(
        [workbook, plan_path, enquiries_path],
        ("--out", out, ".xlsx"),
        ("--plan-out", plan_out, ".json"),
    )
    one = (aircraft_type, package, earliest)
    if (enquiries_path is None) == any(part is None for part in one):
        raise click.UsageError(
            "Give either --enquiries, or --type, --package and --earliest of one aircraft."
        )
    base, read = opened(workbook, as_of_plans(plan_path))
    enquiries: Sequence[Check]
    if enquiries_path is not None:
        enquiries, messages = enquiries_and_messages(enquiries_path, base)
        if any(message.level is Level.ERROR for message in messages):
            raise InputError(messages)
        show(messages)
    else:
        assert aircraft_type is not None
        assert package is not None
        assert earliest is not None
        enquiries = [
            enquiry_of(
                base,
                aircraft_type,
                package,
                earliest.date(),
                agreed_out=_day(agreed_out),
                latest=_day(latest),
                late_cost_per_day=late_cost,
                price=price,
            )
        ]
        show(list(notes_of_enquiries(enquiries, base)))
    as_read = base
    with Outputs(beside=plan_out or out) as outputs:
        plan, base = planned(base, read, plan_path, plan_seconds, seed, outputs)
        settings, stop = Settings(seconds=seconds, seed=seed), stop_heeded()
        movable = None if ALL in may_move else may_move
        answers = ask(
            base,
            plan,
            enquiries,
            may_move=movable,
            on_time_only=on_time_only,
            settings=settings,
            stop=stop,
        )
        combinations = best_combinations(
            base,
            plan,
            enquiries,
            may_move=movable,
            on_time_only=on_time_only,
            settings=settings,
            stop=stop,
        )
        whole = _with(base, enquiries, combinations.best.names)
        best = listed_anew(
            combinations.best.plan, whole
        )  # enquiries not taken are no checks of this base
        seconds_taken = time.monotonic() - began
        outcome = as_outcome(best, whole, settings, seconds_taken, "question", audit(base, plan))
        if outcome.audit.broken:
            raise AuditError(outcome.audit.broken)
        as_read = _with(as_read, enquiries, combinations.best.names)

        def write_plan(path: Path) -> None:
            report(
                whole,
                outcome,
                path,
                read.messages,
                where=read.where,
                workbook=as_read,
                earlier=plan,
            )

        remark = ""
        if combinations.best.names:
            remark = " (add the enquiries taken to the sheet Checks before you use it)"
        outputs.write(plan_out, write_plan, remark)
        outputs.write(
            out, lambda path: write_enquiries_workbook(answers, combinations, base, path, (plan,))
        )
    click.echo(enquiries_in_words(answers, combinations, base))
    return outputs.end(Exit.PLANNED)


def _day(moment: datetime | None) -> date | None:
    return None if moment is None else moment.date()


def _with(base: Base, enquiries: Sequence[Check], names: Sequence[str]) -> Base:
    """Return the base with the enquiries that are taken among its checks."""
    taken = [check for check in enquiries if check.name in names]
    return base.replace(checks=(*base.checks, *taken))
