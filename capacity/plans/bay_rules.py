"""An aircraft is in a bay that holds it, is open, and holds no other that day."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from datetime import timedelta
from itertools import combinations

from capacity.facts import AircraftType, Bay, Closure
from capacity.plans.stays import Visit
from capacity.words import day as as_day


def misfits(stay: Visit, bay: Bay, aircraft: AircraftType) -> Iterator[str]:
    """Span, length and tail within the bay's, docking that suits, all work done there."""
    check = stay.check.name
    for measure, size, most in (
        ("span", aircraft.span_m, bay.max_span_m),
        ("length", aircraft.length_m, bay.max_length_m),
        ("tail", aircraft.tail_m, bay.max_tail_m),
    ):
        if size > most:
            yield f"{check} has a {measure} of {size:g} m, but bay {bay.name} takes {most:g} m."
    if bay.docking and aircraft.docking is not None and aircraft.docking not in bay.docking:
        yield f"{check} needs docking {aircraft.docking}, which bay {bay.name} does not have."
    for kind in sorted({stage.work.kind for stage in stay.stages} - bay.work):
        yield f"{check} needs {kind}, which is not done in bay {bay.name}."


def closed(stay: Visit, closures: Iterable[Closure]) -> Iterator[str]:
    """No day of ``[in_day, out_day)`` lies in a closure of the bay."""
    for closure in closures:
        last_day = stay.out_day - timedelta(days=1)
        first, last = max(stay.in_day, closure.first), min(last_day, closure.last)
        if closure.bay == stay.bay and first <= last:
            yield (
                f"{stay.check.name} is in bay {stay.bay}, "
                f"which is closed from {as_day(closure.first)} to {as_day(closure.last)}."
            )


def one_at_a_time(stays: Iterable[Visit], bays: Mapping[str, Bay]) -> Iterator[str]:
    """In each bay, ``in_day >= earlier out_day + changeover days``.

    Between two visits of the same check there is no changeover.
    """
    by_bay: defaultdict[str, list[Visit]] = defaultdict(list)
    for stay in sorted(stays, key=lambda stay: (stay.in_day, stay.out_day)):
        by_bay[stay.bay].append(stay)
    for bay, in_turn in by_bay.items():
        changeover = bays[bay].changeover_days if bay in bays else 0
        for earlier, later in combinations(in_turn, 2):
            own = earlier.check.name == later.check.name
            yield from _too_close(earlier, later, 0 if own else changeover)


def _too_close(earlier: Visit, later: Visit, changeover: int) -> Iterator[str]:
    ready = earlier.out_day + timedelta(days=changeover)
    if later.in_day < earlier.out_day:
        yield (
            f"{earlier.check.name} and {later.check.name} are both in bay {later.bay} "
            f"on {as_day(later.in_day)}."
        )
    elif later.in_day < ready:
        yield (
            f"{later.check.name} comes into bay {later.bay} on {as_day(later.in_day)}, "
            f"but the changeover after {earlier.check.name} runs until {as_day(ready)}."
        )
