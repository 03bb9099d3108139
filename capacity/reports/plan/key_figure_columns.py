"""The tables behind the key figures, column by column, for workbook, dashboard and print."""

from collections.abc import Iterator, Sequence
from typing import Any

from capacity.facts import Base
from capacity.questions.key_figures.values import (
    BayUse,
    KeyFigures,
    LabourUse,
    MonthBought,
    OptionResult,
    TurnRound,
    WeekUse,
)
from capacity.reports.kit.formats import (
    DATE,
    HOURS,
    HOURS_OR_DASH,
    LEFT,
    MONEY_OR_DASH,
    PERCENT,
    SIGNED_DAYS,
    WHOLE,
)
from capacity.reports.kit.table import Column
from capacity.reports.plan.key_figure_words import month_in_words
from capacity.words import week_dates

Table = tuple[str, Sequence[Column[Any]], Sequence[Any]]
"""A title, columns, and rows."""

BAYS: tuple[Column[BayUse], ...] = (
    Column("Bay", lambda b: b.bay, width=26),
    Column("Open (days)", lambda b: b.open, WHOLE, width=15),
    Column("Occupied (days)", lambda b: b.occupied, WHOLE, width=15),
    Column("Used (%)", lambda b: _percent(b.used), PERCENT, width=15),
)


def tables_of(figures: KeyFigures, base: Base) -> Iterator[Table]:
    """Yield the tables in the order in which a manager asks; those without a row are left out."""
    skills = (*figures.labour_by_skill, figures.labour)
    yield "Bay use", BAYS, (*figures.bays, figures.all_bays)
    yield "Labour use by skill, planning period", _labour("Skill", 26), skills
    yield "Labour use by week (% of regular hours)", _weeks(figures), figures.weeks
    title = "Overtime, contract labour and overload by month"
    yield title, _months(base), (*figures.months, figures.bought)
    if figures.turn_rounds:
        yield "Turn-round, planned against promised", _turn_rounds(), figures.turn_rounds
    if figures.options:
        yield "Options won and lost", _options(base), figures.options


def _labour(heading: str, width: float) -> tuple[Column[LabourUse], ...]:
    return (
        Column(heading, lambda u: u.skill, width=width),
        Column("Demand (h)", lambda u: u.demand, HOURS_OR_DASH, width=15),
        Column("Regular (h)", lambda u: u.regular, HOURS_OR_DASH, width=15),
        Column("Used (% of regular hours)", lambda u: _percent(u.used), PERCENT, width=15),
        Column("Overtime (h)", lambda u: u.overtime, HOURS_OR_DASH, width=15),
        Column("Contract (h)", lambda u: u.contract, HOURS_OR_DASH, width=15),
        Column("Overload (h)", lambda u: u.overload, HOURS_OR_DASH, _is_over, width=15),
    )


def _is_over(use: LabourUse) -> bool:
    return use.overload > 0


def _weeks(figures: KeyFigures) -> tuple[Column[WeekUse], ...]:
    """Return a column a skill; their order is that of the base in every week."""
    skills = [use.skill for use in figures.labour_by_skill]
    return (
        Column("Week", lambda w: w.week, width=26),
        Column("From", lambda w: week_dates(w.week)[0], DATE, width=15),
        Column("All skills", lambda w: _percent(w.total.used), PERCENT, width=15),
        *(_of_skill(skill) for skill in skills),
    )


def _of_skill(skill: str) -> Column[WeekUse]:
    def used(week: WeekUse) -> float | None:
        found = next((use for use in week.skills if use.skill == skill), None)
        return None if found is None else _percent(found.used)

    return Column(skill, used, PERCENT, width=15)


def _months(base: Base) -> tuple[Column[MonthBought], ...]:
    return (
        Column("Month (of a week's Thursday)", _month, LEFT, width=26),
        Column("Overtime (h)", lambda m: m.overtime, HOURS_OR_DASH, width=15),
        Column("Contract (h)", lambda m: m.contract, HOURS_OR_DASH, width=15),
        Column("Overload (h)", lambda m: m.overload, HOURS_OR_DASH, width=15),
        Column(f"Cost ({base.currency})", lambda m: m.money, MONEY_OR_DASH, width=15),
    )


def _month(month: MonthBought) -> str:
    return "all" if month.first is None else month_in_words(month.first)


def _turn_rounds() -> tuple[Column[TurnRound], ...]:
    return (
        Column("Check", lambda t: t.check, width=26),
        Column("Customer", lambda t: t.customer, width=15),
        Column("In", lambda t: t.in_day, DATE, width=15),
        Column("Out", lambda t: t.out_day, DATE, width=15),
        Column("Agreed out", lambda t: t.agreed_out, DATE, width=15),
        Column("Planned (days)", lambda t: t.days, WHOLE, width=15),
        Column("Promised (days)", lambda t: t.promised_days, WHOLE, width=15),
        Column(
            "Longer than promised (days)",
            _longer,
            SIGNED_DAYS,
            lambda t: not t.is_on_time,
            width=15,
        ),
        Column("Man-hours (h)", lambda t: t.man_hours, HOURS_OR_DASH, width=15),
        Column("Man-hours a day in work (h)", lambda t: t.man_hours_a_day, HOURS, width=15),
        Column("On time", _on_time, width=15),
    )


def _longer(turn: TurnRound) -> int | None:
    return None if turn.promised_days is None else turn.days - turn.promised_days


def _on_time(turn: TurnRound) -> str:
    if turn.agreed_out is None:
        return "nothing agreed"
    return "yes" if turn.is_on_time else "late out"


def _options(base: Base) -> tuple[Column[OptionResult], ...]:
    currency = base.currency
    return (
        Column("Option", lambda o: o.check, width=26),
        Column("Customer", lambda o: o.customer, width=15),
        Column("Result", lambda o: "won" if o.won else "lost", width=15),
        Column(f"Price ({currency})", lambda o: o.price, MONEY_OR_DASH, width=15),
        Column(
            f"Added cost of the plan ({currency})",
            lambda o: o.contribution.plan_cost if o.won else None,
            MONEY_OR_DASH,
            width=15,
        ),
        Column("Man-hours (h)", lambda o: o.man_hours, HOURS_OR_DASH, width=15),
        Column(
            "Regular labour (h)", lambda o: o.contribution.regular_hours, HOURS_OR_DASH, width=15
        ),
        Column(
            f"Regular labour ({currency})",
            lambda o: o.contribution.labour,
            MONEY_OR_DASH,
            width=15,
        ),
        Column(
            f"Material ({currency})", lambda o: o.contribution.material, MONEY_OR_DASH, width=15
        ),
        Column(
            f"Contribution, of lost ones at most ({currency})",
            lambda o: o.contribution.money,
            MONEY_OR_DASH,
            width=15,
        ),
        Column(
            f"Contribution per man-hour ({currency})",
            lambda o: o.contribution.per_man_hour,
            MONEY_OR_DASH,
            width=15,
        ),
    )


def _percent(share: float | None) -> float | None:
    return None if share is None else 100 * share
