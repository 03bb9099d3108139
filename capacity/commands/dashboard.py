"""``capacity dashboard``: the same in a browser, for three people."""

from pathlib import Path

import click

from capacity.commands.option_types import FILE
from capacity.dashboard import run


@click.command()
@click.argument("workbook", metavar="[WORKBOOK]", required=False, type=FILE)
@click.option(
    "--port",
    type=click.IntRange(1, 65_535),
    help="Port; unless set, the first free one from 8501 on.",
)
@click.option("--no-browser", is_flag=True, help="Print the address, and open no browser.")
def dashboard(workbook: Path | None, port: int | None, no_browser: bool) -> int:
    """Open the dashboard in a browser on this machine, with WORKBOOK if one is given.

    It opens only by the address that is printed at the start: this holds a key, made anew
    each time.
    """
    return run(workbook, port, not no_browser)
