"""Overtime, contract labour and months as tables for whoever answers for the labour."""

from math import fsum

from capacity.facts import Base
from capacity.man_hour_plan.month_function import ManHourPlan
from capacity.questions.overtime.measures import Measure, Measures
from capacity.questions.overtime.review import CrewOvertime, OvertimeReview
from capacity.reports.kit.sheet import Cell
from capacity.reports.overtime.wording import how_tried
from capacity.reports.plan.overview_tables import money_lines
from capacity.reports.plan.sheet_man_hour_plan import MONTH_COLUMNS
from capacity.reports.plan.view import View
from capacity.words import LEAST_HOURS, day, hours, money, week_dates
from ui.rows import TableRow

LABOUR_LINES = 3
"""Overtime, contract labour, overload: the lines of the costs that are for man-hours."""


def labour_figures(view: View) -> list[tuple[str, str, str]]:
    """Return for each kind of hours bought its name, its man-hours and its cost, in words."""
    return [
        (line.kind, hours(line.amount), money(line.money, view.base))
        for line in money_lines(view)[:LABOUR_LINES]
    ]


def overtime_by_crew(review: OvertimeReview, base: Base) -> list[TableRow]:
    """Return a line a crew that works overtime: in all, and in its worst week."""
    of_crew: dict[str, list[CrewOvertime]] = {}
    for line in review.crews:
        of_crew.setdefault(line.crew, []).append(line)
    rows = []
    for crew, lines in of_crew.items():
        worst = max(lines, key=lambda line: line.overtime_per_head)
        rows.append(
            {
                "Crew": crew,
                "Skill": worst.skill,
                "Overtime (man-hours)": round(fsum(line.overtime for line in lines), 1),
                f"Cost ({base.currency})": round(fsum(line.money for line in lines)),
                "Weeks with overtime": len(lines),
                "Worst week": worst.week,
                "Worst week, attended hours per head": round(worst.overtime_per_head, 1),
            }
        )
    return sorted(rows, key=lambda row: -float(str(row["Overtime (man-hours)"])))


def overtime_by_week_and_crew(review: OvertimeReview, base: Base) -> list[TableRow]:
    """Return a line a week and crew that works overtime."""
    return [
        {
            "Week": line.week,
            "From": week_dates(line.week)[0],
            "Crew": line.crew,
            "Skill": line.skill,
            "Regular (man-hours)": round(line.regular, 1),
            "Overtime (man-hours)": round(line.overtime, 1),
            "Attended hours per head": round(line.overtime_per_head, 1),
            f"Cost ({base.currency})": round(line.money),
        }
        for line in review.crews
    ]


def bought_by_week_and_skill(review: OvertimeReview, base: Base) -> list[TableRow]:
    """Return a line a week and skill that buys hours, with the caps that it reaches."""
    return [
        {
            "Week": week.week,
            "From": week_dates(week.week)[0],
            "Skill": week.skill,
            "Overtime (man-hours)": round(week.overtime, 1),
            "Contract labour (man-hours)": round(week.contract, 1),
            "Overload (man-hours)": round(week.overload, 1),
            f"Overtime ({base.currency})": round(week.overtime_money),
            f"Contract labour ({base.currency})": round(week.contract_money),
            f"Overload ({base.currency})": round(week.overload_money),
            "Caps reached": "; ".join(week.limits),
        }
        for week in review.weeks
        if max(week.overtime, week.contract, week.overload) >= LEAST_HOURS
    ]


def limits_table(review: OvertimeReview) -> list[TableRow]:
    """Return a line a working-time limit that a crew's roster exceeds."""
    return [
        {
            "Crew": limit.crew,
            "Limit exceeded": limit.what,
            "Times": limit.times,
            "By": "the overtime" if limit.by_overtime else "the roster itself",
            "Rule": limit.source,
        }
        for limit in review.limits
    ]


def months_table(plan: ManHourPlan) -> list[TableRow]:
    """Return a line a month and function, in the columns of the sheet ``Man-hours by month``."""
    return [
        {
            column.heading: _shown(column.value(month), places=2 if "%" in column.heading else 1)
            for column in MONTH_COLUMNS
        }
        for month in plan.months
    ]


def measures_table(measures: Measures, base: Base) -> list[TableRow]:
    """Return a line a measure, those that save most in front."""
    return [_measure(measure, base) for measure in measures.measures]


def measures_sentence(measures: Measures, base: Base) -> str:
    """Return what a longer search alone finds, which is no measure's doing."""
    now, without = measures.now, measures.without
    told = f"This plan has {hours(now.overtime_hours)} overtime and costs {money(now.money, base)}."
    if without.money >= now.money:
        return f"{told} A longer search without any measure found nothing better."
    return (
        f"{told} A longer search without any measure found one with "
        f"{hours(without.overtime_hours)} for {money(without.money, base)}."
    )


def _measure(measure: Measure, base: Base) -> TableRow:
    return {
        "Measure": measure.what,
        f"Saves ({base.currency})": round(measure.saves),
        "Less overtime (man-hours)": round(measure.overtime_less, 1),
        f"Break-even price ({base.currency} per head and week)": (
            None if measure.worth is None else round(measure.worth)
        ),
        "Tried with": how_tried(measure),
        "Checks moved": ", ".join(measure.moved),
    }


def _shown(value: Cell, places: int) -> object:
    """Return a cell with as many decimals as the workbook prints, and no blank as None."""
    if value is None:
        return ""
    return round(value, places) if isinstance(value, float) else value


def review_dates(plan: ManHourPlan) -> str:
    """Return when the man-hour plan is due to be looked at again."""
    stands_in = "" if plan.dated else " (the first day; the workbook gives no Plan date)"
    return f"{plan.name} of {day(plan.made_on)}{stands_in}; next review by {day(plan.review_due)}."
