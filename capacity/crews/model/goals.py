"""What a crew plan is to be good at, the more important first."""

from collections import defaultdict
from collections.abc import Callable

from ortools.sat.python import cp_model

from capacity.crews.model.variables import Expression, Variables

STEPS = 40
"""Squares of larger numbers of people are drawn by so many chords, touching them."""


def hours_not_met(v: Variables) -> Expression:
    """Hundredths of man-hours that nobody gives."""
    return sum(v.short.values())


def overtime(v: Variables) -> Expression:
    """Hundredths of man-hours beyond the shifts of the pattern, people called in with them."""
    called_in = [
        hours for (shift, _, _), hours in v.hours.items() if v.problem.shifts[shift].called_in
    ]
    return sum(v.overtime.values()) + sum(called_in)


def crews_per_aircraft(v: Variables) -> Expression:
    """Pairs of a crew and an aircraft that it works on: fewest changes of crew.

    A crew that has people on an aircraft on some day works on it: heads <= present x works.
    """
    for key, heads in v.heads.items():
        shift = v.problem.shifts[key[0]]
        v.model.add(heads <= shift.heads * v.problem.parts * v.works[shift.crew, key[1]])
    return sum(v.works.values())


def unevenness(v: Variables) -> Expression:
    """Sum over days and skills of the square of the people at work, in parts of a shift.

    The square is drawn by chords between whole numbers of people: exact up to ``STEPS``.
    """
    people: defaultdict[tuple[int, str], list[tuple[int, str, str]]] = defaultdict(list)
    for key in v.heads:
        people[v.problem.shifts[key[0]].day, key[2]].append(key)
    total: list[Expression] = []
    for keys in people.values():
        shifts = dict.fromkeys(key[0] for key in keys)
        most = v.problem.parts * sum(v.problem.shifts[shift].heads for shift in shifts)
        step = -(-most // STEPS)
        pieces: list[tuple[cp_model.IntVar, int]] = []
        for low in range(0, most, step):
            high = min(most, low + step)
            piece = v.model.new_int_var(0, high - low, "")
            pieces.append((piece, high - low))
            # Between low and high the square rises by (low + high) a person.
            total.append((low + high) * piece)
        v.model.add(sum(v.heads[key] for key in keys) <= sum(piece for piece, _ in pieces))
        v.pieces.append((keys, pieces))
    return sum(total)


GOALS: tuple[tuple[str, Callable[[Variables], Expression]], ...] = (
    ("overload", hours_not_met),
    ("overtime", overtime),
    ("crew-aircraft pairs", crews_per_aircraft),
    ("levelling index", unevenness),
)

# Hours not met weigh so much more than overtime where both are bettered together.
WEIGHT = 100


def both_hours(v: Variables) -> Expression:
    """Both goals about hours at once: a first plan that is good for the one and the other."""
    return WEIGHT * hours_not_met(v) + overtime(v)


HOURS_GOALS = ("overload", "overtime")
