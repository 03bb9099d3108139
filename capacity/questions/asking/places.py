"""Where a given plan stands among the candidates."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from capacity.errors import InputError
from capacity.messages import Level, Message
from capacity.plans.plan import Placement, Plan
from capacity.slots.candidates import Candidates, Slots
from capacity.slots.program.choice import Choice
from capacity.slots.program.places import columns_at, old_places
from capacity.slots.program.program import Program
from capacity.words import day


def choice_of(plan: Plan, slots: Slots, program: Program) -> Choice:
    """Return the column that stands for each check of a plan, -1 for one without a place.

    A placement and its column have the same bays (or bays of the same group), in day, out
    day and days of every stage.

    Raises
    ------
    InputError
        When a placement is not among the candidates; the messages name each of them.
    """
    return columns_at(places_of(plan, slots), program)


def places_of(plan: Plan, slots: Slots) -> Choice:
    """Return the number of each check's candidate among its own; raises as ``choice_of``."""
    by_check = plan.by_check()
    places = old_places(slots, by_check)
    names = [candidates.courses.check.name for candidates in slots.candidates]
    gone = [name for name, place in zip(names, places, strict=True) if place < 0]
    if messages := [_not_found(by_check[name]) for name in gone if name in by_check]:
        raise InputError(messages)
    return places


def bays_along(candidates: Candidates, place: int, slots: Slots) -> tuple[str, ...]:
    """Return the bays that a candidate goes through, those of a group listed together."""
    groups = candidates.groups[place]
    moves = np.concatenate(([True], groups[1:] != groups[:-1]))
    return tuple(slots.groups[number].title for number in groups[moves])


def other_bays(candidates: Candidates, before: list[Placement], slots: Slots) -> NDArray[np.bool_]:
    """Return which candidates go through other bays than before, shape (candidates,)."""
    old = tuple(placement.bay for placement in before)
    ways, inverse = np.unique(candidates.groups, axis=0, return_inverse=True)
    other = np.array([_bays(way, slots) != old for way in ways], dtype=np.bool_)
    return other[inverse.ravel()]


def only_places(slots: Slots, places: Choice, held: NDArray[np.bool_]) -> Slots:
    """Return the slots with no other candidates of the ``held`` checks than their places.

    A held check without a place keeps none; places are then numbered anew.
    """
    candidates = list(slots.candidates)
    for number in np.flatnonzero(held):
        whole = candidates[number]
        kept = places[number : number + 1] if places[number] >= 0 else np.empty(0, dtype=int)
        candidates[number] = replace(whole, course=whole.course[kept], groups=whole.groups[kept])
    return replace(slots, candidates=tuple(candidates))


def _not_found(placements: list[Placement]) -> Message:
    first = placements[0]
    bays = " and ".join(placement.bay for placement in placements)
    return Message(
        Level.ERROR,
        f"placements, {first.check}",
        f"{first.check} in {bays} from {day(first.in_day)} until {day(placements[-1].out_day)} is "
        "not "
        "a slot that this tool would give it: the bay, the in day or the days of its stages.",
        "Plan again with this workbook, or ask about the plan that was made for it.",
    )


def _bays(way: NDArray[np.int64], slots: Slots) -> tuple[str, ...]:
    """Return the bays of a way in turn, one for legs in a row in the same bay."""
    moves = np.concatenate(([True], way[1:] != way[:-1]))
    return tuple(slots.groups[number].bays[0] for number in way[moves])
