"""Twenty people look at plans while three others plan: how long pages take, and what memory.

``python -m tests.bench.load [--readers 20] [--planners 3] [--seconds 100]`` serves a dashboard
with a store of plans of the sample quarter. Planners open the newest and search on; one more
waits. Readers open it, each on a desk of their own, read for some seconds, change the page, and
load it anew after a round through all pages. All speak to the server as a browser does, without
drawing what comes: what is measured is the server.
"""

import argparse
import os
import random
import resource
import subprocess
import sys
import tempfile
import threading
import time
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from statistics import median

from capacity import giving_way
from tests.bench.load_person import Person
from tests.bench.load_store import filled_store, made_plan
from tests.browser.conftest import Server, without_a_browser
from ui.desk.job import MOST_AT_ONCE

QUARTER = Path(__file__).parents[2] / "sample_inputs" / "quarter.xlsx"
MIB = 2**20
STORE, OPEN, MAKE = "plans", "Open it on the page Planner", "Make the plan"
PAGES = {"": "Planner", "base_manager": "Base manager", "commercial": "Commercial", STORE: "Store"}
A_PLAN = "Plan file (.json)"
WAITS = "Waiting until other work on this machine has ended."
SECONDS_TO_COME = 20.0
"""Readers come one after the other, in so many seconds."""


@dataclass
class Found:
    """Seconds by what was asked for, what went wrong, and memory of the server by rounds done."""

    seconds: dict[str, list[float]] = field(default_factory=lambda: defaultdict(list))
    faults: list[str] = field(default_factory=list)
    rounds: dict[int, int] = field(default_factory=lambda: defaultdict(int))
    kib: dict[str, int] = field(default_factory=lambda: defaultdict(int))


def main() -> None:
    """Measure, and print what was found."""
    wanted = argparse.ArgumentParser("load")
    wanted.add_argument("--readers", type=int, default=20)
    wanted.add_argument("--planners", type=int, default=3)
    wanted.add_argument("--seconds", type=float, default=100.0)
    wanted.add_argument("--reading", type=float, nargs=2, default=(4.0, 12.0))
    wanted.add_argument("--plans", type=int, default=200, help="plans in the store")
    wanted.add_argument("--plan", type=Path, help="plan file of the sample quarter")
    wanted.add_argument("--one-desk", action="store_true", help="readers follow a link to one desk")
    told = wanted.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        store = Path(folder) / "plans.sqlite"
        filled_store(store, QUARTER, told.plan or made_plan(Path(folder), QUARTER), told.plans)
        os.environ["CAPACITY_STORE"] = str(store)
        os.environ[giving_way.VARIABLE] = giving_way.BEHIND_THE_PAGES  # as the server has it
        server = Server(Path(folder), without_a_browser)
        server.wait()
        try:
            measure(server, told)
        finally:
            server.end()


def measure(server: Server, told: argparse.Namespace) -> None:
    """Let people plan and read at the same time."""
    found, stop = Found(), threading.Event()
    first = opened(server)
    idle = memory_mib(server.process.pid)
    for page in (*PAGES, *PAGES):  # the first time imports and draws what is kept after
        found.seconds[f"alone, {PAGES[page]}"][:] = [first.go(page)]
    planners = [opened(server) for _ in range(told.planners + 1)] if told.planners else []
    for one in planners:
        one.go("")
        one.click(MAKE, [("Seconds to search at most", 3600)])
    waits = [WAITS in one.shown.words for one in planners]
    if planners and waits != [number >= MOST_AT_ONCE for number in range(len(planners))]:
        found.faults.append(f"who waits for a turn is told wrongly: {waits}")
    looks = found.seconds["a look at a search"]
    people = [threading.Thread(target=one.watch, args=(looks, stop)) for one in planners]
    query = first.query if told.one_desk else ""
    people += [
        threading.Thread(target=read, args=(server, number, query, told, found, stop))
        for number in range(told.readers)
    ]
    before = processor_seconds(server.process.pid), own_seconds()
    began = time.monotonic()
    for person in people:
        person.start()
    most = idle
    by_round: dict[int, int] = {}
    sides: list[int] = []
    while time.monotonic() < began + told.seconds:
        all_of_them = sum(memory_mib(pid) for pid in family(server.process.pid))
        most = max(most, all_of_them)
        sides.append(server.sides())
        done = min((found.rounds[number] for number in range(told.readers)), default=0)
        by_round.setdefault(done, memory_mib(server.process.pid))
        stop.wait(1.0)
    took = time.monotonic() - began
    busy = processor_seconds(server.process.pid) - before[0], own_seconds() - before[1]
    stop.set()
    for person in people:
        person.join()
    lowest, highest = told.reading
    tell(
        f"{told.readers} readers (on a page for {lowest:g} to {highest:g} s), {told.planners} "
        f"planners (sides of searches at work: {median(sides):g} mostly, {max(sides)} at the most) "
        f"and one who waits; "
        f"{told.plans} plans in the store, {took:.0f} s"
    )
    for what, seconds in found.seconds.items():
        size = f" ({found.kib[what]:,} KiB)" if what in found.kib else ""
        tell(f"{what}{size}: {in_words(seconds)}")
    pages = [s for what in PAGES.values() for s in found.seconds[what]]
    tell(f"all pages: {in_words(pages)}")
    tell(f"faults: {len(found.faults)} {found.faults[:3]}")
    tell(f"processor: server {busy[0] / took:.2f} cores, people {busy[1] / took:.2f}")
    tell(f"memory of the server before: {idle:,} MiB; by rounds done by everybody: {by_round}")
    tell(f"memory of the server and its searches: {most:,} MiB at the most")


def opened(server: Server) -> Person:
    """Return somebody who has opened the newest plan of the store."""
    person = Person(server.address)
    person.load(STORE)
    person.click(OPEN)
    return person


def read(
    server: Server,
    number: int,
    query: str,
    told: argparse.Namespace,
    found: Found,
    stop: threading.Event,
) -> None:
    """Read page after page, as somebody does who looks at a plan."""
    chance = random.Random(number)
    stop.wait(SECONDS_TO_COME * number / max(1, told.readers))
    person = Person(server.address, query)
    try:
        for what, step in steps(person, query):
            if stop.is_set():
                return
            found.seconds[what].append(step())
            found.kib[what] = max(found.kib[what], person.shown.bytes // 1024)
            if what == PAGES[""] and A_PLAN not in person.shown.buttons:
                found.faults.append("the page Planner shows no plan")
            if what == PAGES[STORE]:
                found.rounds[number] += 1
            stop.wait(chance.uniform(*told.reading))
    except Exception as fault:  # every one counts
        found.faults.append(f"{type(fault).__name__}: {fault}")
    finally:
        person.leave()


def steps(person: Person, query: str) -> Iterator[tuple[str, object]]:
    """Yield what a reader does, and the step that does it."""
    if not query:
        yield "Store, at first", lambda: person.load(STORE)
        yield "opening a plan", lambda: person.click(OPEN)
    while True:
        yield PAGES[""], person.load
        for page in list(PAGES)[1:]:
            yield PAGES[page], lambda page=page: person.go(page)


def in_words(seconds: list[float]) -> str:
    """Return how long something took."""
    if not seconds:
        return "none"
    ordered = sorted(seconds)
    most = ordered[int(0.95 * (len(ordered) - 1))]
    return (
        f"{len(ordered)}, median {median(ordered):.2f} s, 95 % within {most:.2f} s, "
        f"longest {ordered[-1]:.2f} s"
    )


def tell(line: str) -> None:
    """Print a line."""
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()


def family(process: int) -> list[int]:
    """Return a process and all that it began."""
    seen = [process]
    for pid in seen:
        found = subprocess.run(
            ["pgrep", "-P", str(pid)], capture_output=True, text=True, check=False
        )
        seen += [int(child) for child in found.stdout.split()]
    return seen


def memory_mib(process: int) -> int:
    """Return the memory of a process, in MiB; 0 when it has ended."""
    try:
        fields = Path(f"/proc/{process}/statm").read_text(encoding="ascii").split()
    except OSError:
        return 0
    return int(fields[1]) * 4096 // MIB


def processor_seconds(process: int) -> float:
    """Return the processor time of a process alone."""
    told = Path(f"/proc/{process}/stat").read_text(encoding="ascii").rpartition(")")[2].split()
    return (int(told[11]) + int(told[12])) / os.sysconf("SC_CLK_TCK")


def own_seconds() -> float:
    """Return the processor time of this process."""
    used = resource.getrusage(resource.RUSAGE_SELF)
    return used.ru_utime + used.ru_stime


if __name__ == "__main__":
    main()
