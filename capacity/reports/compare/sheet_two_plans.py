"""Tables of two plans side by side: goals, cost by kind, overload weeks."""

from collections.abc import Sequence
from dataclasses import dataclass

from capacity.facts import Base
from capacity.questions.compare.two_plans import Comparison, MoneyPair, OverloadPair
from capacity.reports.kit.formats import HOURS_OR_DASH, MONEY, TOTAL, WHOLE
from capacity.reports.kit.sheet import Book, Sheet
from capacity.reports.kit.table import Column, write_sheet_table, write_table
from capacity.reports.kit.week_column import monday_column
from capacity.words import LEAST_HOURS, hours

OVERLOAD_WEEKS = "Overload weeks"

DAYS_PAST, SUM = "days past Latest in", "money"
"""The names of goal 1 and of the money of the plan among the figures of a comparison."""

KINDS = {
    "overtime": "Overtime",
    "contract": "Contract labour",
    "overload": "Overload",
    "early days": "Unused interval",
    "late days": "Late out",
    "guaranteed hours": "Guaranteed hours of contract teams",
    "days from Wanted in": "Away from Wanted in",
    "prices of options": "Price of options taken (earned)",
}
"""The kinds of cost as the plan workbook calls them."""

Names = tuple[str, str]
"""What the two plans are called."""


@dataclass(frozen=True, slots=True)
class GoalPair:
    """One goal in both plans."""

    goal: str
    first: float
    second: float
    unit: str


def goals_of(told: Comparison, base: Base) -> list[GoalPair]:
    """Return the goals in order of importance, and the overload beside them."""
    first, second = told.first.goals, told.second.goals
    return [
        GoalPair(
            "1. Days past Latest in", first.days_past_latest_in, second.days_past_latest_in, "days"
        ),
        GoalPair("2. Cost of the plan", first.money, second.money, base.currency),
        GoalPair(
            "Overload (part of the cost)", first.overload_hours, second.overload_hours, "man-hours"
        ),
    ]


def goals_pair_table(
    sheet: Sheet, top: int, goals: Sequence[GoalPair], names: Names, widths: Sequence[float]
) -> int:
    """Write goals side by side; return the first row below."""
    columns: tuple[Column[GoalPair], ...] = (
        Column("Goal", lambda g: g.goal, width=widths[0]),
        Column(_heading(names[0]), lambda g: g.first, WHOLE, width=widths[1]),
        Column(_heading(names[1]), lambda g: g.second, WHOLE, width=widths[2]),
        Column(f"More in {names[1]}", lambda g: g.second - g.first, WHOLE, width=widths[3]),
        Column("Unit", lambda g: g.unit, width=widths[4]),
    )
    return write_table(sheet, top, columns, goals)


def money_pair_table(
    sheet: Sheet, top: int, told: Comparison, names: Names, base: Base, widths: Sequence[float]
) -> int:
    """Write the money by kind side by side, with its sum; return the first row below."""
    currency = base.currency
    columns: tuple[Column[MoneyPair], ...] = (
        Column("Kind", lambda m: KINDS[m.name], width=widths[0]),
        Column(f"{_heading(names[0])} ({currency})", lambda m: m.first, MONEY, width=widths[1]),
        Column(f"{_heading(names[1])} ({currency})", lambda m: m.second, MONEY, width=widths[2]),
        Column(f"More in {names[1]} ({currency})", lambda m: m.more, MONEY, width=widths[3]),
    )
    kinds = [pair for pair in told.money if pair.name not in (DAYS_PAST, SUM)]
    row = write_table(sheet, top, columns, kinds)
    (total,) = (pair for pair in told.money if pair.name == SUM)
    sheet.write(row, 0, "Cost of the plan", TOTAL)
    for column, value in enumerate((total.first, total.second, total.more), start=1):
        sheet.write(row, column, value, {**MONEY, **TOTAL})
    return row + 1


def overload_pair_sheet(
    book: Book, told: Comparison, names: Names, title: str = OVERLOAD_WEEKS
) -> None:
    """Add the sheet: a row a week and skill that is overloaded in either plan."""
    columns: tuple[Column[OverloadPair], ...] = (
        Column("Week", lambda o: o.week, width=11),
        monday_column(lambda o: o.week),
        Column("Skill", lambda o: o.skill, width=16),
        Column(f"Overload in {names[0]} (h)", lambda o: o.first, HOURS_OR_DASH, width=18),
        Column(f"Overload in {names[1]} (h)", lambda o: o.second, HOURS_OR_DASH, width=18),
        Column(
            f"More in {names[1]} (h)",
            lambda o: o.second - o.first,
            HOURS_OR_DASH,
            lambda o: o.second - o.first >= LEAST_HOURS,
            width=18,
        ),
        Column("Remarks", how_overload_changes, width=30),
    )
    write_sheet_table(book.sheet(title), columns, told.overloads, frozen_columns=3)


def how_overload_changes(pair: OverloadPair) -> str:
    """Return in a word what becomes of an overload from the first plan to the second."""
    if pair.first < LEAST_HOURS:
        return "new"
    if pair.second < LEAST_HOURS:
        return "gone"
    more = pair.second - pair.first
    if abs(more) < LEAST_HOURS:
        return "the same"
    return f"{hours(abs(more))} {'more' if more > 0 else 'less'}"


def overload_pair_lines(told: Comparison, most: int) -> list[str]:
    """Return the weeks in which either plan is overloaded, the most overload first."""
    worst = sorted(told.overloads, key=lambda o: (-max(o.first, o.second), o.week, o.skill))
    lines = [
        f"  {o.week}  {o.skill:<14}  {_or_none(o.first)} -> {_or_none(o.second)}  "
        f"({how_overload_changes(o)})"
        for o in worst[:most]
    ]
    if len(worst) > most:
        lines.append(f"  and {len(worst) - most} more")
    return lines


def _or_none(amount: float) -> str:
    return hours(amount) if amount >= LEAST_HOURS else "none"


def _heading(name: str) -> str:
    return name[:1].upper() + name[1:]
