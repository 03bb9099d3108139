"""The measured lines as Markdown: the summary, then a table a family."""

from collections.abc import Collection, Iterable

from tests.bench import figures
from tests.bench.comparing import Pair
from tests.bench.families import Family, families_of
from tests.bench.result import Found, Line
from tests.bench.summary import NOT_MEASURED, OTHER_DAYS, summary, targets
from tests.bench.works import WORKS

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
AGAIN_TITLES = "days past, money of the other run", "apart, of the better one"


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
    parts += [text] if (text := not_measured({family.name for family in families})) else []
    return "\n\n".join(parts)


def not_measured(measured: Collection[str]) -> str:
    """Return a table of the works of which nothing was measured, with their targets."""
    rows = [
        figures.row(f"{name}, {work.seconds:g} s", work.title, target, NOT_MEASURED)
        for name, work in WORKS.items()
        if name not in measured
        for target in targets(work)
    ]
    titles = "work", "what it is", "target", "measured"
    head = f"Nothing was measured of these works:\n\n{figures.head(*titles)}"
    return "\n".join([head, *rows]) if rows else ""


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
    titles = TITLES + _more_titles(family)
    rows = [_row(line, family, len(titles)) for line in family.lines]
    return "\n".join([figures.head(*titles), *rows])


def _more_titles(family: Family) -> tuple[str, ...]:
    if family.work.against is None:
        return ()
    return OUR_TITLES if family.work.apart_target is None else AGAIN_TITLES


def _row(line: Line, family: Family, width: int) -> str:
    if line.found is None:
        return figures.row(str(line.seed), f"failed: {line.failed}", *[""] * (width - 2))
    cells = [str(line.seed), *_cells(line.found, family), figures.gib(line.peak_gib)]
    if family.work.against is not None:
        cells += _beside(line.found, family, family.ours.get(line.seed))
    return figures.row(*cells)


def _cells(found: Found, family: Family) -> list[str]:
    return [
        figures.seconds(found.first_seconds),
        f"{_count(found.days_past)} ({_count(found.days_bound)})",
        figures.money(found.money),
        figures.money(found.bound),
        figures.percent(family.gap(found)),
        figures.seconds(found.seconds),
        found.stopped_by,
    ]


def _beside(found: Found, family: Family, ours: Line | None) -> list[str]:
    """Return what our own run, or our other one, came to, and how the two compare."""
    if ours is None or ours.found is None:
        return [NOT_MEASURED, *[figures.UNKNOWN] * (len(_more_titles(family)) - 1)]
    pair = Pair(found, ours.found)
    goals = f"{_count(ours.found.days_past)}, {figures.money(ours.found.money)}"
    if family.work.apart_target is not None:
        return [goals, OTHER_DAYS if pair.apart is None else figures.percent(pair.apart)]
    return [goals, pair.verdict, figures.percent(pair.saved)]


def _count(days: int | None) -> str:
    return figures.UNKNOWN if days is None else str(days)
