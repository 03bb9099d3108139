"""The names of the files that each base has of its own."""

from collections.abc import Iterable


def file_names(bases: Iterable[str]) -> dict[str, str]:
    """Return a name such as ``02-North-Hill`` for the files of each base, by the base's name."""
    return {
        name: f"{number:02}-{''.join(c if c.isalnum() else '-' for c in name)}"
        for number, name in enumerate(bases, start=1)
    }
