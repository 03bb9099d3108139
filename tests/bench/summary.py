"""Each work's target against what was measured: median and range over its seeds."""

from collections import Counter
from collections.abc import Iterable
from math import inf
from statistics import median

from tests.bench import figures
from tests.bench.comparing import beside_evenly, pairs
from tests.bench.families import Family
from tests.bench.works import Work

NO_TARGET, NOT_MEASURED, NOT_KNOWN = "none set", "not measured", "not known"
OTHER_DAYS = "other days past"
# On so many of the bases the costs of two runs must lie as close as the target says.
CLOSE_ON = 0.9


def summary(families: Iterable[Family]) -> str:
    """Return the table of targets."""
    rows = [row for family in families for row in _rows(family)]
    return "\n".join([figures.head("work", "target", "measured: median (range)", "met?"), *rows])


def targets(work: Work) -> list[str]:
    """Return the targets of a work in the order of its rows; it says so where none is set."""
    if work.apart_target is not None:
        return [f"costs of two runs at most {_share(work.apart_target)} apart on 9 of 10 bases"]
    if work.against is not None:
        least = work.saved_target
        more = "" if least is None else f", and in the median at least {_share(least)} cheaper"
        return [f"our plan no worse on any seed{more}"]
    gap, cheaper, gib = work.gap_target, work.cheaper_target, work.gib_target
    told = [NO_TARGET if gap is None else f"median proven gap at most {_share(gap)}"]
    if cheaper is not None:
        told.append(
            f"in the median at least {_share(cheaper)} cheaper than with even hours, never dearer"
        )
    return told if gib is None else [*told, f"memory at most {gib:g} GiB"]


def _share(share: float) -> str:
    return f"{100 * share:.0f} %"


def _rows(family: Family) -> list[str]:
    work, told = family.work, targets(family.work)
    if work.apart_target is not None:
        return [_apart_row(family, told[0], work.apart_target)]
    if work.against is not None:
        return [_peer_row(family, told[0])]
    rows = [_gap_row(family, told.pop(0))]
    if work.cheaper_target is not None:
        rows.append(_cheaper_row(family, told.pop(0), work.cheaper_target))
    if work.gib_target is not None:
        rows.append(_memory_row(family, told.pop(0), work.gib_target))
    return rows


def _gap_row(family: Family, target: str) -> str:
    """The median proven gap; a run without a bound counts as an endless gap."""
    founds = [line.found for line in family.lines if line.found is not None]
    gaps = [inf if (gap := family.gap(found)) is None else gap for found in founds]
    least = sum(found.days_past == found.days_bound for found in founds)
    measured = _failed(family)
    if founds:
        over = figures.seeds([line.seed for line in family.lines if line.found is not None])
        measured = (
            f"{figures.spread(gaps, figures.percent)} over {over};"
            f" days past proven least on {least} of {len(founds)}{measured}"
        )
    met = figures.UNKNOWN
    if family.work.gap_target is not None:
        met = _met(family, bool(gaps) and median(gaps) <= family.work.gap_target)
    return figures.row(_name(family), target, measured, met)


def _cheaper_row(family: Family, target: str, least: float) -> str:
    """How much cheaper our plans are with levelled hours than with even ones, seed by seed."""
    compared = list(beside_evenly(family))
    saved = [pair.saved for pair in compared if pair.saved is not None]
    if not saved:
        return figures.row(_name(family), target, NOT_MEASURED, NOT_KNOWN)
    dearer = sum(pair.verdict == "worse" for pair in compared)
    measured = f"{figures.spread(saved, figures.percent)}; dearer on {dearer} of {len(compared)}"
    whole = len(compared) == len(family.lines)
    met = _met(family, whole and not dearer and median(saved) >= least)
    return figures.row(_name(family), target, measured, met)


def _apart_row(family: Family, target: str, most: float) -> str:
    """How far apart the costs of two runs lie; other days past are never close."""
    compared = list(pairs(family))
    if not compared:
        return figures.row(_name(family), target, NOT_MEASURED + _failed(family), NOT_KNOWN)
    apart = [pair.apart for pair in compared if pair.apart is not None]
    close = sum(share <= most for share in apart)
    told = [figures.spread(apart, figures.percent)] if apart else []
    told.append(f"at most {_share(most)} on {close} of {len(compared)}")
    if others := len(compared) - len(apart):
        told.append(f"{OTHER_DAYS} on {others}")
    whole = len(compared) == len(family.lines)
    met = _met(family, whole and close >= CLOSE_ON * len(compared))
    return figures.row(_name(family), target, "; ".join(told) + _failed(family), met)


def _memory_row(family: Family, target: str, most: float) -> str:
    """The largest peak of memory of any run."""
    peaks = [line.peak_gib for line in family.lines if line.peak_gib is not None]
    measured = figures.spread(peaks, figures.gib) if peaks else "not read"
    met = _met(family, bool(peaks) and max(peaks) <= most) if peaks else NOT_KNOWN
    return figures.row(_name(family), target, measured, met)


def _peer_row(family: Family, target: str) -> str:
    """Our plan against the peer's, seed by seed, at the same limit."""
    compared = list(pairs(family))
    least = family.work.saved_target
    if not compared:
        return figures.row(_name(family), target, NOT_MEASURED + _failed(family), NOT_KNOWN)
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
