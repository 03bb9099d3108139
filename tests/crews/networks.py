"""Published activity networks, and the crew problem that each of them is.

An activity is a stage of one aircraft and may run on any days that the others leave; a unit of
a resource is a head of a skill. Most heads a stage are its units, and it asks units x days
head-days: so it takes just its units on every day, of all skills together.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from capacity.crews.problem import CrewProblem
from capacity.crews.tasks_of_plan import within_float
from tests.crews.problems import daily, problem, spans, task

SKILLS = ("R1", "R2", "R3", "R4")


@dataclass(frozen=True)
class Activity:
    """``days`` long, taking ``units`` of each resource; ``after`` are others by name."""

    days: int
    units: tuple[int, ...]
    after: tuple[str, ...] = ()


Network = Mapping[str, Activity]


def with_successors(rows: Mapping[int, tuple[int, tuple[int, ...], tuple[int, ...]]]) -> Network:
    """Return the activities of rows ``number: (days, units, successors)``; dummies drop out.

    Dummies are those without days; in all networks here they start or end everything.
    """
    before: dict[int, list[str]] = {number: [] for number in rows}
    for number, (days, _, successors) in rows.items():
        for successor in successors:
            if days:
                before[successor].append(str(number))
    return {
        str(number): Activity(days, units, tuple(before[number]))
        for number, (days, units, _) in rows.items()
        if days
    }


def staffing(
    network: Network, days: int, heads: Iterable[int], skills: Iterable[str] = SKILLS
) -> CrewProblem:
    """Return the problem of doing all activities in so many days with so many heads a skill.

    ``skills`` are those that are looked at; the network's units of the others are left out.
    """
    kept = set(skills)
    number = {name: at for at, name in enumerate(network)}
    tasks = []
    for name, activity in network.items():
        units = {k: u for k, u in zip(SKILLS, activity.units, strict=False) if u and k in kept}
        after = (number[before] for before in activity.after)
        tasks.append(task(name, spans(days, activity.days), units, after))
        tasks[-1] = replace(tasks[-1], max_heads=sum(units.values()) or None)
    crews = daily({k: h for k, h in zip(SKILLS, heads, strict=False) if k in kept}, days)
    if all(one.spans for one in tasks):
        tasks = list(within_float(tasks))
    return problem(days, tasks, crews)


def read_single_mode(path: Path) -> tuple[Network, tuple[int, ...]]:
    """Read a network and its heads from a file in the ``.sm`` form of PSPLIB."""
    lines = path.read_text(encoding="ascii").splitlines()

    def rows(title: str, skipped: int) -> list[list[int]]:
        start = lines.index(title) + skipped
        stop = next(n for n in range(start, len(lines)) if lines[n].startswith("*"))
        return [[int(word) for word in line.split()] for line in lines[start:stop]]

    successors = {job: tuple(after) for job, _, _, *after in rows("PRECEDENCE RELATIONS:", 2)}
    asked = {job: (days, tuple(use)) for job, _, days, *use in rows("REQUESTS/DURATIONS:", 3)}
    heads = rows("RESOURCEAVAILABILITIES:", 2)[0]
    network = with_successors({job: (*asked[job], successors[job]) for job in asked})
    return network, tuple(heads)


# Problems 2 and 8 of Patterson; typed from notes, not read again at their source.
PATTERSON_2 = with_successors(
    {
        1: (0, (0, 0, 0), (2, 3)),
        2: (1, (2, 2, 1), (4, 5)),
        3: (2, (0, 2, 1), (6,)),
        4: (2, (3, 3, 3), (7,)),
        5: (3, (2, 1, 3), (6,)),
        6: (2, (1, 1, 0), (7,)),
        7: (0, (0, 0, 0), ()),
    }
)
PATTERSON_8 = with_successors(
    {
        1: (0, (0,), (2, 3, 8)),
        2: (3, (2,), (5,)),
        3: (3, (3,), (4, 6)),
        4: (1, (2,), (5,)),
        5: (2, (3,), (9,)),
        6: (2, (4,), (7,)),
        7: (3, (2,), (9,)),
        8: (3, (1,), (9,)),
        9: (0, (0,), ()),
    }
)
# The project of ten jobs in the manual of Python-MIP (examples/rcpsp.py, seen).
TEN_JOBS = with_successors(
    {
        0: (0, (0, 0), (1, 2, 3)),
        1: (3, (5, 1), (4, 5)),
        2: (2, (0, 4), (9, 10)),
        3: (5, (1, 4), (8,)),
        4: (4, (1, 3), (6, 7)),
        5: (2, (3, 2), (9, 10)),
        6: (3, (3, 1), (8, 9)),
        7: (4, (2, 4), (8,)),
        8: (2, (4, 0), (11,)),
        9: (4, (5, 2), (11,)),
        10: (6, (2, 5), (11,)),
        11: (0, (0, 0), ()),
    }
)


def eleven_activities(before_f: str) -> Network:
    """Return the levelling example of a set of lectures on project management (seen).

    The figure leaves open whether F follows B or D; its float is the same.
    """
    return {
        "A": Activity(3, (3,)),
        "B": Activity(5, (2,)),
        "C": Activity(6, (3,), ("A",)),
        "D": Activity(2, (4,), ("A",)),
        "E": Activity(3, (2,), ("D",)),
        "F": Activity(3, (1,), (before_f,)),
        "G": Activity(4, (3,), ("B",)),
        "H": Activity(5, (2,), ("G",)),
        "I": Activity(4, (3,), ("C",)),
        "J": Activity(2, (4,), ("E", "F", "I")),
        "K": Activity(3, (5,), ("J",)),
    }
