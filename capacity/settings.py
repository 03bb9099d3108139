"""Every knob of the search, with its unit, default and reason."""

from dataclasses import dataclass, field

from capacity.checked_settings import number_within, whole_within
from capacity.cores import FEWEST_WORKERS, MOST_WORKERS, usual_workers
from capacity.errors import SettingsError
from capacity.search_settings import SearchSettings


@dataclass(frozen=True, slots=True)
class Settings:
    """How long and how to search; raises ``SettingsError`` where that makes no sense.

    ``seconds``: wall time for the whole search, at least 0. ``seed``: of the random search, a
    whole number from 0 on; a seed alone does not make a timed run repeatable, since the sides
    exchange plans as they come. ``gap``: stop when the relative gap is proven to be at most
    this, at least 0. ``search``: how the time is shared out; its defaults are what was measured.
    ``workers``: processes that search, one of which proves while the others look for plans; None
    for one fewer than there are processor cores, but two at the least.
    """

    seconds: float = 60.0
    seed: int = 1
    gap: float = 1e-6
    search: SearchSettings = field(default_factory=SearchSettings)
    workers: int | None = None

    def __post_init__(self) -> None:
        """Check every value."""
        number_within("seconds", self.seconds, 0.0)
        whole_within("seed", self.seed, 0)
        number_within("gap", self.gap, 0.0)
        if not isinstance(self.search, SearchSettings):
            raise SettingsError(f"search is {self.search!r}. Give SearchSettings.")
        if self.workers is not None:
            whole_within("workers", self.workers, FEWEST_WORKERS, MOST_WORKERS)

    @property
    def finding(self) -> int:
        """Return how many processes look for plans; one more proves."""
        return (usual_workers() if self.workers is None else self.workers) - 1
