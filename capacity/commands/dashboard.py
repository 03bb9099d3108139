"""``capacity dashboard``: the same in a browser, for three people."""

from pathlib import Path

import click

from capacity.commands.option_types import FILE
from capacity.dashboard import run


@click.command()
@click.argument("book", metavar="[BOOK]", required=False, type=FILE)
@click.option("--port", type=click.IntRange(1, 65_535), help="First free one from 8501 on.")
def dashboard(book: Path | None, port: int | None) -> int:
    """Open the dashboard in a browser on this machine, with BOOK if one is given."""
    return run(book, port)
