"""The plan and its copy with enquiries side by side, as tables."""

from capacity.facts import Base
from capacity.questions.compare.two_plans import Comparison, MoneyPair
from capacity.reports.compare.wording import differs_in_words
from capacity.reports.plan.stay_columns import stay_in_words
from capacity.words import LEAST_HOURS, week_dates
from capacity.words.marks import TRIANGLE
from ui.commercial.enquiry_rows import tenths, whole
from ui.rows import TableRow

NAMES = ("plan", "copy")
"""What the two are called in sentences."""

BOTH = ("the plan", "the copy")
"""What they are called in headings."""

DAYS_LINE = "days past Latest in"
"""The one line of the costs of a comparison that counts days."""

COST_WORDS = {
    "days past Latest in": "Days past Latest in",
    "overtime": "Overtime",
    "contract": "Contract labour",
    "overload": "Overload",
    "early days": "Days before Latest in",
    "late days": "Days late out",
    "guaranteed hours": "Guaranteed hours of contract teams",
    "days from Wanted in": "Days away from Wanted in",
    "prices of options": "Prices earned (below 0)",
    "money": "Cost of the plan",
}


def capitalised(name: str) -> str:
    """Return what a plan is called at the beginning of a heading, without the article."""
    bare = name.removeprefix("the ")
    return bare[:1].upper() + bare[1:]


def slots_table(
    told: Comparison, *, only_differing: bool, both: tuple[str, str] = BOTH
) -> list[TableRow]:
    """Return a line a check: its slot in both plans, which headings call so."""
    return [
        {
            "Check": pair.check,
            "What differs": differs_in_words(pair, NAMES) or "nothing",
            "Days later (minus: earlier)": pair.days,
            f"In {both[0]}": stay_in_words(pair.first),
            f"In {both[1]}": stay_in_words(pair.second),
        }
        for pair in (told.differing if only_differing else told.placements)
    ]


def costs_table(told: Comparison, base: Base, both: tuple[str, str] = BOTH) -> list[TableRow]:
    """Return a line a kind of cost, and goal 1 in days, in both plans."""
    return [_money(pair, base, both) for pair in told.money]


def _money(pair: MoneyPair, base: Base, both: tuple[str, str]) -> TableRow:
    return {
        "What": COST_WORDS.get(pair.name, pair.name),
        "Unit": "days" if pair.name == DAYS_LINE else base.currency,
        f"In {both[0]}": whole(pair.first),
        f"In {both[1]}": whole(pair.second),
        f"{capitalised(both[1])} more (minus: less)": whole(pair.more),
    }


def overload_table(told: Comparison) -> list[TableRow]:
    """Return a line a week and skill that is overloaded in the plan or in the copy."""
    return [
        {
            "Week": pair.week,
            "From": week_dates(pair.week)[0],
            "Skill": pair.skill,
            "Overload in the plan (man-hours)": tenths(pair.first),
            "Overload in the copy (man-hours)": tenths(pair.second),
            "What it means": _overload_in_words(pair.first, pair.second),
        }
        for pair in told.overloads
        if max(pair.first, pair.second) >= LEAST_HOURS
    ]


def _overload_in_words(first: float, second: float) -> str:
    if abs(second - first) < LEAST_HOURS:
        return f"{TRIANGLE} overload in both"
    return (
        f"{TRIANGLE} more overload in the copy" if second > first else "less overload in the copy"
    )
