"""``capacity enquiry``: whether an aircraft can be taken too, when, and at what price."""

import time
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from pathlib import Path

import click

from capacity.commands.booking import (
    WithAdded,
    note_without_copy,
    refuse_workbook_out,
    with_added,
)
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
    workers_option,
)
from capacity.commands.exits import Exit
from capacity.commands.option_types import AMOUNT, DAY, SECONDS
from capacity.commands.outputs import Outputs
from capacity.commands.saved_meanwhile import Writer
from capacity.errors import AuditError, InputError
from capacity.facts import Base, Check, Package, Status
from capacity.inputs import Book
from capacity.inputs.aircraft_on_ground import OnGround, aircraft_on_ground
from capacity.inputs.enquiry_faults import notes_of_enquiries
from capacity.inputs.limited import enquiries_and_messages
from capacity.messages import Level
from capacity.plans.audit import audit
from capacity.plans.listing import listed_anew
from capacity.plans.plan import Plan
from capacity.questions.asking.as_outcome import as_outcome
from capacity.questions.enquiries.asked import enquiry as enquiry_of
from capacity.questions.enquiries.booking import Booked, anyway_combination, booked
from capacity.questions.enquiries.combinations import alone_and_together
from capacity.questions.enquiries.values import Combination
from capacity.reports import report
from capacity.reports.answers import report as report_answer
from capacity.reports.enquiries.booked_wording import (
    NO_SLOT_AT_ALL,
    NOTHING_BOOKED,
    booked_in_words,
)
from capacity.reports.enquiries.text import enquiries_in_words
from capacity.reports.enquiries.workbook import write_enquiries_workbook
from capacity.reports.kit.cell_text import printable
from capacity.settings import Settings

ALL = "all"
WORTH_IT, ANYWAY = "worth-it", "anyway"


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
@click.option(
    "--aircraft-on-ground",
    "on_ground",
    metavar="LINE",
    help="The aircraft told in one line, in place of --type and --package: "
    "'TYPE; 12 days; Airframe 300, Avionics 80'; as in capacity replan.",
)
@click.option("--name", "name", help="What the check is called; 'Enquiry' unless set.")
@click.option("--customer", default="", help="Whose aircraft it is.")
@click.option("--earliest", type=DAY, help="First day on which it may come in.")
@click.option(
    "--latest",
    type=DAY,
    help="Last day on which it may come in; unless set, as late as the plan allows.",
)
@click.option("--agreed-out", type=DAY, help="Day by which it is to be out.")
@click.option(
    "--agreed-days",
    type=click.IntRange(1, 1000),
    help="Calendar days after it comes in by which it is to be out, in place of --agreed-out.",
)
@click.option("--late-cost", type=AMOUNT, default=0.0, help="Cost per day late out.")
@click.option("--price", type=AMOUNT, default=0.0, help="Price that is paid for it.")
@click.option(
    "--may-move",
    multiple=True,
    metavar="CHECK",
    help="A check that may move for it; give the option again for more, or 'all'. None unless set.",
)
@click.option("--on-time-only", is_flag=True, help="Leave out slots that are late out.")
@click.option(
    "--book",
    "booking",
    type=click.Choice([WORTH_IT, ANYWAY]),
    help="Take the enquiries into the plan as booked checks: the best combination if it is worth "
    "it, or whatever has a slot, anyway.",
)
@seconds_option(10.0, "Time for each enquiry when others may move, and for the best combination.")
@click.option(
    "--plan-seconds",
    type=SECONDS,
    default=60.0,
    show_default=True,
    help="Time for the plan that is made first, where --plan names none.",
)
@seed_option()
@workers_option()
@out_option("ANSWER.xlsx", "Workbook of the answer: slots, costs, combinations.")
@plan_out_option("Plan file of the plan with the best combination taken, or with what is booked.")
@out_option(
    "BOOKED.xlsx",
    "With --book, the plan workbook with what is booked, and the sheet Changes.",
    "--booked-out",
)
@out_option("BAYS.ics", "With --book, calendar feed of all bays.", "--calendar")
@out_option(
    "NEXT.xlsx",
    "With --book, copy of WORKBOOK with what is booked as further rows, to go on with.",
    "--workbook-out",
)
def enquiry(
    workbook: Path,
    plan_path: Path | None,
    enquiries_path: Path | None,
    aircraft_type: str | None,
    package: str | None,
    on_ground: str | None,
    name: str | None,
    customer: str,
    earliest: datetime | None,
    latest: datetime | None,
    agreed_out: datetime | None,
    agreed_days: int | None,
    late_cost: float,
    price: float,
    may_move: tuple[str, ...],
    on_time_only: bool,
    booking: str | None,
    seconds: float,
    plan_seconds: float,
    seed: int,
    workers: int | None,
    out: Path | None,
    plan_out: Path | None,
    booked_out: Path | None,
    calendar: Path | None,
    workbook_out: Path | None,
) -> Exit:
    """Ask what one more aircraft, or several, would cost on top of a plan.

    For each: every slot it could have and its cost, the break-even price, who would have to
    move, the weeks with overload. For several: the best combination to take. With --book what
    is accepted goes into the plan: plan workbook, plan file, calendar feed, and a copy of WORKBOOK.
    """
    began = time.monotonic()
    refuse_wrong_outputs(
        [workbook, plan_path, enquiries_path],
        ("--out", out, ".xlsx"),
        ("--plan-out", plan_out, ".json"),
        ("--booked-out", booked_out, ".xlsx"),
        ("--calendar", calendar, ".ics"),
        ("--workbook-out", workbook_out, ".xlsx"),
    )
    told = (earliest,) if on_ground is not None else (aircraft_type, package, earliest)
    if on_ground is not None and (aircraft_type, package) != (None, None):
        raise click.UsageError(
            "--aircraft-on-ground says type and work: leave out --type and --package."
        )
    if enquiries_path is not None and (on_ground or name or customer):
        raise click.UsageError(
            "--enquiries names its own aircraft: leave out --aircraft-on-ground, --name and "
            "--customer."
        )
    if (enquiries_path is None) == any(part is None for part in told):
        raise click.UsageError(
            "Give either --enquiries, or --earliest with --type and --package, or with "
            "--aircraft-on-ground, of one aircraft."
        )
    if booking is None and (booked_out or calendar):
        raise click.UsageError("--booked-out and --calendar are of a booking: give --book too.")
    refuse_workbook_out(workbook, workbook_out, booking is not None, "what --book books")
    base, read = opened(workbook, as_of_plans(plan_path))
    packages: Sequence[Package] = ()
    enquiries: Sequence[Check]
    if enquiries_path is not None:
        enquiries = _listed(enquiries_path, base)
    else:
        assert earliest is not None
        ways = _Said(
            earliest.date(),
            _day(latest),
            _day(agreed_out),
            agreed_days,
            late_cost,
            price,
            name,
            customer,
        )
        if on_ground is not None:
            one = _on_ground(on_ground, base, ways)
            enquiries, packages = [one.check], [one.package]
        else:
            assert aircraft_type is not None
            assert package is not None
            enquiries = [_of_type(aircraft_type, package, base, ways)]
    as_read = base
    with Outputs(beside=plan_out or out or booked_out or calendar) as outputs:
        plan, base = planned(
            base,
            read,
            plan_path,
            Settings(seconds=plan_seconds, seed=seed, workers=workers),
            outputs,
        )
        base = base.replace(packages=(*base.packages, *packages))
        settings = Settings(seconds=seconds, seed=seed, workers=workers)
        stop = stop_heeded()
        movable = None if ALL in may_move else may_move
        answers, combinations = alone_and_together(
            base,
            plan,
            enquiries,
            settings,
            may_move=movable,
            on_time_only=on_time_only,
            stop=stop,
        )
        lines = [enquiries_in_words(answers, combinations, base)]
        taken = time.monotonic() - began
        if booking is None:
            whole = as_read.replace(packages=base.packages)
            write = _plan_taken(
                base, whole, plan, enquiries, combinations.best, settings, taken, read
            )
            remark = ""
            if combinations.best.names:
                remark = " (add the enquiries taken to the sheet Checks before you use it)"
            outputs.write(plan_out, write, remark)
        else:
            best = combinations.best
            if booking == ANYWAY and len(best.names) < len(enquiries):
                best = anyway_combination(
                    base,
                    plan,
                    enquiries,
                    settings,
                    may_move=movable,
                    on_time_only=on_time_only,
                    stop=stop,
                )
            if best.names:
                made = booked(base, plan, enquiries, best, settings, taken)
                checks = [made.base.check(one) for one in made.names]
                when = as_of_plans(plan_path)
                added = with_added(workbook, as_read, read, checks, packages, when)
                _write_booked(outputs, made, added, plan_out, [booked_out, calendar], workbook_out)
                lines += map(printable, booked_in_words(made))
                if plan_out is not None and workbook_out is None:
                    show([note_without_copy(made.names, workbook)])
            else:
                has_slot = any(answer.slots or answer.with_moves for answer in answers)
                lines.append(NOTHING_BOOKED if has_slot else NO_SLOT_AT_ALL)
        outputs.write(
            out, lambda path: write_enquiries_workbook(answers, combinations, base, path, (plan,))
        )
    click.echo("\n".join(lines))
    return outputs.end(Exit.PLANNED)


@dataclass(frozen=True)
class _Said:
    """What the options say of one aircraft, whichever way its work is told."""

    earliest: date
    latest: date | None
    agreed_out: date | None
    agreed_days: int | None
    late_cost: float
    price: float
    name: str | None
    customer: str


def _listed(path: Path, base: Base) -> Sequence[Check]:
    """Return the enquiries of a workbook; its messages are shown, and errors raised."""
    enquiries, messages = enquiries_and_messages(path, base)
    if any(message.level is Level.ERROR for message in messages):
        raise InputError(messages)
    show(messages)
    return enquiries


def _of_type(aircraft_type: str, package: str, base: Base, said: _Said) -> Check:
    """Return the enquiry of an aircraft with a package of the workbook."""
    found = enquiry_of(
        base,
        aircraft_type,
        package,
        said.earliest,
        agreed_out=said.agreed_out,
        agreed_days=said.agreed_days,
        latest=said.latest,
        late_cost_per_day=said.late_cost,
        price=said.price,
        name=said.name or "Enquiry",
        customer=said.customer,
    )
    show(list(notes_of_enquiries([found], base)))
    return found


def _on_ground(line: str, base: Base, said: _Said) -> OnGround:
    """Return the enquiry of an aircraft on ground; what its line says goes before the options."""
    more = {"name": said.name, "customer": said.customer}
    parts = [line, *(f"{word} {value}" for word, value in more.items() if value)]
    (one,) = aircraft_on_ground(
        ["; ".join(parts)],
        base,
        said.earliest,
        latest=said.latest or max(base.last_in_day, said.earliest),
        status=Status.OPTION,
    )
    check = replace(
        one.check,
        third_party=True,
        agreed_out=one.check.agreed_out or said.agreed_out,
        agreed_days=None if one.check.agreed_out else said.agreed_days,
        late_cost_per_day=one.check.late_cost_per_day or said.late_cost,
        price=said.price,
    )
    return OnGround(check, one.package)


def _day(moment: datetime | None) -> date | None:
    return None if moment is None else moment.date()


def _write_booked(
    outputs: Outputs,
    made: Booked,
    added: WithAdded,
    plan_out: Path | None,
    others: Sequence[Path | None],
    workbook_out: Path | None,
) -> None:
    """Write the plan with what is booked, as one of the workbook that has it."""

    def write(path: Path) -> None:
        report_answer(added.base, made, path, added.book.messages, where=added.book.where)

    outputs.hold(write)
    outputs.write_plan(plan_out)
    for path in others:
        outputs.write(path, write)
    if added.write is not None:
        outputs.write(workbook_out, added.write)


def _plan_taken(
    base: Base,
    as_read: Base,
    plan: Plan,
    enquiries: Sequence[Check],
    best: Combination,
    settings: Settings,
    seconds: float,
    read: Book,
) -> Writer:
    """Return what writes the plan file with a combination taken, whose enquiries stay options."""
    whole, workbook = (_with(one, enquiries, best.names) for one in (base, as_read))
    # Enquiries that are not taken are no checks of this base.
    taken = listed_anew(best.plan, whole)
    outcome = as_outcome(taken, whole, settings, seconds, "question", audit(base, plan))
    if outcome.audit.broken:
        raise AuditError(outcome.audit.broken)

    def write(path: Path) -> None:
        report(
            whole, outcome, path, read.messages, where=read.where, workbook=workbook, earlier=plan
        )

    return write


def _with(base: Base, enquiries: Sequence[Check], names: Sequence[str]) -> Base:
    """Return the base with the enquiries that are taken among its checks."""
    taken = [check for check in enquiries if check.name in names]
    return base.replace(checks=(*base.checks, *taken))
