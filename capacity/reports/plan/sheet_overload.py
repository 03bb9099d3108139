"""The sheet ``Overload weeks``: how much of each week is used, and which checks ask for it."""

from datetime import date, timedelta

from capacity.plans.plan import WeekLoad
from capacity.reports.kit.formats import (
    BAND,
    BAND_HEADING,
    CONTRACT,
    DATE,
    HOURS_OR_DASH,
    MIDDLE,
    MONEY_OR_DASH,
    NEARLY_USED,
    NOTE,
    OVERLOAD,
    OVERTIME,
    SECTION,
    TITLE,
    WITHIN_REGULAR,
    WRAPPED,
    Look,
)
from capacity.reports.kit.sheet import Book, Cell, Sheet
from capacity.reports.kit.table import Column, write_table
from capacity.reports.plan.sheet_weeks import by_skill
from capacity.reports.plan.used_hours import is_nearly_used, used_percent
from capacity.reports.plan.view import View
from capacity.reports.plan.wording import bought, is_over, worst_first
from capacity.words import LEAST_HOURS, day, week_dates
from capacity.words.marks import TRIANGLE

LEGEND: tuple[tuple[str, Look], ...] = (
    ("used: % of regular hours", WITHIN_REGULAR),
    ("90 % used or more", NEARLY_USED),
    ("overtime", OVERTIME),
    ("contract", CONTRACT),
    (f"{TRIANGLE} overload", OVERLOAD),
)

FIRST_WEEK_ROW, FIRST_SKILL_COLUMN = 4, 2

SKILL_WIDTH = 20
"""Characters: room for ``contract 1,040 h``."""

Columns = tuple[Column[WeekLoad], ...]


def overload_sheet(book: Book, view: View) -> None:
    """Add the sheet: weeks and skills, and below them the weeks that buy hours, worst first."""
    sheet = book.sheet("Overload weeks")
    skills = by_skill(view)
    worst = _columns(view)
    widths = [column.width for column in worst]
    sheet.widths(widths + [SKILL_WIDTH] * (FIRST_SKILL_COLUMN + len(skills) - len(widths)))
    sheet.write(0, 0, "How much of each week's man-hours is used?", TITLE)
    for column, (text, look) in enumerate(LEGEND, start=FIRST_SKILL_COLUMN):
        sheet.write(1, column, text, look)
    sheet.height(1, 32)
    row = _matrix(sheet, view, skills)
    _worst(sheet, view, worst, row + 1)


def _matrix(sheet: Sheet, view: View, skills: list[tuple[str, list[WeekLoad]]]) -> int:
    """Draw weeks down and skills across; return the first row below."""
    top = FIRST_WEEK_ROW - 1
    sheet.write_row(top, ["Week", "From (Monday)", *[name for name, _ in skills]], BAND_HEADING)
    loads = {(load.week, load.skill): load for load in view.outcome.audit.weeks}
    weeks = list(dict.fromkeys(load.week for load in view.outcome.audit.weeks))
    for row, week in enumerate(weeks, start=FIRST_WEEK_ROW):
        sheet.write(row, 0, week, MIDDLE)
        sheet.write(row, 1, week_dates(week)[0], {**DATE, **MIDDLE})
        lines = 1
        for column, (skill, _) in enumerate(skills, start=FIRST_SKILL_COLUMN):
            load = loads.get((week, skill))
            text, look = ("", BAND) if load is None else band(load)
            sheet.write(row, column, text, look)
            lines = max(lines, 1 + text.count("\n"))
        sheet.height(row, 4 + 14 * lines)
    return FIRST_WEEK_ROW + len(weeks)


def band(load: WeekLoad) -> tuple[str, Look]:
    """Return text and look of a week: the text says all that the fill says."""
    if lines := bought(load):
        looks = ((OVERLOAD, load.overload), (CONTRACT, load.contract), (OVERTIME, load.overtime))
        look = next(look for look, amount in looks if amount >= LEAST_HOURS)
        if is_over(load):
            lines[0] = f"{TRIANGLE} {lines[0]}"
        return "\n".join([*used(load), *lines]), look
    look = NEARLY_USED if is_nearly_used(load) else WITHIN_REGULAR
    return "\n".join(used(load)) or "no demand", look


def used(load: WeekLoad) -> list[str]:
    """Return how much of the regular hours is used in one line; none without regular hours."""
    share = used_percent(load)
    return [] if share is None else [f"used {share} %"]


def _worst(sheet: Sheet, view: View, columns: Columns, top: int) -> None:
    sheet.write_row(top, ["Weeks that buy hours, worst first", *[None] * 9], SECTION)
    rows = worst_first(view.outcome.audit.weeks)
    if not rows:
        sheet.write(top + 1, 0, "None: regular man-hours are enough in every week.")
        return
    sheet.write(
        top + 1,
        0,
        "To take hours away from a week: move one of the checks named there to a week that is less "
        "used, or bring people in before it.",
        {**NOTE, "text_wrap": False},
    )
    write_table(sheet, top + 2, columns, rows)


def _columns(view: View) -> Columns:
    free = {
        (load.week, load.skill): max(0.0, load.regular - load.demand)
        for load in view.outcome.audit.weeks
    }

    def room(load: WeekLoad, weeks_on: int) -> Cell:
        monday = week_dates(load.week)[0] + timedelta(weeks=weeks_on)
        iso = monday.isocalendar()
        return free.get((f"{iso.year}-W{iso.week:02d}", load.skill))

    overload_cost = view.base.overload_cost
    return (
        Column("Week", lambda w: w.week, width=12),
        Column("From", lambda w: day(week_dates(w.week)[0]), width=17),
        Column("Skill", lambda w: w.skill, width=SKILL_WIDTH),
        Column(
            "Overload (h)",
            lambda w: w.overload,
            HOURS_OR_DASH,
            is_over,
            width=SKILL_WIDTH,
        ),
        Column(
            f"Overload cost ({view.base.currency})",
            lambda w: w.overload * overload_cost,
            MONEY_OR_DASH,
            width=SKILL_WIDTH,
        ),
        Column("Overtime (h)", lambda w: w.overtime, HOURS_OR_DASH, width=SKILL_WIDTH),
        Column("Contract (h)", lambda w: w.contract, HOURS_OR_DASH, width=SKILL_WIDTH),
        Column(
            "Unused the week before (regular h)",
            lambda w: room(w, -1),
            HOURS_OR_DASH,
            width=SKILL_WIDTH,
        ),
        Column(
            "Unused the week after (regular h)",
            lambda w: room(w, 1),
            HOURS_OR_DASH,
            width=SKILL_WIDTH,
        ),
        Column("Checks with demand", lambda w: ", ".join(askers(view, w)), WRAPPED, width=60),
    )


def askers(view: View, load: WeekLoad) -> list[str]:
    """Return the checks with a stage in that week that asks for that skill."""
    monday, sunday = week_dates(load.week)
    return [
        placement.check
        for placement in view.placements
        if any(
            _touches(stage.first, stage.until, monday, sunday)
            and _asks(view, placement.check, stage.stage, load.skill)
            for stage in placement.stages
        )
    ]


def _touches(first: date, until: date, monday: date, sunday: date) -> bool:
    return first <= sunday and until > monday


def _asks(view: View, check: str, stage: str, skill: str) -> bool:
    return view.stages[check][stage].asked_hours(1.0).get(skill, 0.0) > 0
