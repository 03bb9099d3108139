"""What tells one issue of a plan on paper from another: its plan number and when it was issued."""

import base64
import hashlib
import json
from collections.abc import Sequence
from datetime import datetime

from capacity.plans.plan import Plan, StageDays, WeekHours
from capacity.words import day

LETTERS = 4
"""In each of the two groups of a plan number: 40 bits in all, so that no two plans share one."""


def plan_number(plan: Plan) -> str:
    """Return a short number such as ``K7QA-2FJD``, the same for the same placements.

    It follows from what the plan says (checks, bays, days, stages, the weeks of levelled
    man-hours, checks without a slot), not from when or by whom it was made: SHA-256
    (FIPS 180-4), its first 40 bits in base 32 (RFC 4648).
    """
    content = json.dumps(
        [
            sorted(
                [
                    one.check,
                    one.bay,
                    one.stage_from,
                    one.in_day.isoformat(),
                    one.out_day.isoformat(),
                    [_stage(stage) for stage in one.stages],
                ]
                for one in plan.placements
            ),
            sorted(plan.not_placed),
        ]
    )
    digest = hashlib.sha256(content.encode()).digest()
    letters = base64.b32encode(digest[:5]).decode()
    return f"{letters[:LETTERS]}-{letters[LETTERS:]}"


def _stage(stage: StageDays) -> list[object]:
    hours = sorted([one.week, one.skill, f"{one.hours:.2f}", *_days(one)] for one in stage.hours)
    return [stage.stage, stage.first.isoformat(), stage.until.isoformat(), *hours]


def _days(hours: WeekHours) -> list[str]:
    return [f"{on.isoformat()} {amount:.2f}" for on, amount in hours.by_day]


def now() -> datetime:
    """Return this moment with the zone of this machine."""
    return datetime.now().astimezone()


def issue_line(plans: Sequence[Plan], issued: datetime) -> str:
    """Return ``Plan K7QA-2FJD, issued Fri 27 Nov 2026 07:10 UTC+01:00``."""
    offset = f"{issued:%z}"
    zone = "" if offset in ("", "+0000") else f"{offset[:3]}:{offset[3:5]}"
    when = f"ssued {day(issued.date())} {issued:%H:%M} UTC{zone}"
    numbers = " and ".join(dict.fromkeys(map(plan_number, plans)))
    return f"Plan {numbers}, i{when}" if numbers else f"I{when}"
