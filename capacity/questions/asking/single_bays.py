"""Slots in which every bay is a group of its own, so that a place is one exact bay."""

from dataclasses import replace
from itertools import groupby, product

import numpy as np
from numpy.typing import NDArray

from capacity.slots.candidates import BayGroup, Candidates, Slots


def single_bays(slots: Slots) -> Slots:
    """Return the same slots with one bay a group.

    A search is quicker over interchangeable bays; but to say who stays in which bay, or
    what a change of bays costs, each of them has to be kept apart.
    """
    parts: list[list[BayGroup]] = [_parts(group) for group in slots.groups]
    first = np.cumsum([0, *(len(part) for part in parts)])
    groups = tuple(group for part in parts for group in part)
    numbers = [range(first[n], first[n + 1]) for n in range(len(parts))]
    return replace(
        slots,
        groups=groups,
        candidates=tuple(_spread(c, numbers, groups) for c in slots.candidates),
    )


def _parts(group: BayGroup) -> list[BayGroup]:
    """Return each bay of a group by itself; before the day on which it opens it is shut."""
    days = np.arange(len(group.shut))
    parts = []
    for bay, opens in zip(group.bays, group.opens, strict=True):
        shut = group.shut | (days < opens)
        usable = ((days >= opens) & ~(shut | group.taken)).astype(np.int64)
        parts.append(replace(group, bays=(bay,), opens=(opens,), shut=shut, usable=usable))
    return parts


def _spread(
    candidates: Candidates, numbers: list[range], groups: tuple[BayGroup, ...]
) -> Candidates:
    """Return the candidates once for every bay that each leg could be in."""
    legs = candidates.groups.shape[1]
    course = [np.empty(0, dtype=np.int64)]
    ways = [np.empty((0, legs), dtype=np.int64)]
    known, inverse = np.unique(candidates.groups, axis=0, return_inverse=True)
    for number, way in enumerate(known):
        courses = candidates.course[inverse.ravel() == number]
        for bays in _bays_along(way, numbers):
            stands = _opened(bays, courses, candidates, groups)
            course.append(courses[stands])
            ways.append(np.tile(np.array(bays, dtype=np.int64), (int(stands.sum()), 1)))
    return Candidates(candidates.courses, np.concatenate(course), np.concatenate(ways))


def _bays_along(way: NDArray[np.int64], numbers: list[range]) -> list[tuple[int, ...]]:
    """Return the bays of each leg: one and the same for legs in a row in one group."""
    runs = [(int(group), len(list(run))) for group, run in groupby(way)]
    choices = product(*(numbers[group] for group, _ in runs))
    lengths = [length for _, length in runs]
    return [
        tuple(bay for bay, length in zip(choice, lengths, strict=True) for _ in range(length))
        for choice in choices
    ]


def _opened(
    bays: tuple[int, ...],
    courses: NDArray[np.int64],
    candidates: Candidates,
    groups: tuple[BayGroup, ...],
) -> NDArray[np.bool_]:
    """Return which courses come into no bay before the day on which it opens."""
    edges = candidates.courses.stays.edges[courses]
    stands = np.ones(len(courses), dtype=np.bool_)
    for leg, bay in enumerate(bays):
        if leg == 0 or bays[leg - 1] != bay:
            stands &= edges[:, leg] >= groups[bay].opens[0]
    return stands
