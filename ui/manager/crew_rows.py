"""A crew plan as tables: goals, shift lists, crews by week, stages moved, hours not covered."""

from collections.abc import Sequence
from dataclasses import dataclass

from capacity.crews.assign import Staffed
from capacity.crews.crew_plan import Short
from capacity.crews.model.solve import GoalReached
from capacity.crews.problem import HUNDREDTHS
from capacity.facts import Base
from capacity.reports.crews.workbook import ShiftList, crew_weeks
from capacity.words import LEAST_HOURS, hours
from ui.rows import TableRow

ALL = "all"
HOURS_GOALS = ("overload", "overtime")
MEANINGS = {
    "overload": "Man-hours beyond what crews, overtime and contract labour cover. Counts first.",
    "overtime": "Man-hours beyond the shifts, and all hours of people called in on a day off.",
    "crew-aircraft pairs": "How many pairs of a crew and an aircraft there are: fewer are fewer "
    "handovers.",
    "levelling index": "Sum of the squares of the people at work by day and skill: the smaller, "
    "the more level the days.",
}


@dataclass(frozen=True, slots=True)
class Wanted:
    """Which lines of the shift lists are shown; ``ALL`` leaves nothing out."""

    shift: str = ALL
    crew: str = ALL
    check: str = ALL


def goal_rows(goals: Sequence[GoalReached]) -> list[TableRow]:
    """Return a row a goal, in the order in which they count, with its proven bound."""
    return [
        {
            "Goal": goal.goal,
            "Reached": _figure(goal.goal, goal.value),
            "Proven": "proven minimum"
            if goal.value == goal.bound
            else f"at least {_figure(goal.goal, goal.bound)}",
            "What it is": MEANINGS[goal.goal],
        }
        for goal in goals
    ]


def line_rows(lists: Sequence[ShiftList], wanted: Wanted) -> list[TableRow]:
    """Return a row a line of these shift lists, in their order; the day where there are several."""
    several = len({one.day for one in lists}) > 1
    return [
        {
            **({"Day": one.day} if several else {}),
            "Shift": f"{one.shift} from {one.begins}",
            "Crew": line.crew,
            "Bay": line.bay,
            "Check": f"{line.check} ({line.aircraft})",
            "Stage": line.stage,
            "Skill": line.skill,
            "People": round(line.people, 2),
            "Man-hours": round(line.hours, 1),
            "Overtime (h)": round(line.overtime, 1) or None,
            "Remarks and cautions": line.remarks,
        }
        for one in lists
        if wanted.shift in (ALL, one.shift)
        for line in one.lines
        if wanted.crew in (ALL, line.crew) and wanted.check in (ALL, line.check)
    ]


def crew_week_rows(staffed: Staffed, base: Base) -> list[TableRow]:
    """Return a row a crew and week."""
    return [
        {
            "Week": week.week,
            "Crew": week.crew,
            "Employment": week.employment,
            "Assigned (man-hours)": round(week.given, 1),
            "Overtime (man-hours)": round(week.overtime, 1) or None,
            "Aircraft": week.aircraft,
        }
        for week in crew_weeks(staffed, base)
    ]


def moved_rows(staffed: Staffed) -> list[TableRow]:
    """Return a row a stage that has other days than in the slot plan, within its float."""
    return [
        {
            "Check": stage.check,
            "Stage": stage.stage,
            "In the slot plan from": stage.planned,
            "Now from": stage.first,
            "Days later (minus: earlier)": (stage.first - stage.planned).days,
        }
        for stage in staffed.plan.stages
        if stage.first != stage.planned
    ]


def not_covered_rows(staffed: Staffed) -> list[TableRow]:
    """Return the hours that no crew of the roster gives, the most first."""
    both = (("overload", staffed.plan.short), ("contract labour to be hired", staffed.plan.bought))
    rows = [(why, amount) for why, amounts in both for amount in amounts]
    return [
        _not_covered(why, amount)
        for why, amount in sorted(rows, key=lambda row: -row[1].hours)
        if amount.hours >= LEAST_HOURS
    ]


def _not_covered(why: str, amount: Short) -> TableRow:
    return {
        "Check": amount.check,
        "Stage": amount.stage,
        "Skill": amount.skill,
        "Man-hours": round(amount.hours, 1),
        "Why": why,
    }


def _figure(goal: str, value: int) -> str:
    return hours(value / HUNDREDTHS) if goal in HOURS_GOALS else f"{value:,}"
