"""``capacity crews``: who works where, shift by shift."""

from datetime import UTC, datetime
from functools import partial
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
from capacity.commands.option_types import DAY, FileName, FiniteRange
from capacity.commands.outputs import PLAN_FILE, Outputs
from capacity.crews.assign import Staffed, assign_crews
from capacity.crews.crew_settings import CrewSettings, OwnStaffShare
from capacity.errors import OutputError
from capacity.facts import Base
from capacity.reports.crews.calendars import crew_calendars
from capacity.reports.crews.text import crews_in_words
from capacity.reports.crews.workbook import write_crews_workbook
from capacity.reports.kit.whole_file import refuse_unwritable, write_whole
from capacity.settings import Settings
from capacity.words import day

DEFAULTS = CrewSettings()


@click.command()
@WORKBOOK
@PLAN
@click.option("--first-day", type=DAY, help="First day to staff; the first of the plan unless set.")
@click.option(
    "--weeks",
    type=click.IntRange(1, 13),
    default=DEFAULTS.weeks,
    show_default=True,
    help="Weeks to staff.",
)
@seconds_option(
    DEFAULTS.seconds, "Time for the crew plan, and for the plan where one is made first."
)
@seed_option()
@workers_option(" for the plan where one is made first")
@click.option(
    "--own-staff-share",
    type=click.Choice(["hold", "warn", "off"]),
    default=DEFAULTS.own_staff_share.value,
    show_default=True,
    help="Own staff are at least half of each hangar and shift: hold it, warn, or neither.",
)
@click.option(
    "--overtime-hours",
    type=FiniteRange(0, 8),
    default=DEFAULTS.overtime_hours,
    show_default=True,
    help="Attended hours of overtime per person and shift at most.",
)
@click.option("--no-call-in", is_flag=True, help="Call nobody in on a day off.")
@PLAN_OUT
@out_option("CREWS.xlsx", "Workbook of the crew plan, with the shift lists.")
@click.option(
    "--calendars",
    metavar="FOLDER",
    type=FileName(file_okay=False, exists=True),
    help="Folder in which each crew gets a calendar feed (.ics).",
)
def crews(
    workbook: Path,
    plan_path: Path | None,
    first_day: datetime | None,
    weeks: int,
    seconds: float,
    seed: int,
    workers: int | None,
    own_staff_share: str,
    overtime_hours: float,
    no_call_in: bool,
    out: Path | None,
    plan_out: Path | None,
    calendars: Path | None,
) -> Exit:
    """Assign crews to aircraft, day by day and shift by shift.

    Stages move within their float. What counts, in this order: the demand is covered, little
    overtime, few crew-aircraft pairs, level days.
    """
    refuse_wrong_answer(workbook, plan_path, out, plan_out)
    if calendars is not None:
        refuse_unwritable(calendars / "calendar.ics")
    base, read = opened(workbook, as_of_plans(plan_path))
    if first_day is not None and not base.first_day <= first_day.date() <= base.last_in_day:
        raise click.BadParameter(
            f"name a day from {day(base.first_day)} to {day(base.last_in_day)}",
            param_hint="--first-day",
        )
    settings = CrewSettings(
        weeks=weeks,
        first_day=first_day.date() if first_day else None,
        seconds=seconds,
        seed=seed,
        own_staff_share=OwnStaffShare(own_staff_share),
        overtime_hours=overtime_hours,
        call_in=not no_call_in,
    )
    beside = plan_out or out or (calendars and calendars / PLAN_FILE)
    with Outputs(beside=beside) as outputs:
        searching = Settings(seconds=seconds, seed=seed, workers=workers)
        plan, base = planned(base, read, plan_path, searching, outputs, plan_out)
        staffed = assign_crews(base, plan, settings, stop=stop_heeded())
        outputs.write(out, lambda path: write_crews_workbook(base, staffed, plan, path))
        if calendars is not None:
            _write_calendars(staffed, base, calendars, outputs)
    click.echo(crews_in_words(staffed, base))
    return outputs.end(Exit.PLANNED)


def _write_calendars(staffed: Staffed, base: Base, folder: Path, outputs: Outputs) -> None:
    stamp = datetime.now(UTC)
    written = 0
    for name, feed in crew_calendars(staffed, base, stamp):
        path = folder / name
        write = partial(write_whole, feed)
        try:
            write(path)
            written += 1
        except OutputError as fault:
            outputs.failed(fault, path, write)
    outputs.said(f"{written} calendar feeds in {folder}")
