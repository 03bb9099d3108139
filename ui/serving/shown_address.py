"""The address of the dashboard, told to who started it, and to nobody else on the machine."""

import os
import sys
import tempfile
import webbrowser
from collections.abc import Iterator
from contextlib import contextmanager
from html import escape
from pathlib import Path
from threading import Thread

from capacity.commands.exits import Exit
from ui.serving.ending import leave

WORDS = """
The dashboard is at

  {address}

It listens on this machine alone, since nobody has to sign in (--sign-in). Whoever has this
address can see and change your work on it: keep it to yourself.
It holds until the dashboard ends (Ctrl-C).
"""

PAGE = """<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="referrer" content="no-referrer">
<meta http-equiv="refresh" content="0; url={address}"><title>Hangar capacity</title></head>
<body><p><a href="{address}">Open the dashboard</a></p></body></html>
"""


@contextmanager
def shown_address(address: str, in_a_browser: bool) -> Iterator[None]:
    """Print the address, and show it in a browser where there is a screen, while this lasts.

    The browser is given a file that only this user can read: what is on a command line can be
    read by everybody on the machine.
    """
    sys.stdout.write(WORDS.format(address=address))
    sys.stdout.flush()
    if (fault := getattr(sys.stdout, "fault", None)) is not None:
        # Nobody could open the dashboard: better to end at once, and to say why.
        sys.stderr.write(f"error the address could not be printed ({fault.strerror}).\n")
        leave(Exit.CANNOT_WRITE)
    if not (in_a_browser and _has_a_screen()):
        yield
        return
    with tempfile.TemporaryDirectory(prefix="hangar-capacity-") as folder:
        page = Path(folder) / "dashboard.html"
        page.write_text(PAGE.format(address=escape(address)), encoding="utf-8")
        page.chmod(0o600)
        Thread(target=webbrowser.open, args=(page.as_uri(),), daemon=True).start()
        yield


def _has_a_screen() -> bool:
    """Return whether a browser can be shown; otherwise one of letters would take the terminal."""
    if sys.platform in ("win32", "darwin"):
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))
