"""How full each week is in each skill, as rows for the heat map: five bands with names."""

from dataclasses import dataclass
from enum import Enum

from capacity.plans.plan import WeekLoad
from capacity.reports.plan.used_hours import is_nearly_used, used_percent
from capacity.reports.plan.view import View
from capacity.reports.plan.wording import is_over
from capacity.words import LEAST_HOURS, hours, week_dates
from ui.days import at
from ui.rows import Row


class Band(Enum):
    """How full a week is in a skill; the names stand in the legend, from spare to over."""

    SPARE = "spare: % of regular hours"
    FULL = "full: 90 % of regular or more"
    OVERTIME = "+ overtime bought"
    CONTRACT = "C contract labour bought too"
    OVER = "▲ nobody there"


@dataclass(frozen=True, slots=True)
class HeatRows:
    """A cell for each skill and week, in the order of the workbook and of the weeks."""

    skills: tuple[str, ...]
    weeks: tuple[str, ...]
    cells: tuple[Row, ...]


def heat_rows(view: View) -> HeatRows:
    """Return the cells of a plan."""
    loads = view.outcome.audit.weeks
    return HeatRows(
        skills=tuple(skill.name for skill in view.base.skills),
        weeks=tuple(dict.fromkeys(load.week for load in loads)),
        cells=tuple(_cell(load) for load in loads),
    )


def band_of(load: WeekLoad) -> Band:
    """Return the band of a week and skill, by the dearest hours that it needs."""
    if is_over(load):
        return Band.OVER
    if load.contract >= LEAST_HOURS:
        return Band.CONTRACT
    if load.overtime >= LEAST_HOURS:
        return Band.OVERTIME
    if is_nearly_used(load):
        return Band.FULL
    return Band.SPARE


def printed(load: WeekLoad) -> str:
    """Return what stands in the cell: hours over, hours bought, or per cent of regular hours."""
    match band_of(load):
        case Band.OVER:
            return f"▲ {hours(load.overload)}"
        case Band.CONTRACT:
            return f"C +{hours(load.overtime + load.contract)}"
        case Band.OVERTIME:
            return f"+{hours(load.overtime)}"
        case _:
            share = used_percent(load)
            return "\u2013" if share is None else f"{share} %"


def _cell(load: WeekLoad) -> Row:
    monday, sunday = week_dates(load.week)
    return {
        "skill": load.skill,
        "week": load.week,
        "monday": at(monday),
        "sunday": at(sunday),
        "band": band_of(load).value,
        "printed": printed(load),
        "demand": round(load.demand, 6),
        "regular": round(load.regular, 6),
        "overtime": round(load.overtime, 6),
        "contract": round(load.contract, 6),
        "overload": round(load.overload, 6),
    }
