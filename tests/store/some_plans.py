"""Plans to save: of an invented base, with files of a few bytes."""

from datetime import date

from capacity.store.values import Figures, NewPlan

FIRST_DAY, UNTIL = date(2027, 1, 4), date(2027, 4, 5)


def some_plan(
    number: int,
    *,
    base: str = "Weekfield",
    follows: int | None = None,
    first_day: date = FIRST_DAY,
    until: date = UNTIL,
    workbook: bytes = b"a workbook",
) -> NewPlan:
    """Return a plan of its own for each number."""
    return NewPlan(
        base=base,
        first_day=first_day,
        until=until,
        plan_number=f"PLAN-{number:04d}",
        workbook_name="quarter.xlsx",
        workbook=workbook,
        plan_file=b'{"number": %d}' % number,
        figures=Figures(days_past=number, cost=100.0 * number, overload_hours=0.5),
        settings={"version": "1"},
        follows=follows,
    )
