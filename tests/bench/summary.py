"""Each work's target against what was measured: median and range over its seeds."""

from collections import Counter
from collections.abc import Iterable
from math import inf
from statistics import median

from tests.bench import figures
from tests.bench.comparing import pairs
from tests.bench.families import Family

NO_TARGET = "none set"


def summary(families: Iterable[Family]) -> str:
    """Return the table of targets."""
    rows = [row for family in families for row in _rows(family)]
    return "\n".join([figures.head("work", "target", "measured: median (range)", "met?"), *rows])


def _rows(family: Family) -> list[str]:
    if family.work.against is not None:
        return [_peer_row(family)]
    rows = [_gap_row(family)]
    if family.work.gib_target is not None:
        rows.append(_memory_row(family, family.work.gib_target))
    return rows


def _gap_row(family: Family) -> str:
    """The median proven gap; a run without a bound counts as an endless gap."""
    founds = [line.found for line in family.lines if line.found is not None]
    gaps = [inf if found.gap is None else found.gap for found in founds]
    least = sum(found.days_past == found.days_bound for found in founds)
    measured = _failed(family)
    if founds:
        over = figures.seeds([line.seed for line in family.lines if line.found is not None])
        measured = (
            f"{figures.spread(gaps, figures.percent)} over {over};"
            f" days past proven least on {least} of {len(founds)}{measured}"
        )
    target, met = NO_TARGET, figures.UNKNOWN
    if family.work.gap_target is not None:
        target = f"median proven gap at most {100 * family.work.gap_target:.0f} %"
        met = _met(family, bool(gaps) and median(gaps) <= family.work.gap_target)
    return figures.row(_name(family), target, measured, met)


def _memory_row(family: Family, target: float) -> str:
    """The largest peak of memory of any run."""
    peaks = [line.peak_gib for line in family.lines if line.peak_gib is not None]
    measured = figures.spread(peaks, figures.gib) if peaks else "not read"
    met = _met(family, bool(peaks) and max(peaks) <= target) if peaks else "not known"
    return figures.row(_name(family), f"memory at most {target:g} GiB", measured, met)


def _peer_row(family: Family) -> str:
    """Our plan against the peer's, seed by seed, at the same limit."""
    compared = list(pairs(family))
    least = family.work.saved_target
    target = "our plan no worse on any seed"
    if least is not None:
        target += f", and in the median at least {100 * least:.0f} % cheaper"
    if not compared:
        return figures.row(_name(family), target, "not measured" + _failed(family), "not known")
    verdicts = Counter(pair.verdict for pair in compared)
    saved = [pair.saved for pair in compared if pair.saved is not None]
    seeds = [line.seed for line in family.lines if line.seed in family.ours]
    measured = (
        f"ours better on {verdicts['better']}, equal on {verdicts['equal']},"
        f" worse on {verdicts['worse']} of {figures.seeds(seeds)}"
    )
    if saved:
        measured += (
            f"; we save {figures.spread(saved, figures.percent)} on the {len(saved)} with no"
            " more days past"
        )
    enough = least is None or (bool(saved) and median(saved) >= least)
    met = _met(family, not verdicts["worse"] and len(compared) == len(family.lines) and enough)
    return figures.row(_name(family), target, measured + _failed(family), met)


def _name(family: Family) -> str:
    return f"{family.name}, {family.seconds:g} s"


def _failed(family: Family) -> str:
    return f"; {family.failed} failed" if family.failed else ""


def _met(family: Family, reached: bool) -> str:
    return "yes" if reached and not family.failed else "no"
