"""The sheet ``Settings``: what the plan was made with and how the search ran."""

from calendar import day_abbr
from collections.abc import Sequence
from dataclasses import dataclass

from capacity.plans.outcome import Progress
from capacity.reports.kit.formats import HOURS, LEFT, MONEY, PERCENT, SECTION, WHOLE, WRAPPED
from capacity.reports.kit.sheet import Book, Cell
from capacity.reports.kit.table import Column, write_table
from capacity.reports.plan.view import View
from capacity.words import day, own_days


@dataclass(frozen=True, slots=True)
class Setting:
    """One setting as it is shown; ``unit`` is blank for a name."""

    name: str
    value: Cell
    unit: str = ""


SETTING_COLUMNS: tuple[Column[Setting], ...] = (
    Column("Setting", lambda s: s.name, width=40),
    Column("Value", lambda s: s.value, LEFT | WRAPPED, width=26),
    Column("Unit", lambda s: s.unit or None, width=30),
)


def settings_sheet(book: Book, view: View) -> None:
    """Add the sheet: base, search, versions, and the improvements in turn."""
    sheet = book.sheet("Settings")
    history = _history_columns(view)
    sheet.widths([column.width for column in history])
    row = 0
    for title, settings in (
        ("Base", _base(view)),
        ("Search", _search(view)),
        ("Versions", [Setting(name, text) for name, text in view.outcome.versions.items()]),
    ):
        sheet.write_row(row, [title, None, None], SECTION)
        row = write_table(sheet, row + 1, SETTING_COLUMNS, settings) + 1
    sheet.write_row(row, ["Improvements of the search, in turn", *[None] * 5], SECTION)
    write_table(sheet, row + 1, history, view.outcome.history)


def _base(view: View) -> Sequence[Setting]:
    base = view.base
    worked = ", ".join(day_abbr[number] for number in sorted(base.working_weekdays))
    per_hour = f"{base.currency} per man-hour"
    return [
        Setting("Base", base.name),
        Setting("First day", day(base.first_day)),
        Setting("Work left counts from", day(base.work_left_from), "see Remaining %"),
        Setting("Weeks", base.weeks, "weeks in which a check may come in"),
        Setting("Currency", base.currency),
        Setting("Working days", worked),
        Setting("Holidays", base.holidays or "none", "country, subdivision (ISO 3166)"),
        Setting("Moves on days off", "yes" if base.leaves_on_days_off else "no"),
        *(Setting("Base calendar", own_days(own)) for own in base.calendar_days),
        Setting("Productivity", round(100 * base.productivity, 6), "% of attended hours"),
        Setting("Longest delay", base.longest_delay_days, "days past Latest in"),
        Setting("Longest wait", base.longest_wait_days, "days for a bay or a turn at a shop"),
        Setting("Overload cost", base.overload_cost, per_hour),
        Setting("Man-hours counted by", "day" if base.counts_days else "week"),
        Setting("Working-time rules", base.working_time_rules or "none"),
        Setting("Working-time mode", base.working_time_mode),
    ]


def _search(view: View) -> Sequence[Setting]:
    settings = view.outcome.settings
    return [
        Setting("Time allowed", settings.seconds, "s"),
        Setting("Time used", round(view.outcome.seconds, 1), "s"),
        Setting("Seed", settings.seed),
        Setting("Stop when at most this could be saved", round(100 * settings.gap, 6), "%"),
    ]


def _history_columns(view: View) -> tuple[Column[Progress], ...]:
    currency = view.base.currency
    return (
        Column("Time (s)", lambda p: p.seconds, HOURS, width=40),
        Column(f"Cost ({currency})", lambda p: p.money, MONEY, width=26),
        Column(f"No plan can cost less, proven ({currency})", lambda p: p.bound, MONEY, width=30),
        Column("Found by", lambda p: p.source, width=26),
        Column(
            "Could still save at most (%)",
            lambda p: None if p.gap is None else 100 * p.gap,
            PERCENT,
            width=12,
        ),
        Column("Days past Latest in", lambda p: p.days_past, WHOLE, width=16),
    )
