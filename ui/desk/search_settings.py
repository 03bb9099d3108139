"""How a search begun on the dashboard is set: with few processes, since several people search."""

import os

from capacity.cores import FEWEST_WORKERS
from capacity.dashboard import WORKERS_VARIABLE
from capacity.settings import Settings


def search_settings(seconds: float) -> Settings:
    """Return settings for a search of so many seconds.

    Several desks search at the same time, each with the fewest processes that a search has, so
    that they share the cores; more of them only where the command that serves was told so.
    """
    told = os.environ.get(WORKERS_VARIABLE)
    return Settings(seconds=seconds, workers=FEWEST_WORKERS if told is None else int(told))
