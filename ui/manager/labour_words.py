"""Sentences on labour that the page Base manager says and its print too."""

from capacity.facts import Base
from capacity.questions.overtime.review import OvertimeReview
from capacity.reports.overtime.wording import limits_in_words
from capacity.words.marks import TRIANGLE

WEEKS, OVERTIME, RULES = "Weeks and skills", "Overtime", "Working-time rules"
MEASURES_TRIED, MONTHS = "Measures that would take overtime away", "Man-hours by month"
BOUGHT, FOR_REVIEW = "Hours bought, by week and skill", "For review"
EVENLY = "Demand, levelled and spread evenly"
"""Headings."""

SIGNS = (
    "Per cent of regular hours used; +: overtime bought; C +: contract labour bought, with "
    f"overtime or without; {TRIANGLE}: overload."
)
RISK_SIGN = "Below it, the risk: in how many of the simulations there is overload."
NO_OVERTIME = "No crew works overtime in this plan."
SHARED = (
    "The plan buys overtime by skill; here it is shared between the crews of the skill by their "
    "hours."
)
FIRST_CHECK = (
    "A first check only: your own rules and agreements decide whether a roster is lawful and who "
    "may work longer. Tired people make mistakes: do not use overtime to save money."
)
NO_RULES = (
    "The workbook names no working-time rules, so none were checked. Name a set under "
    "Working-time rules on the sheet Base."
)
NOT_AVAILABLE = "Overtime and contract hours that the plan buys are not among the available ones."
NOTHING_TAKEN_AWAY = "None of the measures tried takes anything away."
NO_SLOT_FOUND = "Tried, but no slot was found:"
NOT_TRIED = "Not tried, because it was stopped:"


def rules_in_words(review: OvertimeReview, base: Base) -> str:
    """Return what was checked, and how much of it is exceeded."""
    return NO_RULES if base.working_time_rules is None else limits_in_words(review, base)
