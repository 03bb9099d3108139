"""Measure our plans and the peers' and print the tables: ``python -m tests.bench``.

Every line is kept in a file as soon as it is measured, so that an interrupted run can go on
with ``--resume``.
"""

import argparse
import importlib.util
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from tests.bench.between_marks import write_pages
from tests.bench.measuring import ROOT, measure
from tests.bench.record import add_line, as_text, read_lines
from tests.bench.tables import tables
from tests.bench.works import WORKS

Run = tuple[str, int, float]


def main() -> None:
    """Measure what is not measured yet, print, and write when asked."""
    parser = _parser()
    options = parser.parse_args()
    file = options.table or options.resume or _new_file()
    if file.resolve().is_relative_to(ROOT):
        parser.error(f"{file} lies in the repository; measurements are kept elsewhere")
    if options.table is None:
        _say(f"measured lines go to {file}")
        wanted = _with_ours(options.work or _all_that_can_run())
        if "pyjobshop" in wanted and not _has_pyjobshop():
            parser.error("pyjobshop is not installed; the extra bench brings it")
        _measure_all(list(runs(wanted, options.seeds, options.seconds)), file)
    lines = read_lines(file)
    if not lines:
        parser.error(f"{file} holds no measured lines")
    _say(tables(lines))
    if options.write:
        write_pages(lines, ROOT)


def runs(works: list[str], seeds: list[int] | None, seconds: float | None) -> Iterator[Run]:
    """Yield work, seed and limit of every measurement; None leaves a work's own ones."""
    for name in works:
        for seed in seeds or WORKS[name].seeds:
            yield name, seed, seconds or WORKS[name].seconds


def not_yet_measured(wanted: list[Run], file: Path) -> list[Run]:
    """Return the runs of which the file has no line, or only a failed one."""
    done = {(x.work, x.seed, x.seconds) for x in read_lines(file) if x.found is not None}
    return [run for run in wanted if run not in done]


def _measure_all(wanted: list[Run], file: Path) -> None:
    todo = not_yet_measured(wanted, file)
    for number, run in enumerate(todo, start=1):
        line = measure(*run)
        add_line(line, file)
        _say(f"{time.strftime('%H:%M:%S')} {number} of {len(todo)}: {as_text(line)}")


def _with_ours(works: list[str]) -> list[str]:
    """Return the works in their order, with our own ones that they are set against."""
    wanted = {*works}
    for name in works:
        wanted |= {other for other in (WORKS[name].against, WORKS[name].evenly) if other}
    return [name for name in WORKS if name in wanted]


def _all_that_can_run() -> list[str]:
    if _has_pyjobshop():
        return list(WORKS)
    _say("pyjobshop is not installed (the extra bench brings it): left out")
    return [name for name in WORKS if name != "pyjobshop"]


def _has_pyjobshop() -> bool:
    return importlib.util.find_spec("pyjobshop") is not None


def _new_file() -> Path:
    with tempfile.NamedTemporaryFile(prefix="bench-", suffix=".jsonl", delete=False) as file:
        return Path(file.name)


def _say(text: str) -> None:
    sys.stdout.write(f"{text}\n")
    sys.stdout.flush()


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m tests.bench", description=__doc__)
    parser.add_argument("--work", nargs="+", choices=list(WORKS), help="what to measure (all)")
    parser.add_argument("--seeds", type=int, nargs="+", help="the bases (each work's own ones)")
    parser.add_argument("--seconds", type=float, help="limit of a run (each work's own one)")
    parser.add_argument(
        "--write",
        action="store_true",
        help="put the summary into README.md, every run into tests/bench/RESULTS.md",
    )
    file = parser.add_mutually_exclusive_group()
    file.add_argument("--resume", type=Path, metavar="FILE", help="go on with a file of lines")
    file.add_argument("--table", type=Path, metavar="FILE", help="only print a file's tables")
    return parser


if __name__ == "__main__":
    main()
