"""Rows that say again what an earlier row has said."""

from collections.abc import Callable, Hashable, Iterable, Iterator
from typing import TypeVar

Said = TypeVar("Said")


def repeated(rows: Iterable[Said], key: Callable[[Said], Hashable]) -> Iterator[tuple[Said, Said]]:
    """Yield every row whose key an earlier one has, in their order, with the first of that key.

    A row whose key is None says nothing that could be said twice.
    """
    first: dict[Hashable, Said] = {}
    for row in rows:
        mine = key(row)
        if mine is not None and (before := first.setdefault(mine, row)) is not row:
            yield row, before
