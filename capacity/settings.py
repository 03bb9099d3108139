"""Every knob of the search, with its unit, default and reason."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Settings:
    """How long and how to search.

    ``seconds``: wall time for the whole search. ``seed``: of the random search; a seed
    alone does not make a timed run repeatable, since the sides exchange plans as they come.
    ``gap``: stop when the relative gap is proven to be at most
    this.
    """

    seconds: float = 60.0
    seed: int = 1
    gap: float = 1e-6
