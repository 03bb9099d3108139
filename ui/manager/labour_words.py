"""Sentences on labour that the page Base manager says and its print too."""

from capacity.facts import Base
from capacity.questions.overtime.review import OvertimeReview
from capacity.reports.overtime.wording import limits_in_words

WEEKS, OVERTIME, RULES = "Weeks and skills", "Overtime", "Working-time rules"
WHAT_WOULD_HELP, MONTHS = "What would take overtime away", "Months"
BOUGHT, TO_LOOK_AT = "All hours bought, by week and skill", "What to look at"
"""Headings."""

SIGNS = (
    "Per cent are of the regular hours; + and C are man-hours bought on top, ▲ those that nobody "
    "is there to do."
)
NO_OVERTIME = "No crew works overtime in this plan."
SHARED = (
    "The plan buys overtime by skill; here it is shared between the crews of the skill by their "
    "hours."
)
FIRST_LOOK = (
    "A first look only: whether a roster is lawful, and who may work longer, your own rules and "
    "agreements say. Tired people make mistakes; overtime is no place to save."
)
NO_RULES = (
    "The workbook names no working-time rules, so none were looked at. Name a set under "
    "Working-time rules on the sheet Base."
)
NOT_AVAILABLE = "Overtime and contract hours that the plan buys are not among the available ones."
NOTHING_TAKEN_AWAY = "No measure that was tried takes anything away."
NO_PLACE = "Tried, but with no place in this plan:"
NOT_TRIED = "Not tried, since no time was left; allow more seconds for these:"


def rules_in_words(review: OvertimeReview, base: Base) -> str:
    """Return what was looked at, and how much of it is passed."""
    return NO_RULES if base.working_time_rules is None else limits_in_words(review, base)
