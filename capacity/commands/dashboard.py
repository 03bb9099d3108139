"""``capacity dashboard``: the same in a browser, for three people."""

from pathlib import Path

import click

from capacity.commands.option_types import FILE, WORKERS
from capacity.dashboard import run


@click.command()
@click.argument("workbook", metavar="[WORKBOOK]", required=False, type=FILE)
@click.option(
    "--port",
    type=click.IntRange(1, 65_535),
    help="Port; unless set, the first free one from 8501 on.",
)
@click.option("--no-browser", is_flag=True, help="Print the address, and open no browser.")
@click.option(
    "--sign-in",
    metavar="SIGN_IN.toml",
    type=FILE,
    help="File with an [auth] table for OpenID Connect: whoever comes has to sign in.",
)
@click.option(
    "--listen",
    metavar="ADDRESS",
    help="With --sign-in: address to listen on; unless set, this machine alone (127.0.0.1).",
)
@click.option(
    "--workers",
    type=WORKERS,
    metavar="NUMBER",
    help="Processes of each search; two unless set, since several people may search at once.",
)
def dashboard(
    workbook: Path | None,
    port: int | None,
    no_browser: bool,
    sign_in: Path | None,
    listen: str | None,
    workers: int | None,
) -> int:
    """Open the dashboard in a browser on this machine, with WORKBOOK if one is given.

    It opens only by the address that is printed at the start: this holds a key, made anew
    each time. With --sign-in it has no key, and shows nothing to whoever has not signed in.
    """
    return run(workbook, port, not no_browser, sign_in, listen, workers)
