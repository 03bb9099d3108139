"""Start the dashboard in a browser: a server on this machine alone, and nothing sent elsewhere."""

import importlib.util
import os
import re
import signal
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import FrameType

import capacity
from capacity.child_process import python_command
from capacity.errors import CapacityError
from capacity.sign_in import FILE_VARIABLE, read_sign_in

PACKAGE = Path(capacity.__file__).parent
PLACES = (PACKAGE / "ui", PACKAGE.parent / "ui")
"""Where the pages are: in the installed package, or beside it in the checkout."""

BOOK_VARIABLE = "CAPACITY_DASHBOARD_BOOK"
"""The environment variable that names the workbook to the pages."""

KEY_VARIABLE = "CAPACITY_DASHBOARD_KEY"
"""The environment variable that may hold a key, so that the address is the same every time."""

WORKERS_VARIABLE = "CAPACITY_DASHBOARD_WORKERS"
"""The environment variable that tells the pages how many processes each search may have."""

GOOD_KEY = re.compile("[A-Za-z0-9_-]{32,200}")
"""One part of an address; 32 letters are 192 bits, if each was drawn from 64."""

SECONDS_TO_END = 15.0
"""The server ends itself after 10 s at the latest."""

ENDS = ("SIGTERM", "SIGHUP")
"""Signals that end the command, beside Ctrl-C; the second is not on every system."""


def run(
    book: Path | None = None,
    port: int | None = None,
    in_a_browser: bool = True,
    sign_in: Path | None = None,
    listen: str | None = None,
    workers: int | None = None,
) -> int:
    """Serve the dashboard until it is stopped; return an exit code.

    With a file ``sign_in`` whoever comes has to sign in, and it may ``listen`` on another address
    than this machine's own. Each search has so many ``workers``, or two.

    ``book`` is open on every desk from the start. Without a ``port`` the server takes the
    first free one from 8501 on. It ends with this process, however that ends: it holds the
    other side of a pipe.

    Raises
    ------
    CapacityError
        When the libraries or the pages of the dashboard are not installed, when the key of the
        environment could be guessed, when people could not sign in, or when the server dies.
    """
    own = (FILE_VARIABLE, WORKERS_VARIABLE)
    environment = {name: value for name, value in os.environ.items() if name not in own}
    if sign_in is not None:
        _refuse_without_libraries()
        environment[FILE_VARIABLE] = str(read_sign_in(sign_in).path.resolve())
    elif listen is not None:
        raise CapacityError(
            "without sign-in the dashboard listens on this machine alone: give --sign-in too."
        )
    if workers is not None:
        environment[WORKERS_VARIABLE] = str(workers)
    if book is not None:
        environment[BOOK_VARIABLE] = str(book.resolve())
    if not GOOD_KEY.fullmatch(environment.get(KEY_VARIABLE, "-" * 32)):
        raise CapacityError(
            f"{KEY_VARIABLE} must be 32 to 200 letters, digits, hyphens or underscores, drawn at "
            "random; without it a new key is made at each start."
        )
    with _signals_interrupt():
        try:
            child = subprocess.Popen(
                command(port, in_a_browser, listen), env=environment, stdin=subprocess.PIPE
            )
        except OSError as fault:
            raise CapacityError(
                f"the dashboard's server could not be started ({fault.strerror}): raise the limit."
            ) from fault
        with child:  # its pipe is closed at the end
            try:
                code = child.wait()
            except KeyboardInterrupt:
                _end(child)
                return 0
    if code < 0:
        raise CapacityError(f"the dashboard's server was ended by signal {-code}; start it again.")
    return code


def _refuse_without_libraries() -> None:
    for library in ("authlib", "httpx"):
        if importlib.util.find_spec(library) is None:
            raise CapacityError(
                f"Sign-in needs the library {library}: pip install 'hangar-capacity[sign-in]'."
            )


def command(
    port: int | None = None, in_a_browser: bool = True, listen: str | None = None
) -> list[str]:
    """Return the command that serves the dashboard until its standard input ends.

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
    options = ["--end-with-input"]
    if port is not None:
        options.append(f"--port={port}")
    if not in_a_browser:
        options.append("--no-browser")
    if listen is not None:
        options.append(f"--listen={listen}")
    return python_command("ui.serving.server", *options, above=pages.parent)


def _end(child: "subprocess.Popen[bytes]") -> None:
    """End the server in peace, and at once when it takes too long or is asked for again."""
    try:
        if child.stdin is not None:
            child.stdin.close()
        child.wait(SECONDS_TO_END)
    except (KeyboardInterrupt, subprocess.TimeoutExpired):
        child.kill()
        child.wait()


@contextmanager
def _signals_interrupt() -> Iterator[None]:
    """Let signals that end the command do so as Ctrl-C does; those that are ignored stay so."""

    def interrupt(number: int, frame: FrameType | None) -> None:
        raise KeyboardInterrupt

    numbers = [getattr(signal, name) for name in ENDS if hasattr(signal, name)]
    before = {number: signal.getsignal(number) for number in numbers}
    try:
        for number, handler in before.items():
            if handler is not signal.SIG_IGN:
                signal.signal(number, interrupt)
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)
