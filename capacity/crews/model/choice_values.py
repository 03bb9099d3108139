"""A choice as the values of the model's variables, and back."""

from collections.abc import Sequence
from typing import Any, TypeVar

from ortools.sat.python import cp_model

from capacity.crews.choice import CrewChoice
from capacity.crews.model.variables import Variables

Key = TypeVar("Key")


def cost_of(objective: Any, values: Sequence[int]) -> int:
    """Return what values of all variables come to in an objective of the model."""
    pairs = zip(objective.vars, objective.coeffs, strict=True)
    value = sum(round(price) * values[variable] for variable, price in pairs)
    offset: float = objective.offset
    return int(value) + round(offset)


def values_of(v: Variables, choice: CrewChoice) -> list[int]:
    """Return the values of all variables of the model that a choice stands for."""
    values = [0] * len(v.model.proto.variables)
    for task in range(len(v.problem.tasks)):
        for way, span in v.runs(task):
            if not isinstance(way, int):
                values[way.index] = int(span == choice.span[task])

    def put(variables: dict[Key, cp_model.IntVar], amounts: dict[Key, int]) -> None:
        for key, amount in amounts.items():
            if amount:
                values[variables[key].index] = amount

    put(v.heads, choice.heads)
    put(v.hours, choice.hours)
    put(v.overtime, choice.overtime)
    put(v.bought, choice.bought)
    put(v.short, choice.short)
    shifts = v.problem.shifts
    given = {(t, shifts[s].day, shifts[s].shift) for (s, t, _), h in choice.hours.items() if h}
    for key, used in v.used.items():
        values[used.index] = int(key in given)
    for (number, check, skills), person in v.person.items():
        there = any(choice.heads.get((number, check, skill), 0) for skill in skills)
        values[person.index] = int(there)
    at_work = {(shifts[s].crew, check) for (s, check, _), n in choice.heads.items() if n}
    if "works" in v.__dict__:  # made by the goal that asks for them
        for pair, works in v.works.items():
            values[works.index] = int(pair in at_work)
    for teams, pieces in v.pieces:
        people = sum(choice.heads.get(team, 0) for team in teams)
        for piece, size in pieces:
            values[piece.index] = min(people, size)
            people -= values[piece.index]
    return values


def choice_of(v: Variables, values: Sequence[int]) -> CrewChoice:
    """Return the choice that values of all variables stand for."""

    def amounts(variables: dict[Key, cp_model.IntVar]) -> dict[Key, int]:
        found = {key: values[variable.index] for key, variable in variables.items()}
        return {key: value for key, value in found.items() if value}

    return CrewChoice(
        span=[
            next(n for way, n in v.runs(task) if isinstance(way, int) or values[way.index])
            for task in range(len(v.problem.tasks))
        ],
        heads=amounts(v.heads),
        hours=amounts(v.hours),
        overtime=amounts(v.overtime),
        bought=amounts(v.bought),
        short=amounts(v.short),
    )
