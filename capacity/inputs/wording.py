"""Words that messages share: the nearest of the known names."""

import difflib
from collections.abc import Collection

from capacity.words import quoted

FEW = 8
MANY = 1_000  # comparing with more names than this takes too long for too little


def suggest(name: str, known: Collection[str], what: str) -> str:
    """Return a remedy: the nearest of the known names, or all of them when they are few.

    ``what`` says where names of this kind are given, such as ``the sheet Bays``.
    """
    if near := nearest(name, known):
        return f"Did you mean '{near}'? Otherwise add it to {what}."
    if 0 < len(known) <= FEW:
        return f"Known are {quoted(known)}; otherwise add it to {what}."
    return f"Correct it, or add it to {what}."


def nearest(name: str, known: Collection[str]) -> str | None:
    """Return the known name that looks most like this one, ignoring case; None if none does."""
    if len(known) > MANY:
        return None
    folded = {candidate.casefold(): candidate for candidate in known}
    near = difflib.get_close_matches(name.casefold(), folded, n=1, cutoff=0.6)
    return folded[near[0]] if near else None
