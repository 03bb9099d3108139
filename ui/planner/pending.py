"""Changes of the grid that are not used yet: laid over the tables, and added to.

A grid tells what was changed since it was put on the page. When a page is left and drawn
anew, its grid begins with the rows as they were changed until then, and what is changed after
that comes on top.
"""

from collections.abc import Mapping
from dataclasses import replace

from capacity.inputs.reading.edited_copy import SheetEdit
from ui.planner.editing import EditTable, as_shown, edit_from


def with_pending(table: EditTable, pending: SheetEdit | None) -> EditTable:
    """Return the table with changes laid over it; an added row has a number below 0."""
    if pending is None:
        return table
    columns = {column.heading: column for column in table.columns}

    def shown(values: Mapping[str, object]) -> dict[str, object]:
        return {h: as_shown(v, columns[h]) for h, v in values.items() if h in columns}

    still_there = [
        (number, {**row, **shown(pending.changed.get(number, {}))})
        for number, row in zip(table.numbers, table.rows, strict=True)
        if number not in pending.removed
    ]
    blank: dict[str, object] = dict.fromkeys(columns)
    added = [(-1 - n, {**blank, **shown(row)}) for n, row in enumerate(pending.added)]
    rows = [*still_there, *added]
    return replace(
        table, numbers=tuple(number for number, _ in rows), rows=tuple(row for _, row in rows)
    )


def pending_with(
    table: EditTable, pending: SheetEdit | None, changes: Mapping[str, object]
) -> SheetEdit:
    """Return the changes that were pending with those made in the grid since it was drawn.

    ``changes`` are those of a grid that shows ``with_pending(table, pending)``, as it tells
    them: by position.
    """
    before = pending or SheetEdit(table.sheet)
    now = edit_from(with_pending(table, pending), changes)
    removed = before.removed | {number for number in now.removed if number > 0}
    changed = {number: dict(values) for number, values in before.changed.items()}
    for number, values in now.changed.items():
        if number > 0:
            changed.setdefault(number, {}).update(values)
    added = [
        {h: v for h, v in {**row, **now.changed.get(-1 - n, {})}.items() if v is not None}
        for n, row in enumerate(before.added)
        if -1 - n not in now.removed
    ]
    told = {number: _differing(values, number, table) for number, values in changed.items()}
    return SheetEdit(
        sheet=table.sheet,
        changed={number: v for number, v in told.items() if v and number not in removed},
        added=tuple(row for row in (*added, *now.added) if row),
        removed=frozenset(removed),
    )


def _differing(values: Mapping[str, object], number: int, table: EditTable) -> dict[str, object]:
    """Leave out what has been set back to what the sheet holds."""
    columns = {column.heading: column for column in table.columns}
    row = table.rows[table.numbers.index(number)] if number in table.numbers else {}
    return {h: v for h, v in values.items() if as_shown(v, columns[h]) != row.get(h)}
