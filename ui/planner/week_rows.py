"""Man-hours of one skill, week by week, as rows for the chart and for what stands behind it."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from capacity.plans.plan import WeekLoad
from capacity.reports.plan.view import View
from capacity.reports.plan.wording import is_over, worst_first
from capacity.words import LEAST_HOURS, hours, week_dates
from ui.days import at, middle_of_week
from ui.rows import Row

SHARES = ("by crews, regular", "overtime", "contract labour", "nobody there")
LIMITS = ("regular hours", "and overtime", "and contract labour")


@dataclass(frozen=True, slots=True)
class WeekRows:
    """``parts`` are the blocks of each week, ``limits`` what could be carried, ``over`` marks."""

    skill: str
    mondays: tuple[date, ...]
    parts: tuple[Row, ...]
    limits: tuple[Row, ...]
    over: tuple[Row, ...]


def week_rows(view: View, skill: str) -> WeekRows:
    """Return the rows of one skill."""
    loads = [load for load in view.outcome.audit.weeks if load.skill == skill]
    return WeekRows(
        skill=skill,
        mondays=tuple(week_dates(load.week)[0] for load in loads),
        parts=tuple(row for load in loads for row in _parts(load)),
        limits=tuple(row for load in loads for row in _limits(load)),
        over=tuple(_over(load) for load in loads if is_over(load)),
    )


def skills_worst_first(view: View) -> list[str]:
    """Return all skills, those whose weeks run shortest in front."""
    worst = [load.skill for load in worst_first(view.outcome.audit.weeks)]
    return list(dict.fromkeys([*worst, *(skill.name for skill in view.base.skills)]))


def _parts(load: WeekLoad) -> Iterator[Row]:
    """Stack what the checks ask by who does it, regular people first."""
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


def _limits(load: WeekLoad) -> Iterator[Row]:
    carried = 0.0
    for limit, more in zip(
        LIMITS, (load.regular, load.overtime_cap, load.contract_cap), strict=True
    ):
        carried += more
        yield {**_week(load), "limit": limit, "y": round(carried, 6)}


def _over(load: WeekLoad) -> Row:
    monday, _ = week_dates(load.week)
    return {
        **_week(load),
        "middle": middle_of_week(monday),
        "y": round(load.demand, 6),
        "label": f"overload {hours(load.overload)}",
        "hours": round(load.overload, 6),
    }


def _week(load: WeekLoad) -> dict[str, object]:
    monday, sunday = week_dates(load.week)
    next_monday = monday + timedelta(days=7)
    return {"week": load.week, "from": at(monday), "until": at(next_monday), "last": at(sunday)}
