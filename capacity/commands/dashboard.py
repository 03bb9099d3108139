"""``capacity dashboard``: the same in a browser, for three people."""

from pathlib import Path

import click

from capacity.commands.exits import Exit
from capacity.dashboard import run


@click.command()
@click.argument("book", metavar="[BOOK]", required=False, type=click.Path(path_type=Path))
@click.option("--port", type=click.IntRange(1, 65_535), default=8501, show_default=True)
def dashboard(book: Path | None, port: int) -> Exit:
    """Open the dashboard in a browser on this machine, with BOOK if one is given."""
    run(book, port)
    return Exit.PLANNED
