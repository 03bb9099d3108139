"""Of which plans a proof speaks where a check has too many paces and waits to try them all."""

from capacity.facts import Base
from capacity.slots.candidates import partly_tried
from capacity.words import listed

NAMED = 3
"""So many checks are named; of more, the first of them and a count."""


def proof_speaks_of(base: Base) -> str:
    """Return a sentence behind a blank; nothing where what is proven holds for every plan."""
    names = partly_tried(base)
    if not names:
        return ""
    return f" This is proven of plans with {_ways_of(names)}."


def ways_tried_note(base: Base) -> str | None:
    """Return the same as a message by itself, None where all ways are tried."""
    names = partly_tried(base)
    return None if not names else f"what is proven is proven of plans with {_ways_of(names)}."


def _ways_of(names: tuple[str, ...]) -> str:
    """Return whose ways are not all tried: ``... for A and B, which have too many ...``."""
    told = list(names[:NAMED])
    if len(names) > NAMED:
        told = [*told[:-1], f"{len(names) - NAMED + 1} others"]
    who = listed(told)
    have = "has" if len(names) == 1 else "have"
    return f"the paces and waits that are tried for {who}, which {have} too many to try them all"
