"""The sheet ``Man-hours``: demand and available man-hours of each skill, week by week."""

from capacity.facts import Base
from capacity.plans.levelled import Levelling
from capacity.plans.plan import WeekLoad
from capacity.reports.kit.formats import (
    HOURS_OR_DASH,
    MONEY_OR_DASH,
    PERCENT,
    SIGNED_HOURS,
)
from capacity.reports.kit.sheet import Book, Cell
from capacity.reports.kit.table import Column, write_sheet_table
from capacity.reports.kit.week_column import monday_column
from capacity.reports.plan.moved_words import cost_bought
from capacity.reports.plan.view import View
from capacity.reports.plan.wording import bought, is_over

SHEET = "Man-hours"

COLUMNS: tuple[Column[WeekLoad], ...] = (
    Column("Skill", lambda w: w.skill, width=16),
    Column("Week", lambda w: w.week, width=11),
    monday_column(lambda w: w.week),
    Column("Demand (h)", lambda w: w.demand, HOURS_OR_DASH, width=11),
    Column("Regular (h)", lambda w: w.regular, HOURS_OR_DASH, width=11),
    Column("Used (% of regular)", lambda w: _use(w), PERCENT, width=11),
    Column(
        "Within regular hours (h)",
        lambda w: max(0.0, w.demand - w.overtime - w.contract - w.overload),
        HOURS_OR_DASH,
        width=11,
    ),
    Column("Overtime (h)", lambda w: w.overtime, HOURS_OR_DASH, width=11),
    Column("Contract (h)", lambda w: w.contract, HOURS_OR_DASH, width=11),
    Column("Contract share (% of hours worked)", lambda w: _contract_share(w), PERCENT, width=13),
    Column(
        "Overload (h)",
        lambda w: w.overload,
        HOURS_OR_DASH,
        is_over,
        width=11,
    ),
    Column("Overtime cap (h)", lambda w: w.overtime_cap, HOURS_OR_DASH, width=11),
    Column("Contract cap (h)", lambda w: w.contract_cap, HOURS_OR_DASH, width=11),
    Column(
        "Available with overtime and contract (h)",
        lambda w: w.regular + w.overtime_cap + w.contract_cap,
        HOURS_OR_DASH,
        width=11,
    ),
    Column("Remarks", lambda w: ", ".join(bought(w)) or None, width=44),
)


def man_hours_sheet(book: Book, view: View) -> None:
    """Add the sheet; the rows of a skill stand together, as its chart needs them."""
    rows = [load for _, loads in by_skill(view) for load in loads]
    write_sheet_table(book.sheet(SHEET), columns_of(view), rows, frozen_columns=2)


def columns_of(view: View) -> tuple[Column[WeekLoad], ...]:
    """Return the columns of the sheet; those of levelling only where hours are levelled."""
    return (*COLUMNS, *(() if view.levelling is None else _levelled(view.levelling, view.base)))


def _levelled(levelling: Levelling, base: Base) -> tuple[Column[WeekLoad], ...]:
    """Return the columns that set the weeks beside those of an even spread in the same slots."""
    even = {(load.week, load.skill): load for load in levelling.evenly.weeks}

    def bought_evenly(load: WeekLoad) -> float:
        there = even.get((load.week, load.skill))
        return 0.0 if there is None else there.overtime + there.contract + there.overload

    def demand_evenly(load: WeekLoad) -> float:
        there = even.get((load.week, load.skill))
        return 0.0 if there is None else there.demand

    return (
        Column("Demand spread evenly (h)", demand_evenly, HOURS_OR_DASH, width=11),
        Column(
            "Moved in (+) or out (-) by levelling (h)",
            lambda load: load.demand - demand_evenly(load),
            SIGNED_HOURS,
            width=13,
        ),
        Column("Bought if spread evenly (h)", bought_evenly, HOURS_OR_DASH, width=11),
        Column(
            f"Saved by levelling ({base.currency})",
            lambda load: (
                cost_bought(even.get((load.week, load.skill)), base) - cost_bought(load, base)
            ),
            MONEY_OR_DASH,
            width=14,
        ),
    )


def by_skill(view: View) -> list[tuple[str, list[WeekLoad]]]:
    """Return the weeks of each skill, skills in the order of the base."""
    weeks = view.outcome.audit.weeks
    names = list(dict.fromkeys([s.name for s in view.base.skills] + [w.skill for w in weeks]))
    found = [(name, [w for w in weeks if w.skill == name]) for name in names]
    return [(name, loads) for name, loads in found if loads]


def _contract_share(load: WeekLoad) -> Cell:
    worked = load.demand - load.overload
    return 100 * load.contract / worked if worked > 0 else None


def _use(load: WeekLoad) -> Cell:
    if load.regular > 0:
        return 100 * load.demand / load.regular
    return "no regular" if load.demand > 0 else None
