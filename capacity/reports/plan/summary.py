"""The plan summary: what came out, as JSON for programs."""

import json
from collections.abc import Sequence
from dataclasses import asdict
from datetime import date, timedelta
from pathlib import Path

from capacity.facts import Base
from capacity.messages import Message
from capacity.plans.outcome import Impossible, Outcome, OutOfTime, Planned
from capacity.plans.plan import Placement, StageDays, WeekHours, WeekLoad
from capacity.reports.kit.whole_file import write_whole
from capacity.reports.plan.messages import Where, plan_messages
from capacity.reports.plan.view import in_turn
from capacity.reports.plan_files.made import as_json, made_now

DECIMALS = 6
"""Figures are rounded to this many decimals: less than anybody can measure."""


def summary(
    base: Base,
    outcome: Outcome,
    messages: Sequence[Message],
    where: Where | None = None,
    workbook: Base | None = None,
) -> dict[str, object]:
    """Return the summary; every key is there whatever came out, null where there is no value.

    Why a plan is impossible stands among the messages, as errors. ``workbook`` is the base as
    it was read, where that is another than the one planned.
    """
    told = [*messages, *plan_messages(outcome, base, where)]
    match outcome:
        case Planned():
            keys = _planned(outcome, told)
        case Impossible():
            keys = _without_plan("impossible", outcome.seconds, told)
        case OutOfTime():
            keys = _without_plan("out_of_time", outcome.seconds, told)
    return {**keys, "made": as_json(made_now(base, workbook))}


def write_summary(
    base: Base,
    outcome: Outcome,
    messages: Sequence[Message],
    path: Path,
    where: Where | None = None,
    workbook: Base | None = None,
) -> None:
    """Write the summary whole or not at all; raises ``OutputError`` when it cannot be."""
    told = summary(base, outcome, messages, where, workbook)
    text = json.dumps(told, indent=1, ensure_ascii=False, allow_nan=False)
    write_whole((text + "\n").encode("utf-8", errors="replace"), path)


def _planned(outcome: Planned, messages: Sequence[Message]) -> dict[str, object]:
    goals = outcome.audit.goals
    return {
        "outcome": "planned",
        "goals": {
            "days_past_latest_in": int(goals.days_past_latest_in),
            "overload_hours": _rounded(goals.overload_hours),
            "money": _rounded(goals.money),
        },
        "bound": _rounded(outcome.bound),
        "gap": _rounded(outcome.gap),
        "seconds": _rounded(outcome.seconds),
        "placements": [_placement(placement) for placement in in_turn(outcome.plan)],
        "not_placed": list(outcome.plan.not_placed),
        "weeks": [_week(load) for load in outcome.audit.weeks],
        "findings": [asdict(message) for message in messages],
    }


def _without_plan(name: str, seconds: float, messages: Sequence[Message]) -> dict[str, object]:
    return {
        "outcome": name,
        "goals": {"days_past_latest_in": None, "overload_hours": None, "money": None},
        "bound": None,
        "gap": None,
        "seconds": _rounded(seconds),
        "placements": [],
        "not_placed": [],
        "weeks": [],
        "findings": [asdict(message) for message in messages],
    }


def _placement(placement: Placement) -> dict[str, object]:
    return {
        "check": placement.check,
        "bay": placement.bay,
        "stage_from": placement.stage_from,
        "in": _iso(placement.in_day),
        "out": _iso(placement.out_day),
        "stages": [_stage(stage) for stage in placement.stages],
    }


def _stage(stage: StageDays) -> dict[str, object]:
    # As in every pair of from and to, both days are included.
    last = stage.until - timedelta(days=1)
    told: dict[str, object] = {"stage": stage.stage, "from": _iso(stage.first), "to": _iso(last)}
    if stage.hours:
        # Not rounded: they have to add up to the stage's own again.
        told["hours"] = [_hours(one) for one in stage.hours]
    return told


def _hours(one: WeekHours) -> dict[str, object]:
    told: dict[str, object] = {"week": one.week, "skill": one.skill, "hours": one.hours}
    if one.by_day:
        told["days"] = [{"day": _iso(on), "hours": hours} for on, hours in one.by_day]
    return told


def _week(load: WeekLoad) -> dict[str, object]:
    return {
        "week": load.week,
        "skill": load.skill,
        "demand": _rounded(load.demand),
        "regular": _rounded(load.regular),
        "overtime": _rounded(load.overtime),
        "contract": _rounded(load.contract),
        "overload": _rounded(load.overload),
    }


def _iso(day: date) -> str:
    return day.isoformat()


def _rounded(value: float | None) -> float | None:
    # Adding 0.0 turns -0.0 into 0.0, which would only puzzle a reader.
    return None if value is None else round(float(value), DECIMALS) + 0.0
