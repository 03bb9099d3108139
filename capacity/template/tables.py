"""The rows of an empty workbook: headings, settings at their defaults, numbered rows."""

from collections.abc import Iterator

from capacity.inputs.reading.row_model import Row
from capacity.inputs.reading.sheets import SHEETS, HoursRow, SettingLine, Settings, StageRow
from capacity.template.placeholders import FIRST_STAGE, HoursBy, Placeholders

Table = list[tuple[object, ...]]

WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


def tables_of(wanted: Placeholders) -> dict[str, Table]:
    """Return every sheet that the workbook may have, in order; its first row are the headings."""
    tables: dict[str, Table] = {Settings.sheet: _settings(wanted)}
    for model in SHEETS:
        if model is HoursRow:
            tables[model.sheet] = _hours(wanted)
            continue
        headings = tuple(model.headings())
        rows = [(*names, *[None] * (len(headings) - len(names))) for names in _names(model, wanted)]
        tables[model.sheet] = [headings, *rows]
    return tables


def _names(model: type[Row], wanted: Placeholders) -> Iterator[tuple[str, ...]]:
    """Yield the first cells of the numbered rows of a sheet."""
    if not model.identity or model.optional:
        return
    for name in wanted.names_of(model.heading(model.identity[0])):
        yield (name, FIRST_STAGE) if model is StageRow else (name,)


def _hours(wanted: Placeholders) -> Table:
    """Return the sheet ``Package hours`` in the form asked for, a row for each to be filled in."""
    packages, skills = wanted.names_of("Package"), wanted.names_of("Skill")
    if wanted.hours_by == HoursBy.COLUMNS:
        blanks = [None] * len(skills)
        rows: Table = [(package, FIRST_STAGE, *blanks) for package in packages]
        return [(*list(HoursRow.headings())[:2], *skills), *rows]
    by_skill: Table = [(p, FIRST_STAGE, skill, None) for p in packages for skill in skills]
    return [tuple(HoursRow.headings()), *by_skill]


def _settings(wanted: Placeholders) -> Table:
    """Return every setting: what was asked for, else its default, blank where it has none."""
    given = {"base": wanted.name or None, "first_day": wanted.first_day, "weeks": wanted.weeks}
    rows: Table = [tuple(SettingLine.headings())]
    for heading, field in Settings.headings().items():
        default = None if Settings.model_fields[field].is_required() else _as_typed(heading, field)
        value = given.get(field)
        rows.append((heading, default if value is None else value))
    return rows


def _as_typed(heading: str, field: str) -> object:
    """Return the default of a setting as a person would type it."""
    default = Settings.model_fields[field].default
    if isinstance(default, bool):
        return "yes" if default else "no"
    if isinstance(default, frozenset):  # weekdays, of which the default are all
        return f"{WEEKDAYS[min(default)]}-{WEEKDAYS[max(default)]}"
    if isinstance(default, float):
        return round(100 * default, 9) if heading.endswith("%") else default
    return default
