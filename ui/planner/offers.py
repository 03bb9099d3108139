"""What a cell of a grid may be chosen from: a few words, or the names of rows of other sheets."""

from collections.abc import Iterator, Mapping, Sequence

from capacity.inputs.reading.cell_kinds import Kind, kind_of
from capacity.inputs.reading.edited_copy import SheetTable
from capacity.inputs.reading.row_model import Row
from capacity.inputs.reading.sheets import SHEETS, SettingLine
from capacity.template.lists import names_in

_ALL: tuple[type[Row], ...] = (SettingLine, *SHEETS)
MODELS: Mapping[str, type[Row]] = {model.sheet: model for model in _ALL}

CHOSEN_FROM: Mapping[tuple[str, str], tuple[tuple[str, str], ...]] = {
    ("Checks", "Fixed bay"): (("Bays", "Bay"),),
    ("Licences", "Skill or type"): (("Skills", "Skill"), ("Aircraft types", "Type")),
    ("Package hours", "Stage"): (("Packages", "Stage"),),
    ("Progress", "Stage"): (("Packages", "Stage"), ("Extra work", "Stage")),
    ("Ready dates", "Stage"): (("Packages", "Stage"), ("Extra work", "Stage")),
    ("Shop loops", "Leave at"): (("Packages", "Stage"),),
    ("Shop loops", "Back for"): (("Packages", "Stage"),),
}
"""Columns with a name of other sheets whose rule says more than that it is there."""

TYPED = {("Shift patterns", "Cycle"), ("Packages", "After"), ("Extra work", "After")}
"""Lists of names in which order, repetition or a hyphen means something, so they are typed."""

Sources = tuple[tuple[str, str], ...]


def words_of(sheet: str, heading: str) -> tuple[str, ...]:
    """Return the few words that may stand under a heading; none where anything may."""
    model = MODELS[sheet]
    field = model.headings().get(heading)
    return () if field is None else kind_of(model, field).choices


def sources_of(sheet: str, heading: str) -> Sources:
    """Return the sheets and columns whose names are chosen from under a heading.

    None where new names may be typed, as in the history of what was delivered.
    """
    if (sheet, heading) in TYPED:
        return ()
    if (sheet, heading) in CHOSEN_FROM:
        return CHOSEN_FROM[sheet, heading]
    model = MODELS[sheet]
    field = model.headings().get(heading)
    names = None if field is None else names_in(model, field)
    if names is None or (names.others and kind_of(model, field or "").kind is not Kind.NAMES):
        return ()
    return ((names.model.sheet, names.model.heading(names.field)),)


def is_list(sheet: str, heading: str) -> bool:
    """Whether several names stand in a cell, with commas between, that are chosen from a list."""
    model = MODELS[sheet]
    field = model.headings().get(heading)
    kind = None if field is None else kind_of(model, field).kind
    return kind is Kind.NAMES and bool(sources_of(sheet, heading))


def sheets_named_by(sheet: str) -> frozenset[str]:
    """Return the sheets whose names the cells of a sheet hold."""
    headings = MODELS[sheet].headings()
    return frozenset(named for h in headings for named, _ in sources_of(sheet, h))


def choices_for(table: SheetTable, others: Sequence[SheetTable]) -> dict[str, tuple[str, ...]]:
    """Return what may be chosen under the headings of a table, from the sheets that it names."""
    by_sheet = {other.sheet: other for other in others}
    found: dict[str, tuple[str, ...]] = {}
    for heading in table.headings:
        words = words_of(table.sheet, heading)
        names = _names(sources_of(table.sheet, heading), by_sheet)
        if choices := words or tuple(dict.fromkeys(names)):
            found[heading] = choices
    return found


def _names(sources: Sources, by_sheet: Mapping[str, SheetTable]) -> Iterator[str]:
    for sheet, heading in sources:
        for row in by_sheet[sheet].rows if sheet in by_sheet else ():
            value = row.values.get(heading)
            if isinstance(value, float) and value.is_integer():
                value = int(value)
            if value is not None and (name := " ".join(str(value).split())):
                yield name
