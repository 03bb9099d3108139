"""How a child process of the tool is started: only what is installed is found, by its own name."""

import sys
from pathlib import Path
from typing import TypedDict

ABOVE = Path(__file__).resolve().parents[1]
"""The folder in which the package ``capacity`` stands."""

_RUN = "import runpy, sys; sys.path.append(sys.argv.pop(1)); "
_AS_MAIN = "runpy.run_module(sys.argv.pop(1), run_name='__main__', alter_sys=True)"


class Apart(TypedDict, total=False):
    """What ``subprocess.Popen`` is told, so that a child hears no Ctrl-C of the terminal."""

    start_new_session: bool
    creationflags: int


NEW_PROCESS_GROUP = 0x00000200
"""``subprocess.CREATE_NEW_PROCESS_GROUP``, which other systems than Windows do not know."""


def out_of_reach(platform: str = sys.platform) -> Apart:
    """Return how a child is started that only its parent ends: Windows knows no sessions."""
    if platform == "win32":
        return {"creationflags": NEW_PROCESS_GROUP}
    return {"start_new_session": True}


def python_command(module: str, *arguments: str, above: Path = ABOVE) -> list[str]:
    """Return the command that runs a module in a Python of its own.

    ``python -m`` puts the working folder first on the path, so that a file ``random.py`` which
    lies beside somebody's workbook would run in place of the library's. Here the path begins
    with the standard library (``-P``, Python 3.11), and the folder of this package, which an
    installation has on the path anyhow, comes last, or ``above`` in place of it.
    """
    return [sys.executable, "-P", "-c", _RUN + _AS_MAIN, str(above), module, *arguments]
