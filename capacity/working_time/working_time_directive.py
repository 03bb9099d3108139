"""Limits of the European working-time directive; national law may differ in every one of them."""

from capacity.working_time.limits import Known, Limit, RuleSet
from capacity.working_time.rest_rules import rest_between_shifts, rest_in_any_days
from capacity.working_time.total_rules import average_night_hours, average_weekly_hours

DIRECTIVE = "Directive 2003/88/EC"
REFERENCE_DAYS = 17 * 7
"""Four months as whole weeks; that they are 17 is from memory."""

WORKING_TIME_DIRECTIVE = RuleSet(
    name="working-time-directive",
    title="Limits of the European working-time directive",
    limits=(
        Limit(
            "daily-rest",
            "rest between two shifts",
            11,
            "h",
            f"{DIRECTIVE}, Article 3",
            Known.SEEN,
            rest_between_shifts,
            at_least=True,
        ),
        Limit(
            "weekly-rest",
            "longest rest in the seven days up to the end of a shift",
            35,
            "h",
            f"{DIRECTIVE}, Article 5: 24 h and the 11 h of Article 3; a reference period of "
            "14 days may be laid down, seven are taken here",
            Known.SEEN,
            rest_in_any_days,
            at_least=True,
        ),
        Limit(
            "average-weekly-hours",
            "average weekly hours with overtime",
            48,
            "h",
            f"{DIRECTIVE}, Article 6 and Article 16(b): over 4 months at the most, here 17 weeks",
            Known.SEEN,
            average_weekly_hours,
            days=REFERENCE_DAYS,
        ),
        Limit(
            "average-night-hours",
            "average normal hours of a night worker in 24 h",
            8,
            "h",
            f"{DIRECTIVE}, Article 8(a); that it is taken over 17 weeks without the weekly rest "
            "day is from memory, not checked against the text",
            Known.SEEN,
            average_night_hours,
            days=REFERENCE_DAYS,
        ),
    ),
    not_checked=(
        "A break in a working day of more than 6 h (Article 4).",
        "Annual leave of four weeks (Article 7).",
        "Night work with special hazards or heavy strain: 8 h in any 24 h (Article 8(b), from "
        "memory).",
    ),
)
