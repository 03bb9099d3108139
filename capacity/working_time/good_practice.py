"""Good-practice limits for maintenance staff: advice, not law.

The issuer's paper was not at hand. Numbers marked as seen were read in a press report of a
circular of another authority that uses the same ones; the others are from memory.
"""

from capacity.working_time.limits import Known, Limit, RuleSet
from capacity.working_time.rest_rules import rest_after_nights, rest_between_shifts, rest_day_block
from capacity.working_time.row_rules import (
    days_in_a_row,
    early_starts_in_a_row,
    nights_in_a_row,
)
from capacity.working_time.shift_rules import (
    day_start,
    night_finish,
    scheduled_shift_length,
    shift_length_with_overtime,
)
from capacity.working_time.total_rules import hours_in_days, scheduled_hours_in_days

PAPER = "UK CAA Paper 2002/06, good-practice limits on the working hours of maintenance staff"
REPEATED = f"{PAPER}; as repeated by DGCA circular AAC 05/2019, in a press report"
SEEN, FROM_MEMORY = Known.SEEN, Known.FROM_MEMORY

GOOD_PRACTICE = RuleSet(
    name="good-practice",
    title="Good-practice limits for aircraft maintenance staff (advice, not law)",
    limits=(
        Limit(
            "shift-length", "scheduled shift", 12, "h", PAPER, FROM_MEMORY, scheduled_shift_length
        ),
        Limit(
            "shift-length-with-overtime",
            "shift with overtime",
            13,
            "h",
            PAPER,
            FROM_MEMORY,
            shift_length_with_overtime,
        ),
        Limit(
            "rest-between-shifts",
            "rest between two shifts",
            11,
            "h",
            REPEATED,
            SEEN,
            rest_between_shifts,
            at_least=True,
        ),
        Limit(
            "scheduled-hours-in-7-days",
            "scheduled hours in seven successive days",
            48,
            "h",
            REPEATED,
            SEEN,
            scheduled_hours_in_days,
        ),
        Limit(
            "hours-in-7-days",
            "hours with overtime in seven successive days",
            60,
            "h",
            REPEATED,
            SEEN,
            hours_in_days,
        ),
        Limit(
            "days-in-a-row",
            "days worked in a row",
            7,
            "days",
            REPEATED,
            SEEN,
            days_in_a_row,
        ),
        Limit(
            "rest-day-block",
            "rest over rest days (two days and 11 h)",
            59,
            "h",
            PAPER,
            FROM_MEMORY,
            rest_day_block,
            at_least=True,
        ),
        Limit(
            "nights-in-a-row", "nights in a row", 6, "nights", PAPER, FROM_MEMORY, nights_in_a_row
        ),
        Limit(
            "nights-over-8-h-in-a-row",
            "nights of more than 8 h in a row",
            4,
            "nights",
            PAPER,
            FROM_MEMORY,
            nights_in_a_row,
            over_hours=8,
        ),
        Limit(
            "nights-over-10-h-in-a-row",
            "nights of more than 10 h in a row",
            2,
            "nights",
            PAPER,
            FROM_MEMORY,
            nights_in_a_row,
            over_hours=10,
        ),
        Limit(
            "rest-after-nights",
            "rest after nights",
            59,
            "h",
            PAPER,
            FROM_MEMORY,
            rest_after_nights,
            at_least=True,
        ),
        Limit(
            "rest-after-many-nights",
            "rest after more than 3 nights or 36 h of night work",
            83,
            "h",
            PAPER,
            FROM_MEMORY,
            rest_after_nights,
            at_least=True,
            over_nights=3,
            over_hours=36,
        ),
        Limit(
            "night-finish", "end of a night shift", 8, "o'clock", PAPER, FROM_MEMORY, night_finish
        ),
        Limit(
            "day-start",
            "start of a day shift",
            6,
            "o'clock",
            PAPER,
            FROM_MEMORY,
            day_start,
            at_least=True,
        ),
        Limit(
            "early-starts-in-a-row",
            "starts before 7 o'clock in a row",
            4,
            "starts",
            PAPER,
            FROM_MEMORY,
            early_starts_in_a_row,
            before_hour=7,
        ),
    ),
    not_checked=(
        "A break after 4 h of work at the latest.",
        "Breaks of 10 min and 5 min more for each hour worked.",
        "The rest that follows four early starts.",
        "Annual leave of 28 days, never under 21 for overtime.",
        "Rosters announced 28 days ahead.",
    ),
)
