"""Measure the search on ten invented quarters: ``python -m tests.bench``.

One line a quarter and the medians; ``--write`` puts the table into README.md between its
marks. Nothing here is asserted in seconds: figures are proven gaps, and ratios of two plans
for the same quarter.
"""

import argparse
import sys
import time
from dataclasses import dataclass
from pathlib import Path
from statistics import median

from capacity.planning import plan
from capacity.plans.outcome import Planned
from capacity.settings import Settings
from tests.bench.invented import invented_quarter

SEEDS = range(1, 11)
MARKS = "<!-- bench:begin -->", "<!-- bench:end -->"


@dataclass(frozen=True)
class Line:
    """What one quarter came to; ``first_seconds`` until the first plan was audited."""

    seed: int
    first_seconds: float
    first_days: int
    first_money: float
    days: int
    days_bound: int
    money: float
    gap: float
    seconds: float
    stopped_by: str

    @property
    def saved(self) -> float:
        """Return the share of the first-come plan's money that the plan saves."""
        return 1.0 - self.money / self.first_money


def measure(seed: int, seconds: float) -> Line:
    """Plan one quarter of 10 bays and 38 booked checks."""
    base = invented_quarter(seed)
    outcome = plan(base, Settings(seconds=seconds))
    assert isinstance(outcome, Planned)
    first, goals = outcome.history[0], outcome.audit.goals
    assert (goals.days_past_latest_in, goals.money) <= (first.days_past, first.money)
    return Line(
        seed=seed,
        first_seconds=first.seconds,
        first_days=first.days_past,
        first_money=first.money,
        days=goals.days_past_latest_in,
        days_bound=outcome.days_bound,
        money=goals.money,
        gap=float("inf") if outcome.gap is None else outcome.gap,
        seconds=outcome.seconds,
        stopped_by=outcome.stopped_by,
    )


def table(lines: list[Line]) -> str:
    """Return the measurements as a Markdown table, medians last."""
    head = (
        "| seed | first plan after | first-come: days past, money | plan: days past (proven"
        " least) | money | saved | proven gap | after |\n|---|---|---|---|---|---|---|---|"
    )
    rows = [
        f"| {x.seed} | {x.first_seconds:.1f} s | {x.first_days}, {x.first_money:,.0f} "
        f"| {x.days} ({x.days_bound}) | {x.money:,.0f} | {x.saved:.0%} | {x.gap:.2%} "
        f"| {x.seconds:.0f} s, {x.stopped_by} |"
        for x in lines
    ]
    gaps = [x.gap for x in lines]
    middle = (
        f"| **median** | {median(x.first_seconds for x in lines):.1f} s | | | "
        f"| {median(x.saved for x in lines):.0%} | **{median(gaps):.2%}** "
        f"({min(gaps):.2%} - {max(gaps):.2%}) | {median(x.seconds for x in lines):.0f} s |"
    )
    return "\n".join([head, *rows, middle])


def main() -> None:
    """Measure, print, and write when asked."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seconds", type=float, default=60.0)
    parser.add_argument("--seeds", type=int, nargs="*", default=list(SEEDS))
    parser.add_argument("--write", action="store_true", help="put the table into README.md")
    options = parser.parse_args()
    lines = []
    for seed in options.seeds:
        lines.append(measure(seed, options.seconds))
        sys.stdout.write(f"{time.strftime('%H:%M:%S')} {lines[-1]}\n")
        sys.stdout.flush()
    text = table(lines)
    sys.stdout.write(f"{text}\n")
    if options.write:
        readme = Path("README.md")
        begin, end = MARKS
        before, _, rest = readme.read_text(encoding="utf-8").partition(begin)
        _, _, after = rest.partition(end)
        readme.write_text(f"{before}{begin}\n{text}\n{end}{after}", encoding="utf-8")


if __name__ == "__main__":
    main()
