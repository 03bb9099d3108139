"""``capacity enquiry``: whether an aircraft can be taken too, when, and at what price."""

import time
from collections.abc import Callable
from datetime import date, datetime
from pathlib import Path
from typing import TypeVar

import click

from capacity.commands.asked_enquiries import AskedAbout
from capacity.commands.booking import refuse_workbook_out
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
    stop_heeded,
    workers_option,
)
from capacity.commands.exits import Exit
from capacity.commands.option_types import AMOUNT, DAY, SECONDS
from capacity.commands.outputs import Outputs
from capacity.commands.taken_enquiries import Answered, BookedFiles, write_booked, write_taken
from capacity.questions.enquiries.booking import anyway_combination
from capacity.questions.enquiries.combinations import alone_and_together
from capacity.reports.enquiries.booked_wording import (
    NO_SLOT_AT_ALL,
    NOTHING_BOOKED,
    booked_in_words,
)
from capacity.reports.enquiries.text import enquiries_in_words
from capacity.reports.enquiries.workbook import write_enquiries_workbook
from capacity.reports.kit.cell_text import printable
from capacity.settings import Settings

Found = TypeVar("Found")
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
    help="The aircraft described in one line, in place of --type and --package: "
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
    about = AskedAbout(
        enquiries_path,
        aircraft_type,
        package,
        on_ground,
        name,
        customer,
        _day(earliest),
        _day(latest),
        _day(agreed_out),
        agreed_days,
        late_cost,
        price,
    )
    about.refuse_contradictions()
    if booking is None and (booked_out or calendar):
        raise click.UsageError("--booked-out and --calendar are of a booking: give --book too.")
    refuse_workbook_out(workbook, workbook_out, booking is not None, "what --book books")
    as_of = as_of_plans(plan_path)
    as_read, read = opened(workbook, as_of)
    enquiries, packages = about.in_base(as_read)
    with Outputs(beside=plan_out or out or booked_out or calendar) as outputs:
        first = Settings(seconds=plan_seconds, seed=seed, workers=workers)
        plan, base = planned(as_read, read, plan_path, first, outputs)
        base = base.replace(packages=(*base.packages, *packages))
        settings = Settings(seconds=seconds, seed=seed, workers=workers)
        stop = stop_heeded()

        def asked(question: Callable[..., Found]) -> Found:
            return question(
                base,
                plan,
                enquiries,
                settings,
                may_move=None if ALL in may_move else may_move,
                on_time_only=on_time_only,
                stop=stop,
            )

        answers, combinations = asked(alone_and_together)
        lines = [enquiries_in_words(answers, combinations, base)]
        taken = time.monotonic() - began
        answered = Answered(
            workbook, read, as_read, base, plan, enquiries, packages, settings, taken
        )
        best = combinations.best
        if booking is None:
            write_taken(answered, best, outputs, plan_out)
        else:
            if booking == ANYWAY and len(best.names) < len(enquiries):
                best = asked(anyway_combination)
            if best.names:
                files = BookedFiles(plan_out, booked_out, calendar, workbook_out)
                made = write_booked(answered, best, outputs, files, as_of)
                lines += map(printable, booked_in_words(made))
            else:
                has_slot = any(answer.slots or answer.with_moves for answer in answers)
                lines.append(NOTHING_BOOKED if has_slot else NO_SLOT_AT_ALL)
        outputs.write(
            out, lambda path: write_enquiries_workbook(answers, combinations, base, path, (plan,))
        )
    click.echo("\n".join(lines))
    return outputs.end(Exit.PLANNED)


def _day(moment: datetime | None) -> date | None:
    return None if moment is None else moment.date()
