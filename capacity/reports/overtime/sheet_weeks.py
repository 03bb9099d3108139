"""The sheets of an overtime review by week: skill by skill, and crew by crew."""

from capacity.facts import Base
from capacity.questions.overtime.review import CrewOvertime, OvertimeReview, SkillWeekReview
from capacity.reports.kit.formats import (
    HOURS,
    HOURS_OR_DASH,
    MONEY,
    MONEY_OR_DASH,
    WHOLE_OR_DASH,
    WRAPPED,
)
from capacity.reports.kit.sheet import A3, Book
from capacity.reports.kit.table import Column, write_sheet_table
from capacity.reports.kit.week_column import monday_column
from capacity.words import LEAST_HOURS

SKILLS, CREWS = "Weeks and skills", "Weeks and crews"


def overtime_week_sheets(book: Book, review: OvertimeReview, base: Base) -> None:
    """Add both sheets: a row a week and skill, and a row a week and crew with overtime."""
    skills, crews = _skill_columns(base), _crew_columns(base)
    write_sheet_table(book.sheet(SKILLS, paper=A3), skills, review.weeks, frozen_columns=3)
    write_sheet_table(book.sheet(CREWS), crews, review.crews, frozen_columns=3)


def week_money(week: SkillWeekReview) -> float:
    """Return the money of all hours that a week and skill buys."""
    return week.overtime_money + week.contract_money + week.overload_money


def _is_over(week: SkillWeekReview) -> bool:
    return week.overload >= LEAST_HOURS


def _skill_columns(base: Base) -> tuple[Column[SkillWeekReview], ...]:
    currency = base.currency
    return (
        Column("Week", lambda w: w.week, width=11),
        monday_column(lambda w: w.week),
        Column("Skill", lambda w: w.skill, width=16),
        Column("Demand (h)", lambda w: w.demand, HOURS_OR_DASH, width=12),
        Column("Regular (h)", lambda w: w.regular, HOURS_OR_DASH, width=12),
        Column("Overtime (h)", lambda w: w.overtime, HOURS_OR_DASH, width=12),
        Column("Contract (h)", lambda w: w.contract, HOURS_OR_DASH, width=12),
        Column("Overload (h)", lambda w: w.overload, HOURS_OR_DASH, _is_over, width=12),
        Column(f"Overtime ({currency})", lambda w: w.overtime_money, MONEY_OR_DASH, width=14),
        Column(f"Contract ({currency})", lambda w: w.contract_money, MONEY_OR_DASH, width=14),
        Column(f"Overload ({currency})", lambda w: w.overload_money, MONEY_OR_DASH, width=14),
        Column(f"In all ({currency})", week_money, MONEY_OR_DASH, width=14),
        Column("Heads on the roster", lambda w: w.heads, WHOLE_OR_DASH, width=10),
        Column(
            "Overtime per head present (attended h)",
            lambda w: w.overtime_per_head,
            HOURS_OR_DASH,
            width=16,
        ),
        Column("Caps reached", lambda w: "; ".join(w.limits) or None, WRAPPED, width=44),
    )


def _crew_columns(base: Base) -> tuple[Column[CrewOvertime], ...]:
    return (
        Column("Week", lambda c: c.week, width=11),
        monday_column(lambda c: c.week),
        Column("Crew", lambda c: c.crew, width=24),
        Column("Skill", lambda c: c.skill, width=16),
        Column("Regular (h)", lambda c: c.regular, HOURS, width=12),
        Column("Overtime (h)", lambda c: c.overtime, HOURS, width=12),
        Column(
            "Overtime per head present (attended h)",
            lambda c: c.overtime_per_head,
            HOURS,
            width=16,
        ),
        Column(f"Overtime ({base.currency})", lambda c: c.money, MONEY, width=14),
    )
