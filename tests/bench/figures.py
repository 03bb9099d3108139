"""Numbers as the tables show them."""

from collections.abc import Callable, Sequence
from math import isinf
from statistics import median

UNKNOWN = "-"


def row(*cells: str) -> str:
    """Return a row of a Markdown table."""
    return "| " + " | ".join(cell.replace("|", "/") for cell in cells) + " |"


def head(*titles: str) -> str:
    """Return the head of a Markdown table with the rule below it."""
    return row(*titles) + "\n" + "|---" * len(titles) + "|"


def money(amount: float | None) -> str:
    """Return money without cents."""
    return UNKNOWN if amount is None else f"{amount:,.0f}"


def percent(share: float | None) -> str:
    """Return a share in per cent with two places."""
    if share is None:
        return UNKNOWN
    return "none proven" if isinf(share) else f"{100 * share:.2f} %"


def seconds(time: float | None) -> str:
    """Return seconds with one place."""
    return UNKNOWN if time is None else f"{time:.1f} s"


def gib(size: float | None) -> str:
    """Return GiB with two places."""
    return UNKNOWN if size is None else f"{size:.2f} GiB"


def spread(values: Sequence[float], show: Callable[[float], str]) -> str:
    """Return median and range, as ``median (least - most)``."""
    return f"{show(median(values))} ({show(min(values))} - {show(max(values))})"


def seeds(numbers: Sequence[int]) -> str:
    """Return the seeds, runs of them shortened: ``seeds 1-3, 7``."""
    runs: list[list[int]] = []
    for number in sorted(numbers):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    shown = (str(run[0]) if len(run) == 1 else f"{run[0]}-{run[-1]}" for run in runs)
    return f"{'seed' if len(numbers) == 1 else 'seeds'} {', '.join(shown)}"
