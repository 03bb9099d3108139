"""Man-hours of one skill, week by week, as rows for the chart and for what stands behind it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from capacity.plans.plan import WeekLoad
from capacity.reports.plan.moved_words import EVEN_DEMAND, load_in
from capacity.reports.plan.view import View
from capacity.reports.plan.wording import is_over, worst_first
from capacity.words import LEAST_HOURS, hours, week_dates
from capacity.words.palette import CONTRACT, HOURS, OVERLOAD, OVERTIME
from ui.days import at, middle_of_week
from ui.rows import Row

SHARES = tuple(paint.word for paint in HOURS)
LIMITS = ("regular hours", "with overtime", "with contract labour")

SLANTED_LINES, LEVEL_LINES = 90, 45
"""Lines across the whole chart, from its first week to its last and from nought to its top."""


@dataclass(frozen=True, slots=True)
class WeekRows:
    """``parts`` are the blocks of each week, ``lines`` those upon overtime and contract labour.

    ``limits`` are the hours available, ``over`` the marks of overload. ``even`` is the demand of
    an even spread, in the weeks in which levelling changes it.
    """

    skill: str
    mondays: tuple[date, ...]
    parts: tuple[Row, ...]
    lines: tuple[Row, ...]
    limits: tuple[Row, ...]
    over: tuple[Row, ...]
    even: tuple[Row, ...] = ()


def week_rows(view: View, skill: str) -> WeekRows:
    """Return the rows of one skill."""
    loads = [load for load in view.outcome.audit.weeks if load.skill == skill]
    parts = tuple(row for load in loads for row in _parts(load))
    return WeekRows(
        skill=skill,
        mondays=tuple(week_dates(load.week)[0] for load in loads),
        parts=parts,
        lines=tuple(_lines(parts, len(loads))),
        limits=tuple(row for load in loads for row in _limits(load)),
        over=tuple(_over(load) for load in loads if is_over(load)),
        even=tuple(_even(view, loads)),
    )


def skills_worst_first(view: View) -> list[str]:
    """Return all skills, the most overloaded in front."""
    worst = [load.skill for load in worst_first(view.outcome.audit.weeks)]
    return list(dict.fromkeys([*worst, *(skill.name for skill in view.base.skills)]))


def _parts(load: WeekLoad) -> Iterator[Row]:
    """Stack the demand by what meets it, regular hours first."""
    by_crews = max(0.0, load.demand - load.overtime - load.contract - load.overload)
    below = 0.0
    amounts = (by_crews, load.overtime, load.contract, load.overload)
    for share, amount in zip(SHARES, amounts, strict=True):
        if amount >= LEAST_HOURS:
            yield {
                **_week(load),
                "share": share,
                "y0": round(below, 6),
                "y1": round(below + amount, 6),
                "hours": round(amount, 6),
                "demand": round(load.demand, 6),
            }
        below += amount


def _lines(parts: Sequence[Row], weeks: int) -> Iterator[Row]:
    """Give the lines of overtime, which rise, and of contract labour, which are level."""
    top = max((_number(part["y1"]) for part in parts), default=0.0)
    for part in parts:
        low, high = _number(part["y0"]), _number(part["y1"])
        if part["share"] == OVERTIME.word:
            begin = datetime.fromisoformat(str(part["from"]))
            step = timedelta(days=7) / max(1, SLANTED_LINES // weeks)
            while begin < datetime.fromisoformat(str(part["until"])):
                until = begin + step
                yield {
                    "from": begin.isoformat(),
                    "until": until.isoformat(),
                    "y0": low,
                    "y1": high,
                }
                begin = until
        elif part["share"] == CONTRACT.word:
            count = max(1, round((high - low) / top * LEVEL_LINES))
            for number in range(count):
                level = round(low + (number + 0.5) * (high - low) / count, 6)
                yield {"from": part["from"], "until": part["until"], "y0": level, "y1": level}


def _number(value: object) -> float:
    return float(str(value))


def _limits(load: WeekLoad) -> Iterator[Row]:
    available = 0.0
    for limit, more in zip(
        LIMITS, (load.regular, load.overtime_cap, load.contract_cap), strict=True
    ):
        available += more
        yield {**_week(load), "limit": limit, "y": round(available, 6)}


def _over(load: WeekLoad) -> Row:
    monday, _ = week_dates(load.week)
    return {
        **_week(load),
        "middle": middle_of_week(monday),
        "y": round(load.demand, 6),
        "label": f"{OVERLOAD.word} {hours(load.overload)}",
        "hours": round(load.overload, 6),
    }


def _even(view: View, loads: Sequence[WeekLoad]) -> Iterator[Row]:
    if view.levelling is None:
        return
    for load in loads:
        even = load_in(view.levelling.evenly, load.week, load.skill)
        demand = 0.0 if even is None else even.demand
        if abs(demand - load.demand) >= LEAST_HOURS:
            yield {
                **_week(load),
                "line": EVEN_DEMAND,
                "y": round(demand, 6),
                "demand": round(load.demand, 6),
                "moved": round(load.demand - demand, 6),
            }


def _week(load: WeekLoad) -> dict[str, object]:
    monday, sunday = week_dates(load.week)
    next_monday = monday + timedelta(days=7)
    return {"week": load.week, "from": at(monday), "until": at(next_monday), "last": at(sunday)}
