"""``capacity crews``: who works where, shift by shift."""

from datetime import UTC, datetime
from functools import partial
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
from capacity.commands.option_types import DAY, FileName, FiniteRange
from capacity.commands.outputs import Outputs
from capacity.crews.assign import Staffed, assign_crews
from capacity.crews.crew_settings import CrewSettings
from capacity.errors import OutputError
from capacity.facts import Base
from capacity.reports.crews.text import crews_in_words
from capacity.reports.crews.workbook import write_crews_workbook
from capacity.reports.kit.whole_file import refuse_unwritable, write_whole
from capacity.reports.plan.calendar_feed import crew_calendar

DEFAULTS = CrewSettings()


@click.command()
@BOOK
@PLAN
@click.option("--from", "first_day", type=DAY, help="First day to staff.")
@click.option(
    "--weeks",
    type=click.IntRange(1, 13),
    default=DEFAULTS.weeks,
    show_default=True,
    help="Weeks to staff.",
)
@seconds_option(DEFAULTS.seconds, "Wall time, of the plan and of the crews each.")
@seed_option()
@click.option(
    "--contract-share",
    type=click.Choice(["rule", "warn", "off"]),
    default=DEFAULTS.contract_share,
    show_default=True,
    help="Contract people at most half of each hangar and shift.",
)
@click.option(
    "--overtime-hours",
    type=FiniteRange(0, 8),
    default=DEFAULTS.overtime_hours,
    show_default=True,
    help="Attended hours that a person may stay longer, a shift.",
)
@click.option("--no-call-in", is_flag=True, help="Nobody is called in on a day off.")
@out_option("CREWS.xlsx", "Crew workbook with the shift lists.")
@click.option(
    "--calendars",
    metavar="FOLDER",
    type=FileName(file_okay=False, exists=True),
    help="Folder for a calendar feed (.ics) a crew.",
)
def crews(
    book: Path,
    plan_path: Path | None,
    first_day: datetime | None,
    weeks: int,
    seconds: float,
    seed: int,
    contract_share: str,
    overtime_hours: float,
    no_call_in: bool,
    out: Path | None,
    calendars: Path | None,
) -> Exit:
    """Assign crews to aircraft, day by day and shift by shift.

    Stages move inside their float. In this order: the man-hours of the plan met, least
    overtime, fewest crews an aircraft, level days.
    """
    refuse_wrong_outputs([book, plan_path], ("--out", out, ".xlsx"))
    if calendars is not None:
        refuse_unwritable(calendars / "calendar.ics")
    base, read = opened(book, as_of_plans(plan_path))
    if first_day is not None and not base.first_day <= first_day.date() <= base.last_in_day:
        raise click.BadParameter(
            f"name a day from {base.first_day} to {base.last_in_day}", param_hint="--from"
        )
    settings = CrewSettings(
        weeks=weeks,
        first_day=first_day.date() if first_day else None,
        seconds=seconds,
        seed=seed,
        contract_share=contract_share,
        overtime_hours=overtime_hours,
        call_in=not no_call_in,
    )
    with Outputs(beside=out) as outputs:
        plan, base = planned(base, read, plan_path, seconds, seed, outputs)
        staffed = assign_crews(plan, base, settings, stop_heeded())
        outputs.write(out, lambda path: write_crews_workbook(staffed, plan, base, path))
        if calendars is not None:
            _write_calendars(staffed, base, calendars, outputs)
    click.echo(crews_in_words(staffed, base))
    return outputs.end(Exit.PLANNED)


def _write_calendars(staffed: Staffed, base: Base, folder: Path, outputs: Outputs) -> None:
    stamp = datetime.now(UTC)
    written = 0
    for number, crew in enumerate(base.crews, start=1):
        name = "".join(c if c.isalnum() else "-" for c in crew.name)
        path = folder / f"{number:02}-{name}.ics"
        write = partial(write_whole, crew_calendar(staffed.plan, base, crew.name, stamp=stamp))
        try:
            write(path)
            written += 1
        except OutputError as fault:
            outputs.failed(fault, path, write)
    outputs.said(f"{written} calendar feeds in {folder}")
