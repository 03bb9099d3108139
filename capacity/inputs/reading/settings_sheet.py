"""The sheet ``Base``, whose rows are what columns are elsewhere."""

from collections.abc import Collection

from capacity.inputs.reading.places import Places, same
from capacity.inputs.reading.row_model import CellFault, validate
from capacity.inputs.reading.rows import SheetRows
from capacity.inputs.reading.sheets import SettingLine, Settings
from capacity.inputs.wording import nearest
from capacity.messages import Level, Message


def read_settings(
    lines: SheetRows[SettingLine], messages: list[Message]
) -> tuple[Settings | None, Places]:
    """Return the settings, None when one has a fault, and where each of them stands."""
    known = {same(heading): heading for heading in Settings.headings()}
    rows: dict[str, int] = {}
    unknown: list[tuple[int, str]] = []
    for number, (written,) in lines.identities:
        heading = known.get(same(written))
        if heading is None:
            unknown.append((number, written))
        elif heading in rows:
            messages.append(
                Message(
                    Level.ERROR,
                    lines.places.cell(number),
                    f"the setting '{heading}' is here and in row {rows[heading]}.",
                    "Delete one of the two rows.",
                )
            )
        else:
            rows[heading] = number
    messages += [_unknown(lines.places.cell(row), name, known.values()) for row, name in unknown]

    places = Places(lines.places.label, lines.places.letters, rows)
    if not lines.names_known or not {"Setting", "Value"} <= set(places.letters):
        return None, places
    values = {
        known[same(line.setting)]: line.value
        for line in reversed(lines.rows)  # so that the first of two rows stands
        if same(line.setting) in known and line.value is not None
    }
    settings, faults = validate(Settings, 0, values)
    read = {line.row for line in lines.rows}
    messages += [
        _message(fault, rows, places)
        for fault in faults
        if fault.heading not in rows or rows[fault.heading] in read
    ]
    return (settings if lines.whole else None), places


def _unknown(where: str, name: str, known: Collection[str]) -> Message:
    near = nearest(name, known)
    return Message(
        Level.WARNING,
        where,
        f"the setting '{name}' is not known and is not read.",
        f"Did you mean '{near}'?" if near else "Leave it, or delete it.",
    )


def _message(fault: CellFault, rows: dict[str, int], places: Places) -> Message:
    if fault.heading not in rows:
        return Message(
            Level.ERROR, places.label, f"the setting '{fault.heading}' is missing.", "Add its row."
        )
    where = places.of(fault.heading, "Value")
    return Message(Level.ERROR, where, f"{fault.heading} {fault.what}", fault.remedy)
