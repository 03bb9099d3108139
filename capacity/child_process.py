"""How a child process of the tool is started: only what is installed is found, by its own name."""

import sys
from pathlib import Path

ABOVE = Path(__file__).resolve().parents[1]
"""The folder in which the package ``capacity`` stands."""

_RUN = "import runpy, sys; sys.path.append(sys.argv.pop(1)); "
_AS_MAIN = "runpy.run_module(sys.argv.pop(1), run_name='__main__', alter_sys=True)"


def python_command(module: str, *arguments: str, above: Path = ABOVE) -> list[str]:
    """Return the command that runs a module in a Python of its own.

    ``python -m`` puts the working folder first on the path, so that a file ``random.py`` which
    lies beside somebody's workbook would run in place of the library's. Here the path begins
    with the standard library (``-P``, Python 3.11), and the folder of this package, which an
    installation has on the path anyhow, comes last, or ``above`` in place of it.
    """
    return [sys.executable, "-P", "-c", _RUN + _AS_MAIN, str(above), module, *arguments]
