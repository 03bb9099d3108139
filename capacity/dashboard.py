"""Start the dashboard in a browser: a server on this machine alone, and nothing sent elsewhere."""

import importlib.util
import os
import signal
import subprocess
import tomllib
from collections.abc import Iterator, Mapping
from pathlib import Path

import capacity
from capacity.child_process import python_command
from capacity.errors import CapacityError

PACKAGE = Path(capacity.__file__).parent
PLACES = (PACKAGE / "ui", PACKAGE.parent / "ui")
"""Where the pages are: in the installed package, or beside it in the checkout."""

BOOK_VARIABLE = "CAPACITY_DASHBOARD_BOOK"
"""The environment variable that names the workbook to the pages."""


def run(book: Path | None = None, port: int | None = None) -> int:
    """Serve the dashboard until it is stopped; return the exit code of the server.

    ``book`` is open on every desk from the start. Without a ``port`` the server takes the
    first free one from 8501 on.

    Raises
    ------
    CapacityError
        When the libraries or the pages of the dashboard are not installed.
    """
    environment = {**os.environ}
    if book is not None:
        environment[BOOK_VARIABLE] = str(book.resolve())
    child = subprocess.Popen(command(port), env=environment)
    try:
        return child.wait()
    except KeyboardInterrupt:
        child.send_signal(signal.SIGINT)
        return child.wait()


def command(port: int | None = None) -> list[str]:
    """Return the command that serves the dashboard, with every setting of its own file.

    Settings on the command line count more than files and variables elsewhere on the machine.

    Raises
    ------
    CapacityError
        When the libraries or the pages of the dashboard are not installed.
    """
    if importlib.util.find_spec("streamlit") is None:
        raise CapacityError("The dashboard needs the library streamlit; install the package again.")
    pages = next((place for place in PLACES if (place / "app.py").is_file()), None)
    if pages is None:
        raise CapacityError("The pages of the dashboard are not installed.")
    settings = tomllib.loads((pages / ".streamlit" / "config.toml").read_text(encoding="utf-8"))
    options = [f"--{name}={value}" for name, value in _options(settings)]
    if port is not None:
        options.append(f"--server.port={port}")
    return python_command("streamlit", "run", str(pages / "app.py"), *options)


def _options(settings: Mapping[str, object], above: str = "") -> Iterator[tuple[str, str]]:
    """Turn tables of settings into dotted names with their values.

    Lists are left to the file, which the server reads too: those in it are sizes of letters.
    """
    for name, value in settings.items():
        if isinstance(value, Mapping):
            yield from _options(value, f"{above}{name}.")
        elif not isinstance(value, list):
            yield f"{above}{name}", str(value).lower() if isinstance(value, bool) else str(value)
