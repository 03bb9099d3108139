"""Checks that left Stonemere before the quarter, invented: what ``capacity learn`` reads."""

from collections.abc import Sequence
from datetime import date, timedelta

HEADINGS = (
    "Check", "Aircraft", "Type", "Package", "Customer", "Findings factor", "Latest in",
    "Agreed out", "Planned in", "Actual in", "Planned out", "Actual out", "Stage", "Planned days",
    "Actual days", "Routine man-hours", "Planned man-hours", "Extra man-hours", "Actual man-hours",
)  # fmt: skip

Rows = list[tuple[object, ...]]

PACKAGE, TYPE = "Regional C-check", "Alder 50"
PLANNED_STAY = timedelta(days=25)
UNPLANNED = 2
"""Findings of a stage without planned ones, in per cent of its routine man-hours."""

# Check, aircraft, customer, findings factor, planned in, days later in, days later out, findings in
# per cent of the planned ones, and days beyond those planned, None where nobody said.
VISITS = (
    ("D-01", "Q-ALCA", "Own fleet", 1.0, date(2026, 9, 1), 0, 1, 95, 1),
    ("D-02", "Q-ALCE", "Own fleet", 1.2, date(2026, 9, 21), 1, 2, 160, 2),
    ("D-03", "Q-ALVB", "Vindara Airways", 1.0, date(2026, 10, 5), 0, 0, 70, 0),
    ("D-04", "Q-ALVC", "Vindara Airways", 1.0, date(2026, 10, 26), 0, 3, 145, 2),
    ("D-05", "Q-ALCG", "Own fleet", 1.0, date(2026, 11, 9), 0, 1, 110, 1),
    ("D-06", "Q-ALVD", "Vindara Airways", 1.0, date(2026, 11, 23), 0, 1, 120, None),
)
EXTRA = {("D-04", "Inspection"): 24.0}
"""Man-hours of extra work by check and stage."""

Stages = Sequence[tuple[str, str, int, int, tuple[int, ...]]]
"""As in ``invented_packages``: stage, after, days, findings %, man-hours by skill."""


def delivered(stages: Stages) -> Rows:
    """Return a row a check and stage of the package, its stages given."""
    rows: Rows = [HEADINGS]
    for check, aircraft, customer, factor, came, late_in, late_out, grew, more in VISITS:
        out = came + PLANNED_STAY
        for stage, _, days, findings, hours in stages:
            routine, extra = sum(hours), EXTRA.get((check, stage), 0.0)
            grown = (findings or UNPLANNED) / 100 * grew / 100 * factor
            taken = None if more is None else days + (more if findings else 0)
            rows.append(
                (
                    check,
                    aircraft,
                    TYPE,
                    PACKAGE,
                    customer,
                    factor,
                    came + timedelta(days=3),
                    out,
                    came,
                    came + timedelta(days=late_in),
                    out,
                    out + timedelta(days=late_out) if more is not None else None,
                    stage,
                    days,
                    taken,
                    routine,
                    round(routine * (1 + findings / 100 * factor) + extra, 1),
                    extra or None,
                    round(routine * (1 + grown) + extra, 1),
                )
            )
    return rows
