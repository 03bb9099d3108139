"""The two tables of figures on the sheet ``Overview``: the goals, and the cost by kind."""

from collections.abc import Sequence
from dataclasses import dataclass

from capacity.plans.audit import CheckAccount
from capacity.reports.kit.formats import MONEY, PERCENT, TOTAL, WHOLE
from capacity.reports.kit.sheet import Cell, Sheet
from capacity.reports.kit.table import Column, write_table
from capacity.reports.plan.view import View


@dataclass(frozen=True, slots=True)
class GoalLine:
    """A goal: what the plan comes to, and what no plan can be below, proven."""

    goal: str
    value: float
    unit: str
    meaning: str
    bound: Cell = None
    gap_percent: Cell = None


@dataclass(frozen=True, slots=True)
class MoneyLine:
    """One kind of cost: what it is for, how much of it, and what it comes to."""

    kind: str
    amount: float
    unit: str
    money: float


GOAL_COLUMNS: tuple[Column[GoalLine], ...] = (
    Column("Goal", lambda g: g.goal, width=30),
    Column("This plan", lambda g: g.value, WHOLE, width=18),
    Column("Unit", lambda g: g.unit, width=20),
    Column("No plan can be below", lambda g: g.bound, WHOLE, width=24),
    Column("Could still save at most (%)", lambda g: g.gap_percent, PERCENT, width=20),
    Column("Meaning", lambda g: g.meaning, width=44),
)


def goals_table(sheet: Sheet, top: int, view: View) -> int:
    """Write the goals in order of importance; return the first row below."""
    return write_table(sheet, top, GOAL_COLUMNS, _goals(view))


def money_table(sheet: Sheet, top: int, view: View) -> int:
    """Write the cost by kind with its sum; return the first row below."""
    columns: tuple[Column[MoneyLine], ...] = (
        Column("Kind", lambda m: m.kind, width=30),
        Column("Amount", lambda m: m.amount, WHOLE, width=18),
        Column("Unit", lambda m: m.unit, width=20),
        Column(f"Cost ({view.base.currency})", lambda m: m.money, MONEY, width=24),
    )
    lines = money_lines(view)
    row = write_table(sheet, top, columns, lines)
    sheet.write_row(row, ["Cost of the plan", None, None], TOTAL)
    sheet.write(row, 3, sum(line.money for line in lines), {**MONEY, **TOTAL})
    return row + 1


def _goals(view: View) -> list[GoalLine]:
    outcome = view.outcome
    goals = outcome.audit.goals
    return [
        GoalLine(
            "1. Days past Latest in",
            goals.days_past_latest_in,
            "days",
            "over all fixed and booked checks",
            outcome.days_bound,
        ),
        GoalLine(
            "2. Cost of the plan",
            goals.money,
            view.base.currency,
            "the sum of the table below",
            "none proven" if outcome.bound is None else outcome.bound,
            "not known" if outcome.gap is None else 100 * outcome.gap,
        ),
        GoalLine(
            "Overload (part of the cost)",
            goals.overload_hours,
            "man-hours",
            "man-hours beyond regular, overtime and contract",
        ),
    ]


def money_lines(view: View) -> list[MoneyLine]:
    """Return the cost by kind; their sum is the cost of the plan."""
    audit = view.outcome.audit
    weeks, accounts = audit.weeks, audit.accounts
    overtime = sum(load.overtime for load in weeks)
    contract = sum(load.contract_paid for load in weeks)
    overload = sum(load.overload for load in weeks)
    return [
        MoneyLine("Overtime", overtime, "man-hours", audit.overtime_money),
        MoneyLine("Contract labour", contract, "man-hours", audit.contract_money),
        *([_guaranteed(view)] if audit.guaranteed_money else []),
        MoneyLine("Overload", overload, "man-hours", audit.overload_money),
        MoneyLine(
            "Unused interval",
            sum(account.early_days for account in accounts),
            "days",
            sum(account.early_money for account in accounts),
        ),
        MoneyLine(
            "Late out",
            sum(account.late_days for account in accounts),
            "days",
            sum(account.late_money for account in accounts),
        ),
        *([_away_from_wanted(accounts)] if view.has_wanted_costs else []),
        MoneyLine(
            "Price of options taken (earned)",
            sum(account.price != 0 for account in accounts),
            "options",
            -sum(account.price for account in accounts),
        ),
    ]


def _away_from_wanted(accounts: Sequence[CheckAccount]) -> MoneyLine:
    days = sum(account.wanted_days for account in accounts if account.wanted_money)
    money = sum(account.wanted_money for account in accounts)
    return MoneyLine("Away from Wanted in", days, "days", money)


def _guaranteed(view: View) -> MoneyLine:
    """Return what contract teams are guaranteed; of it the plan uses so many hours."""
    audit = view.outcome.audit
    used = sum(load.guaranteed for load in audit.weeks)
    kind = "Guaranteed hours of contract teams (amount: used)"
    return MoneyLine(kind, used, "man-hours", audit.guaranteed_money)
