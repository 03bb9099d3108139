"""The measured lines sorted into families: one work at one limit, with what it is set against."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from tests.bench.result import Found, Line
from tests.bench.works import WORKS, Work


@dataclass(frozen=True)
class Family:
    """Lines of one work at one limit in the order of their seeds, and our own ones by seed.

    ``ours`` is empty for a work that is set against nothing; ``evenly`` are our lines of the same
    bases with hours spread evenly, empty where the work is not set beside them.
    """

    name: str
    work: Work
    seconds: float
    lines: tuple[Line, ...]
    ours: Mapping[int, Line]
    evenly: Mapping[int, Line]

    def gap(self, found: Found) -> float | None:
        """Return the proven gap as this work measures it; None where it is not known."""
        return found.gap_of_turnover if self.work.gap_of_turnover else found.gap

    @property
    def failed(self) -> int:
        """Return how many measurements broke down."""
        return sum(line.found is None for line in self.lines)


def families_of(lines: Iterable[Line]) -> list[Family]:
    """Return the families there are lines of, in the order of the works."""
    by_family: dict[tuple[str, float], dict[int, Line]] = {}
    for line in lines:
        by_family.setdefault((line.work, line.seconds), {})[line.seed] = line
    order = list(WORKS)
    return [
        Family(
            name=name,
            work=WORKS[name],
            seconds=limit,
            lines=tuple(of_family[seed] for seed in sorted(of_family)),
            ours=by_family.get((WORKS[name].against or "", limit), {}),
            evenly=by_family.get((WORKS[name].evenly or "", limit), {}),
        )
        for (name, limit), of_family in sorted(
            by_family.items(), key=lambda item: (order.index(item[0][0]), item[0][1])
        )
    ]
