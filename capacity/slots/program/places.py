"""Where the placements of a plan are among the candidates of their check."""

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from capacity.plans.plan import Placement
from capacity.slots.candidates import Candidates, Slots
from capacity.slots.program.choice import Choice
from capacity.slots.program.program import Program


def old_places(slots: Slots, before: Mapping[str, Sequence[Placement]]) -> NDArray[np.int64]:
    """Return the candidate in which each check stood before, -1 where it is there no more."""
    places = np.full(len(slots.candidates), -1, dtype=np.int64)
    for number, candidates in enumerate(slots.candidates):
        placements = before.get(candidates.courses.check.name)
        if placements:
            place = place_of(list(placements), candidates, slots)
            places[number] = -1 if place is None else place
    return places


def columns_at(places: NDArray[np.int64], program: Program) -> Choice:
    """Return the column of a candidate of each check, -1 for one without a place."""
    return np.where(places < 0, -1, program.first_column[:-1] + places)


def place_of(placements: list[Placement], candidates: Candidates, slots: Slots) -> int | None:
    """Return the first candidate with these bays, days and stages; None when there is none."""
    courses, day = candidates.courses, slots.calendar.number
    stays = courses.stays
    stated = {s.stage: (day(s.first), day(s.until)) for p in placements for s in p.stages}
    if set(stated) != {stage.name for stage in courses.work}:
        return None
    alike = (stays.in_day == day(placements[0].in_day)) & (
        stays.out_day == day(placements[-1].out_day)
    )
    for number, stage in enumerate(courses.work):
        first, until = stated[stage.name]
        alike &= (stays.starts[:, number] == first) & (stays.ends[:, number] == until)
    for place in np.flatnonzero(alike[candidates.course]):
        if _same_visits(placements, candidates, int(place), slots):
            return int(place)
    return None


def _same_visits(
    placements: list[Placement], candidates: Candidates, place: int, slots: Slots
) -> bool:
    groups, day = candidates.groups[place], slots.calendar.number
    edges = candidates.courses.stays.edges[candidates.course[place]]
    starts = np.flatnonzero(np.concatenate(([True], groups[1:] != groups[:-1])))
    if len(starts) != len(placements):
        return False
    ends = [*starts[1:], len(groups)]
    return all(
        p.bay in slots.groups[groups[leg]].bays
        and (day(p.in_day), day(p.out_day)) == (edges[leg], edges[until])
        for p, leg, until in zip(placements, starts, ends, strict=True)
    )
