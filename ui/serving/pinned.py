"""The settings of the server: those of the file beside the pages, and none from anywhere else."""

import os
from pathlib import Path

from capacity.sign_in import FILE_VARIABLE

OWN_FILE = Path(__file__).parents[1] / ".streamlit" / "config.toml"
SECRETS = "secrets.toml"
FOREIGN = "STREAMLIT_"
"""What the names of environment variables begin with that would change settings."""


def pin_settings() -> None:
    """See to it that only our own file counts; to be called before any setting is read.

    Streamlit reads ``.streamlit/config.toml`` in the home and in the working folder too, which
    lies beside somebody's workbook, and takes hosts, pages, even a theme from an address
    out of it. No setting and no argument turns that off, hence the one replacement here.

    Raises
    ------
    RuntimeError
        When this version of Streamlit looks for its files by another function.
    """
    for name in [name for name in os.environ if name.upper().startswith(FOREIGN)]:
        del os.environ[name]
    from streamlit import config

    if not callable(getattr(config, "get_config_files", None)):
        raise RuntimeError("This version of streamlit cannot be kept to the dashboard's settings.")
    config.get_config_files = _only_ours


def _only_ours(file_name: str) -> list[str]:
    """Return the files of a name that count: of secrets the one that the command was given."""
    if file_name == OWN_FILE.name:
        return [str(OWN_FILE)]
    named = os.environ.get(FILE_VARIABLE)
    return [named] if named and file_name == SECRETS else []
