"""What is said of a list of which a terminal shows the first lines only."""

from collections.abc import Iterator, Sized

from capacity.words import counted


def left_out(lines: Sized, most: int, one: str = "", indent: str = "  ") -> Iterator[str]:
    """Yield how many lines follow the first ``most``, where any do; ``one`` is what a line is."""
    more = len(lines) - most
    if more > 0:
        yield f"{indent}and {counted(more, f'more {one}') if one else f'{more:,} more'}"
