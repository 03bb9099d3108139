"""Cross checks of how a stage's man-hours may be levelled."""

from collections.abc import Iterator

from capacity.inputs.reading.rows import Sheets
from capacity.inputs.reading.sheets import LoopRow, StageRow
from capacity.messages import Level, Message


def float_holds_nothing(sheets: Sheets) -> Iterator[Message]:
    """Refuse ``Into float`` for a stage at whose end something is given back, sent or inspected.

    Where the cell is blank and the setting says yes, such a stage simply keeps its days.
    """
    sends = {(loop.package, loop.leave_at): loop.shop for loop in sheets[LoopRow].rows}
    for row in sheets[StageRow].rows:
        if not row.into_float:
            continue
        why = ""
        if row.alone:
            why = "it is done alone, so no other stage could go on beside it"
        elif row.critical:
            why = "it is critical: it ends with an inspection"
        elif row.equipment:
            why = f"it holds equipment ({', '.join(row.equipment)}) that is due back at its end"
        elif (row.package, row.stage) in sends:
            why = f"items leave for the shop '{sends[row.package, row.stage]}' at its end"
        if why:
            yield Message(
                Level.ERROR,
                sheets.at(row, "into_float"),
                f"the stage '{row.stage}' cannot have hours behind its last day: {why}.",
                "Type no, or clear the cell.",
            )


def peaks_have_more_than_a_day(sheets: Sheets) -> Iterator[Message]:
    """Note a ``Daily peak %`` that changes nothing: a stage of one day with no float."""
    settings = sheets.settings
    for row in sheets[StageRow].rows:
        if row.daily_peak is None or row.daily_peak <= 1.0:
            continue
        reaches = row.into_float
        if reaches is None:
            reaches = settings is not None and settings.into_float
        if (row.longest_days or row.days) == 1 and not reaches:
            yield Message(
                Level.NOTE,
                sheets.at(row, "daily_peak"),
                f"Daily peak % of the stage '{row.stage}' changes nothing: it has one day.",
                "Clear the cell, or let its hours go into its float.",
            )
