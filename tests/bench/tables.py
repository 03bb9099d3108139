"""The measured lines as Markdown: the summary, then a table a family."""

from collections.abc import Iterable

from tests.bench import figures
from tests.bench.comparing import Pair
from tests.bench.families import Family, families_of
from tests.bench.result import Found, Line
from tests.bench.summary import summary

TITLES = (
    "seed",
    "first plan after",
    "days past (proven least)",
    "money",
    "bound",
    "proven gap",
    "took",
    "stopped by",
    "peak memory",
)
OUR_TITLES = "our days past, money", "our plan is", "we save"


def tables(lines: Iterable[Line]) -> str:
    """Return everything there is to say about the lines."""
    lines = tuple(lines)
    return f"{summary(families_of(lines))}\n\n{every_run(lines)}"


def every_run(lines: Iterable[Line]) -> str:
    """Return what the lines were measured on, and a table of every family's runs."""
    lines = tuple(lines)
    families = families_of(lines)
    parts = [_circumstances(lines)]
    parts += [f"**{f.name}**: {f.work.title}; {f.seconds:g} s\n\n{_table(f)}" for f in families]
    return "\n\n".join(parts)


def _circumstances(lines: Iterable[Line]) -> str:
    """Say what the lines were measured on; a mixture is called one."""
    cores = sorted({str(line.cores) for line in lines})
    sources = sorted({line.sources for line in lines})
    mixed = " (measured with more than one)" if len(sources) > 1 else ""
    return (
        "The seed of a base is that of the search too. Bound and gap are proven, and speak of the"
        " money of all plans with no more days past `Latest in` than the plan found."
        f" Processor cores: {', '.join(cores)}. State of the sources: {', '.join(sources)}{mixed}."
    )


def _table(family: Family) -> str:
    compared = family.work.against is not None
    titles = TITLES + (OUR_TITLES if compared else ())
    rows = [_row(line, family, len(titles)) for line in family.lines]
    return "\n".join([figures.head(*titles), *rows])


def _row(line: Line, family: Family, width: int) -> str:
    if line.found is None:
        return figures.row(str(line.seed), f"failed: {line.failed}", *[""] * (width - 2))
    cells = [str(line.seed), *_cells(line.found), figures.gib(line.peak_gib)]
    if family.work.against is not None:
        cells += _our_cells(line.found, family.ours.get(line.seed))
    return figures.row(*cells)


def _cells(found: Found) -> list[str]:
    return [
        figures.seconds(found.first_seconds),
        f"{_count(found.days_past)} ({_count(found.days_bound)})",
        figures.money(found.money),
        figures.money(found.bound),
        figures.percent(found.gap),
        figures.seconds(found.seconds),
        found.stopped_by,
    ]


def _our_cells(peer: Found, ours: Line | None) -> list[str]:
    if ours is None or ours.found is None:
        return ["not measured", figures.UNKNOWN, figures.UNKNOWN]
    pair = Pair(peer, ours.found)
    goals = f"{_count(ours.found.days_past)}, {figures.money(ours.found.money)}"
    return [goals, pair.verdict, figures.percent(pair.saved)]


def _count(days: int | None) -> str:
    return figures.UNKNOWN if days is None else str(days)
