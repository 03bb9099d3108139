"""``capacity new``: an empty workbook to begin with."""

from datetime import datetime
from pathlib import Path

import click

from capacity.commands.exits import Exit
from capacity.commands.option_types import DAY, FILE
from capacity.errors import SettingsError
from capacity.template.new_workbook import new_workbook
from capacity.template.placeholders import MOST_ROWS, HoursBy, Placeholders

COUNT = click.IntRange(0, MOST_ROWS)


def _skills(
    context: click.Context, parameter: click.Parameter, value: str
) -> int | tuple[str, ...]:
    """Return the number of skills, or their names."""
    if value.strip().isdecimal():
        return int(COUNT.convert(int(value), parameter, context))
    names = tuple(" ".join(name.split()) for name in value.split(","))
    if not all(names) or len({name.casefold() for name in names}) < len(names):
        raise click.BadParameter("give a number, or names with a comma between, each once.")
    return names


@click.command()
@click.argument("workbook", metavar="WORKBOOK", type=FILE)
@click.option("--name", default="", help="Name of the base.")
@click.option(
    "--first-day", type=DAY, help="First day on which a check can come in, such as 2027-01-04."
)
@click.option("--weeks", type=click.IntRange(1, 110), help="Weeks to plan; a quarter is 13.")
@click.option("--bays", type=COUNT, default=0, help="Numbered rows for so many bays.")
@click.option("--types", type=COUNT, default=0, help="Numbered rows for so many aircraft types.")
@click.option(
    "--packages",
    type=COUNT,
    default=0,
    help="Numbered rows for so many packages, of one stage each.",
)
@click.option("--checks", type=COUNT, default=0, help="Numbered rows for so many checks.")
@click.option("--crews", type=COUNT, default=0, help="Numbered rows for so many crews.")
@click.option(
    "--skills", default="0", callback=_skills, help='How many skills, or names: "Airframe, Cabin".'
)
@click.option(
    "--hours-by",
    type=click.Choice([form.value for form in HoursBy]),
    default=HoursBy.ROWS.value,
    help="Package hours: a row for each stage and skill, or a column for each skill.",
)
def new(
    workbook: Path,
    name: str,
    first_day: datetime | None,
    weeks: int | None,
    bays: int,
    types: int,
    packages: int,
    checks: int,
    crews: int,
    skills: int | tuple[str, ...],
    hours_by: str,
) -> Exit:
    """Write an empty WORKBOOK with all its sheets: notes, lists to choose from, numbered rows.

    Fill it in, and let `capacity verify` say what is still missing. A file that is there already
    is not replaced: the command then ends with code 73.
    """
    if workbook.suffix.lower() != ".xlsx":
        raise click.BadParameter("name a file that ends in .xlsx.", param_hint="WORKBOOK")
    try:
        wanted = Placeholders(
            bays=bays,
            types=types,
            packages=packages,
            checks=checks,
            crews=crews,
            skills=skills,
            name=name,
            first_day=first_day.date() if first_day else None,
            weeks=weeks,
            hours_by=HoursBy(hours_by),
        )
    except SettingsError as fault:
        raise click.UsageError(str(fault)) from fault
    new_workbook(workbook, wanted)
    click.echo(f"written: {workbook}")
    click.echo(f"Fill it in, then: capacity verify {workbook}")
    return Exit.PLANNED
