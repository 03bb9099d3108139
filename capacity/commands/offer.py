"""``capacity offer``: whether an aircraft can be taken too, when, and at what price."""

import time
from collections.abc import Sequence
from datetime import date, datetime
from pathlib import Path

import click

from capacity.commands.as_outcome import as_outcome
from capacity.commands.common import (
    BOOK,
    PLAN,
    as_of_plans,
    file_option,
    opened,
    out_option,
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
from capacity.inputs.limited import offers_and_findings
from capacity.inputs.offers_book import notes_of_offers
from capacity.messages import Level
from capacity.plans.audit import audit
from capacity.plans.listing import listed_anew
from capacity.questions.enquiries.asked import ask
from capacity.questions.enquiries.asked import offer as offer_of
from capacity.questions.enquiries.combinations import best_sets
from capacity.reports import report
from capacity.reports.enquiries.text import offers_in_words
from capacity.reports.enquiries.workbook import write_offers_workbook
from capacity.settings import Settings

ALL = "all"


@click.command()
@BOOK
@PLAN
@file_option(
    "--candidates",
    "candidates",
    "OFFERS.xlsx",
    "Offers: the columns of Checks; Status may be missing.",
)
@click.option("--type", "aircraft_type", help="Aircraft type of one offer.")
@click.option("--package", help="Package of one offer.")
@click.option("--earliest", type=DAY, help="First day on which it may come in.")
@click.option("--latest", type=DAY, help="Last day on which it may come in.")
@click.option("--agreed-out", type=DAY, help="Day on which it is to go home.")
@click.option("--late-cost", type=AMOUNT, default=0.0, help="Money a day past that.")
@click.option("--price", type=AMOUNT, default=0.0, help="What it pays.")
@click.option(
    "--may-move",
    multiple=True,
    metavar="CHECK",
    help="A check that may move for an offer (again for more; 'all'). None by default.",
)
@click.option("--on-time-only", is_flag=True, help="No place that goes home past Agreed out.")
@seconds_option(10.0, "Wall time for each offer when others may move, and for the best set.")
@click.option(
    "--plan-seconds",
    type=SECONDS,
    default=60.0,
    show_default=True,
    help="Wall time of the plan, where none is given.",
)
@seed_option()
@out_option("ANSWER.xlsx", "Workbook with every slot, the curves and the best sets.")
@out_option("PLAN.json", "Summary of the plan that takes the best set.", "--accept")
def offer(
    book: Path,
    plan_path: Path | None,
    candidates: Path | None,
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
    accept: Path | None,
) -> Exit:
    """Ask what one more aircraft, or a list of them, would cost beside a plan.

    For each: every slot it could have and what that costs, the lowest price at which it pays,
    who would have to move, the weeks it overloads. For several: the best set to accept.
    """
    began = time.monotonic()
    refuse_wrong_outputs(
        [book, plan_path, candidates], ("--out", out, ".xlsx"), ("--accept", accept, ".json")
    )
    one = (aircraft_type, package, earliest)
    if (candidates is None) == any(part is None for part in one):
        raise click.UsageError(
            "Give either --candidates, or --type, --package and --earliest of one aircraft."
        )
    base, read = opened(book, as_of_plans(plan_path))
    offers: Sequence[Check]
    if candidates is not None:
        offers, findings = offers_and_findings(candidates, base)
        if any(finding.level is Level.ERROR for finding in findings):
            raise InputError(findings)
        show(findings)
    else:
        assert aircraft_type is not None
        assert package is not None
        assert earliest is not None
        offers = [
            offer_of(
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
        show(list(notes_of_offers(offers, base)))
    workbook = base
    with Outputs(beside=accept or out) as outputs:
        plan, base = planned(base, read, plan_path, plan_seconds, seed, outputs)
        settings, stop = Settings(seconds=seconds, seed=seed), stop_heeded()
        movable = None if ALL in may_move else may_move
        answers = ask(
            base,
            plan,
            offers,
            may_move=movable,
            on_time_only=on_time_only,
            settings=settings,
            stop=stop,
        )
        sets = best_sets(
            base,
            plan,
            offers,
            may_move=movable,
            on_time_only=on_time_only,
            settings=settings,
            stop=stop,
        )
        whole = _with(base, offers, sets.best.names)
        best = listed_anew(sets.best.plan, whole)  # offers not taken are no checks of this base
        seconds_taken = time.monotonic() - began
        outcome = as_outcome(best, whole, settings, seconds_taken, "question", audit(plan, base))
        if outcome.audit.broken:
            raise AuditError(outcome.audit.broken)
        as_read = _with(workbook, offers, sets.best.names)

        def write_plan(path: Path) -> None:
            report(outcome, whole, path, read.findings, where=read.where, workbook=as_read)

        remark = ""
        if sets.best.names:
            remark = " (add the offers taken to Checks before you go on with it)"
        outputs.write(accept, write_plan, remark)
        outputs.write(out, lambda path: write_offers_workbook(answers, sets, base, path, (plan,)))
    click.echo(offers_in_words(answers, sets, base))
    return outputs.end(Exit.PLANNED)


def _day(moment: datetime | None) -> date | None:
    return None if moment is None else moment.date()


def _with(base: Base, offers: Sequence[Check], names: Sequence[str]) -> Base:
    """Return the base with the offers that are taken among its checks."""
    taken = [check for check in offers if check.name in names]
    return base.replace(checks=(*base.checks, *taken))
