"""Changes of two windows of one person on the same sheet: none takes the other's away unsaid."""

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from capacity.inputs.reading.edited_copy import SheetEdit

NOTHING = object()
"""What stands for a cell that is not changed."""


@dataclass(frozen=True, slots=True)
class Clash:
    """A cell that both have changed; what ``mine`` put there stands, ``theirs`` does not.

    ``heading`` is blank where one of the two removed the row, which then stays.
    """

    sheet: str
    row: int
    heading: str
    theirs: object = None
    mine: object = None


def merged(
    before: SheetEdit, mine: SheetEdit, theirs: SheetEdit
) -> tuple[SheetEdit, tuple[Clash, ...]]:
    """Return ``theirs`` with what was changed from ``before`` to ``mine``, and where both did.

    Rows added are told apart by what they hold. One that both changed is there twice, which
    verifying says.
    """
    clashes = list(_clashes(before, mine, theirs))
    changed = {row: dict(values) for row, values in theirs.changed.items()}
    for row, heading in _cells(before) | _cells(mine):
        now = _value(mine, row, heading)
        if now == _value(before, row, heading):
            continue
        if now is NOTHING:
            changed.get(row, {}).pop(heading, None)
        else:
            changed.setdefault(row, {})[heading] = now
    stay = {clash.row for clash in clashes if not clash.heading}
    removed = (theirs.removed | (mine.removed - before.removed)) - (before.removed - mine.removed)
    removed -= stay
    edit = SheetEdit(
        mine.sheet,
        {row: values for row, values in changed.items() if values and row not in removed},
        _added(before, mine, theirs),
        frozenset(removed),
    )
    return edit, tuple(clashes)


def _clashes(before: SheetEdit, mine: SheetEdit, theirs: SheetEdit) -> Iterator[Clash]:
    for row, heading in sorted(_cells(mine) | _cells(before)):
        was, now, there = (_value(edit, row, heading) for edit in (before, mine, theirs))
        if row in theirs.removed - before.removed and now != was:
            yield Clash(mine.sheet, row, "")
        elif now != was and there not in (was, now):
            shown = [None if value is NOTHING else value for value in (there, now)]
            yield Clash(mine.sheet, row, heading, *shown)
    for row in sorted(mine.removed - before.removed):
        if theirs.changed.get(row, {}) != before.changed.get(row, {}):
            yield Clash(mine.sheet, row, "")


def _cells(edit: SheetEdit) -> set[tuple[int, str]]:
    return {(row, heading) for row, values in edit.changed.items() for heading in values}


def _value(edit: SheetEdit, row: int, heading: str) -> object:
    return edit.changed.get(row, {}).get(heading, NOTHING)


def _added(
    before: SheetEdit, mine: SheetEdit, theirs: SheetEdit
) -> tuple[Mapping[str, object], ...]:
    """Return the rows that ``theirs`` adds, with those changed in their place, and further ones."""
    if theirs.added == before.added:
        return mine.added
    was, now = Counter(map(_held, before.added)), Counter(map(_held, mine.added))
    gone, new = was - now, now - was
    rows: list[Mapping[str, object]] = []
    for row in theirs.added:
        if gone[_held(row)] > 0:
            gone[_held(row)] -= 1
        else:
            rows.append(row)
    for row in mine.added:
        if new[_held(row)] > 0:
            new[_held(row)] -= 1
            rows.append(row)
    return tuple(rows)


def _held(row: Mapping[str, object]) -> tuple[tuple[str, str], ...]:
    return tuple(sorted((heading, repr(value)) for heading, value in row.items()))
