"""Cross checks of equipment: pools, the days pieces are out, the stages that need them."""

from collections.abc import Iterator

from capacity.inputs.checking.running_totals import Totals, totals_of
from capacity.inputs.checking.stay import ONE_DAY
from capacity.inputs.reading.rows import Sheets
from capacity.inputs.reading.sheets import EquipmentRow, OutageRow, StageRow
from capacity.messages import Level, Message
from capacity.words import day as as_day


def numbers(sheets: Sheets) -> dict[str, int]:
    """Return how many pieces each pool has."""
    return {pool.equipment: pool.number for pool in sheets[EquipmentRow].rows}


def outages(sheets: Sheets) -> dict[str, list[OutageRow]]:
    """Return the outages of each pool that are sound by themselves."""
    number = numbers(sheets)
    sound: dict[str, list[OutageRow]] = {pool: [] for pool in number}
    for outage in sheets[OutageRow].rows:
        pool = outage.equipment
        if pool in number and outage.number <= number[pool] and outage.first <= outage.last:
            sound[pool].append(outage)
    return sound


def pieces_out(rows: list[OutageRow]) -> Totals:
    """Return how many pieces are out of use on which day; ``To`` is the last such day."""
    return totals_of((row.first, row.last + ONE_DAY, row.number) for row in rows)


def outages_lie_within_numbers(sheets: Sheets) -> Iterator[Message]:
    """Require that an outage takes no more pieces than the pool has."""
    number = numbers(sheets)
    for outage in sheets[OutageRow].rows:
        pool = outage.equipment
        if pool in number and outage.number > number[pool]:
            yield Message(
                Level.ERROR,
                sheets.at(outage, "number"),
                f"{outage.number} of the equipment '{pool}' are out, but there are {number[pool]}.",
                f"Type at most {number[pool]}, or correct Number in the sheet Equipment.",
            )


def outages_together_lie_within_numbers(sheets: Sheets) -> Iterator[Message]:
    """Warn, once a pool, of a day on which outages together take more than it has."""
    number = numbers(sheets)
    for pool, rows in outages(sheets).items():
        out = pieces_out(rows)
        for day, total in zip(out.days, out.totals, strict=True):
            if total > number[pool]:
                last = next(row for row in reversed(rows) if row.first == day)
                yield Message(
                    Level.WARNING,
                    sheets.at(last, "number"),
                    f"on {as_day(day)}, {total} of the equipment '{pool}' are out, but there are "
                    f"{number[pool]}; it counts as none available.",
                    "Correct the outages, or Number in the sheet Equipment.",
                )
                break


def stages_find_equipment(sheets: Sheets) -> Iterator[Message]:
    """Require a piece of what a stage needs; warn when all are out while checks come in."""
    number, rows, plan = numbers(sheets), outages(sheets), sheets.settings
    always_out = {
        pool
        for pool, out in ((pool, pieces_out(rows[pool])) for pool in number)
        if plan
        and number[pool]
        and all(
            out.on(day) >= number[pool]
            for day in (plan.first_day, *out.days)
            if plan.first_day <= day <= plan.last_in_day
        )
    }
    for stage in sheets[StageRow].rows:
        for pool in stage.equipment:
            needs = f"the stage '{stage.stage}' needs a piece of the equipment '{pool}'"
            if number.get(pool) == 0:
                yield Message(
                    Level.ERROR,
                    sheets.at(stage, "equipment"),
                    f"{needs}, which has none.",
                    "Correct its Number in the sheet Equipment, or take it out of this cell.",
                )
            elif plan and pool in always_out:
                yield Message(
                    Level.WARNING,
                    sheets.at(stage, "equipment"),
                    f"{needs}, but all are out from {as_day(plan.first_day)} to "
                    f"{as_day(plan.last_in_day)}, the "
                    "days on which checks can come in under this plan.",
                    "Correct the sheet Equipment outages, if it is wrong.",
                )
