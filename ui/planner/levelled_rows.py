"""What levelling did, as tables: the weeks of a check's stages, the stages of a week."""

from collections.abc import Iterable

from capacity.plans.levelled import Levelling, StageWeek
from capacity.plans.moved_hours import MovedHours, moved_hours
from capacity.reports.plan.largest_moves import largest_moves
from capacity.reports.plan.moved_words import (
    cost_bought,
    hours_bought,
    in_words,
    load_in,
    why_moved,
)
from capacity.reports.plan.view import View
from capacity.words import LEAST_HOURS, week_dates
from ui.rows import TableRow


def weeks_of_check(levelling: Levelling, name: str) -> list[TableRow]:
    """Return where the hours of a check's stages lie, a line a stage, skill and week."""
    return [
        {
            "Stage": one.stage,
            "Skill": one.skill,
            "Week": one.week,
            "From": week_dates(one.week)[0],
            "Man-hours": round(one.hours, 1),
            "Spread evenly (man-hours)": round(one.evenly, 1),
            "Moved in (+) or out (-) (man-hours)": round(one.moved, 1) + 0.0,
        }
        for one in levelling.weeks
        if one.check == name
    ]


def moves_of_check(view: View, name: str) -> list[TableRow]:
    """Return which hours of a check were put off or brought forward, and why."""
    return [
        {
            "Stage": move.stage,
            "Skill": move.skill,
            "Hours moved": in_words(move),
            "Why": why_moved(move, _levelling(view).evenly, view.outcome.audit, view.base),
        }
        for move in _that_show(one for one in _levelling(view).weeks if one.check == name)
    ]


def moves_of_week(view: View, week: str, skill: str) -> list[TableRow]:
    """Return the stages that brought hours into a week and skill, or took some out of it.

    The most hours first. They add up to the demand of the week less that of the even spread.
    """
    moves = _that_show(one for one in _levelling(view).weeks if one.skill == skill)
    rows = [
        {
            "Check": move.check,
            "Aircraft": view.base.check(move.check).aircraft,
            "Stage": move.stage,
            "Moved in (+) or out (-) (man-hours)": round(
                move.hours if move.went_to == week else -move.hours, 1
            ),
            "Hours moved": in_words(move),
        }
        for move in moves
        if week in (move.left, move.went_to)
    ]
    return sorted(
        rows, key=lambda row: -abs(float(str(row["Moved in (+) or out (-) (man-hours)"])))
    )


def even_beside_levelled(view: View) -> list[TableRow]:
    """Return the weeks and skills whose demand levelling changes, beside that of an even spread."""
    if view.levelling is None:
        return []
    currency = view.base.currency
    rows = []
    for load in view.outcome.audit.weeks:
        even = load_in(view.levelling.evenly, load.week, load.skill)
        demand = 0.0 if even is None else even.demand
        if abs(load.demand - demand) < LEAST_HOURS:
            continue
        rows.append(
            {
                "Week": load.week,
                "From": week_dates(load.week)[0],
                "Skill": load.skill,
                "Demand (man-hours)": round(load.demand, 1),
                "Demand, spread evenly (man-hours)": round(demand, 1),
                "Moved in (+) or out (-) (man-hours)": round(load.demand - demand, 1),
                "Bought (man-hours)": round(hours_bought(load), 1),
                "Bought if spread evenly (man-hours)": round(hours_bought(even), 1),
                f"Bought ({currency})": round(cost_bought(load, view.base)),
                f"Bought if spread evenly ({currency})": round(cost_bought(even, view.base)),
            }
        )
    return rows


def largest(view: View) -> list[TableRow]:
    """Return the stages whose hours levelling moved most, each with the reason."""
    return [
        {
            "Check": move.check,
            "Aircraft": move.aircraft,
            "Stage": move.stage,
            "Skill": move.skill,
            "Hours moved": move.moved,
            "Why": move.why,
        }
        for move in largest_moves(view)
    ]


def _levelling(view: View) -> Levelling:
    assert view.levelling is not None
    return view.levelling


def _that_show(weeks: Iterable[StageWeek]) -> list[MovedHours]:
    return [move for move in moved_hours(weeks) if move.hours >= LEAST_HOURS]
