"""Relief from duty of maintenance staff for a day in seven, in both readings of the rule.

The rule: at least 24 consecutive hours during any seven consecutive days, or the equivalent
thereof within any one calendar month. An interpretation that held the first part to be rigid
was later reversed, so both readings are here and the base chooses.
"""

from capacity.working_time.limits import Known, Limit, RuleSet
from capacity.working_time.month_rules import free_days_in_month
from capacity.working_time.rest_rules import rest_in_any_days

RULE = "14 CFR 121.377"

ONE_DAY_IN_SEVEN_STRICT = RuleSet(
    name="one-day-in-seven-strict",
    title="A day free in any seven days",
    limits=(
        Limit(
            "free-day-in-seven",
            "longest rest in the seven days up to the end of a shift",
            24,
            "h",
            f"{RULE}; that the seven days are 168 h up to the end of a duty is our reading",
            Known.SEEN,
            rest_in_any_days,
            at_least=True,
        ),
    ),
)

ONE_DAY_IN_SEVEN_EQUIVALENT = RuleSet(
    name="one-day-in-seven-equivalent",
    title="As many free days in a calendar month as it has whole weeks",
    limits=(
        Limit(
            "free-days-in-month",
            "free periods of 24 h in a calendar month, for every seven of its days",
            1,
            "periods",
            f"{RULE}; that the equivalent is days of the month / 7, rounded down, is our formula",
            Known.SEEN,
            free_days_in_month,
            at_least=True,
        ),
    ),
)
