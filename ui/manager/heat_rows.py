"""How full each week is in each skill, as rows for the heat map: five bands with names."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import Enum

from capacity.plans.plan import WeekLoad
from capacity.reports.plan.used_hours import is_nearly_used, used_percent
from capacity.reports.plan.view import View
from capacity.reports.plan.wording import is_over
from capacity.words import LEAST_HOURS, hours, week_dates
from capacity.words.marks import TRIANGLE
from capacity.words.palette import CONTRACT, OVERLOAD, OVERTIME, REGULAR, WHITE, Hatching, Paint
from ui.days import at
from ui.legend import Swatch
from ui.rows import Row, TableRow


class Band(Enum):
    """How full a week is in a skill; the names stand in the legend, from room to overload."""

    ROOM = "used, % of regular hours"
    FULL = "90 % used or more"
    OVERTIME = "overtime"
    CONTRACT = "contract labour"
    OVERLOAD = "overload"


PAINTS = {
    Band.ROOM: Paint(Band.ROOM.value, WHITE),
    Band.FULL: REGULAR,
    Band.OVERTIME: OVERTIME,
    Band.CONTRACT: CONTRACT,
    Band.OVERLOAD: OVERLOAD,
}
SIGNS = {
    Band.ROOM: "67 %",
    Band.FULL: "95 %",
    Band.OVERTIME: "+ h",
    Band.CONTRACT: "C + h",
    Band.OVERLOAD: f"{TRIANGLE} h",
}
"""What the numbers in the cells look like, printed on the swatches."""


@dataclass(frozen=True, slots=True)
class HeatRows:
    """A cell for each skill and week, in the order of the workbook and of the weeks."""

    skills: tuple[str, ...]
    weeks: tuple[str, ...]
    cells: tuple[Row, ...]


def heat_legend() -> list[Swatch]:
    """Return the legend; the numbers in the cells take the place of lines."""
    plain = {band: replace(paint, hatching=Hatching.NONE) for band, paint in PAINTS.items()}
    return [Swatch(band.value, plain[band], sign=SIGNS[band]) for band in Band]


def heat_rows(view: View, at_risk: Mapping[tuple[str, str], float] | None = None) -> HeatRows:
    """Return the cells of a plan.

    ``at_risk`` is the probability of overload, from 0 to 1, by skill and week, where it is known.
    """
    loads = view.outcome.audit.weeks
    known = at_risk or {}
    return HeatRows(
        skills=tuple(skill.name for skill in view.base.skills),
        weeks=tuple(dict.fromkeys(load.week for load in loads)),
        cells=tuple(_cell(load, known.get((load.skill, load.week))) for load in loads),
    )


def heat_table(
    view: View, at_risk: Mapping[tuple[str, str], float] | None = None
) -> list[TableRow]:
    """Return what is printed in the cells as a table, weeks down and skills across."""
    loads = {(load.week, load.skill): load for load in view.outcome.audit.weeks}
    skills, known = [skill.name for skill in view.base.skills], at_risk or {}
    return [
        {"Week": week, "From": week_dates(week)[0]}
        | {skill: _told(loads.get((week, skill)), known.get((skill, week))) for skill in skills}
        for week in dict.fromkeys(week for week, _ in loads)
    ]


def _told(load: WeekLoad | None, at_risk: float | None) -> str:
    return "" if load is None else f"{printed(load)} {_risk(at_risk)}".strip()


def band_of(load: WeekLoad) -> Band:
    """Return the band of a week and skill, by the most expensive hours that it needs."""
    if is_over(load):
        return Band.OVERLOAD
    if load.contract >= LEAST_HOURS:
        return Band.CONTRACT
    if load.overtime >= LEAST_HOURS:
        return Band.OVERTIME
    if is_nearly_used(load):
        return Band.FULL
    return Band.ROOM


def printed(load: WeekLoad) -> str:
    """Return what stands in the cell: overload, hours bought, or per cent of regular hours."""
    match band_of(load):
        case Band.OVERLOAD:
            return f"{TRIANGLE} {hours(load.overload)}"
        case Band.CONTRACT:
            return f"C +{hours(load.overtime + load.contract)}"
        case Band.OVERTIME:
            return f"+{hours(load.overtime)}"
        case _:
            share = used_percent(load)
            return "\u2013" if share is None else f"{share} %"


def _cell(load: WeekLoad, at_risk: float | None) -> Row:
    monday, sunday = week_dates(load.week)
    return {
        "risk": _risk(at_risk),
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


def _risk(at_risk: float | None) -> str:
    return "" if at_risk is None else f"risk {at_risk:.0%}".replace("%", " %")
