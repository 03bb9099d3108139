"""The sheet ``Stages``: every stage of every check with a slot with its days."""

from datetime import timedelta

from capacity.plans.levelled import Levelling, StageWeek
from capacity.plans.plan import Placement, StageDays
from capacity.reports.kit.formats import DATE, HOURS_OR_DASH, WHOLE, WRAPPED
from capacity.reports.kit.sheet import Book
from capacity.reports.kit.table import Column, write_sheet_table
from capacity.reports.plan.levelled_words import where_hours_lie
from capacity.reports.plan.view import View


def stages_sheet(book: Book, view: View) -> None:
    """Add the sheet."""
    rows = [(placement, stage) for placement in view.placements for stage in placement.stages]
    write_sheet_table(book.sheet("Stages"), _columns(view), rows)


def _columns(view: View) -> tuple[Column[tuple[Placement, StageDays]], ...]:
    one_day = timedelta(days=1)
    return (
        Column("Check", lambda row: row[0].check, width=14),
        Column("Aircraft", lambda row: view.base.check(row[0].check).aircraft, width=12),
        Column("Stage", lambda row: row[1].stage, width=36),
        Column("From", lambda row: row[1].first, DATE, width=17),
        Column("Last day worked", lambda row: row[1].until - one_day, DATE, width=17),
        Column("Until (next stage may start)", lambda row: row[1].until, DATE, width=17),
        Column("Calendar days", lambda row: (row[1].until - row[1].first).days, WHOLE, width=10),
        Column("Bay", lambda row: row[0].bay, width=12),
        *(() if view.levelling is None else _levelled(view.levelling)),
    )


def _levelled(levelling: Levelling) -> tuple[Column[tuple[Placement, StageDays]], ...]:
    """Return the columns of hours, for a plan in which they lie otherwise than evenly."""
    weeks: dict[tuple[str, str], list[StageWeek]] = {}
    for one in levelling.weeks:
        weeks.setdefault((one.check, one.stage), []).append(one)

    def mine(row: tuple[Placement, StageDays]) -> list[StageWeek]:
        return weeks.get((row[0].check, row[1].stage), [])

    return (
        Column(
            "Levelled man-hours (h)",
            lambda row: sum(one.hours for one in mine(row)) or None,
            HOURS_OR_DASH,
            width=11,
        ),
        Column(
            "In another week than if spread evenly (h)",
            lambda row: sum(max(0.0, one.moved) for one in mine(row)) or None,
            HOURS_OR_DASH,
            width=13,
        ),
        Column("Where they lie", lambda row: where_hours_lie(mine(row)) or None, WRAPPED, width=80),
    )
