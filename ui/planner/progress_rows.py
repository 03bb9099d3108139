"""The checks in work by the plan, a row a stage, and what is told of them on one day."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from capacity.facts import Base
from capacity.inputs.reading.edited_copy import SheetEdit, SheetTable
from capacity.plans.plan import Plan
from capacity.words import day, hours

SHEET = "Progress"
TOLD = ("Done %", "Hours booked", "Hours to go", "Finished")
"""The columns of the sheet that say how far a stage is."""

DAYS_AFTER_OUT = 14
"""So long after its out day a check is still listed: whether it has left nobody has told yet."""

Key = tuple[str, str]
Values = Mapping[str, object]


@dataclass(frozen=True, slots=True)
class StageInWork:
    """A stage that has begun by the plan: ``first`` to ``last`` are its days, both included.

    ``hours`` are planned man-hours, with findings and extra work. ``told`` is what was told of it
    last, before the day that is asked about.
    """

    check: str
    aircraft: str
    stage: str
    first: date
    last: date
    hours: float
    told: str = ""

    @property
    def key(self) -> Key:
        """What tells it apart."""
        return self.check, self.stage


def stages_in_work(plan: Plan, base: Base, progress: SheetTable, as_of: date) -> list[StageInWork]:
    """Return the stages begun before a day by the plan that nobody has told to be done.

    They are those of checks that came in before the day, in the order in which these leave.
    """
    last = _latest(progress, as_of)
    found: list[tuple[date, StageInWork]] = []
    for name, placements in plan.by_check().items():
        out = placements[-1].out_day
        is_in = placements[0].in_day < as_of <= out + timedelta(days=DAYS_AFTER_OUT)
        if not is_in or not base.has_check(name) or _is_done(last.get((name, ""), {})):
            continue
        check, stages = base.check(name), base.stages_of(name)
        for placement in placements:
            for days in placement.stages:
                told = last.get((name, days.stage), {})
                if (days.first >= as_of and not told) or _is_done(told):
                    continue
                asked = stages[days.stage].asked_hours(check.findings_factor)
                row = StageInWork(
                    name,
                    check.aircraft,
                    days.stage,
                    days.first,
                    days.until - timedelta(days=1),
                    sum(asked.values()),
                    _in_words(told),
                )
                found.append((out, row))
    return [row for _, row in sorted(found, key=lambda pair: (pair[0], pair[1].check))]


def told_on(progress: SheetTable, as_of: date) -> dict[Key, Values]:
    """Return what the rows of one day tell, by check and stage; a blank stage is the check."""
    return {
        key: {heading: values.get(heading) for heading in TOLD}
        for key, day_told, values in _rows(progress)
        if day_told == as_of
    }


def with_told(
    progress: SheetTable, edit: SheetEdit, as_of: date, told: Mapping[Key, Values]
) -> SheetEdit:
    """Return the changes of the sheet with what is told of stages on a day put in.

    ``progress`` is the sheet as it stands. A row of the same check, stage and day is changed, else
    one is added; one that was only added, and tells nothing any more, is taken out again.
    """
    numbers = {
        (key, of_day): row.number
        for row in progress.rows
        for key, of_day, _ in _row(row.values)
        if row.number not in edit.removed
    }
    changed = {number: dict(values) for number, values in edit.changed.items()}
    added = list(edit.added)
    held = {row.number: row.values for row in progress.rows}
    for key, values in told.items():
        number = numbers.get((key, as_of))
        if number is not None:
            row = {**changed.get(number, {}), **values}
            changed[number] = {h: v for h, v in row.items() if v != held[number].get(h)}
            continue
        places = [
            n for n, row in enumerate(added) for k, d, _ in _row(row) if (k, d) == (key, as_of)
        ]
        filled = {heading: value for heading, value in values.items() if value is not None}
        begun = {"Check": key[0], "Stage": key[1], "As of": as_of}
        rows = [{**{h: v for h, v in begun.items() if v}, **filled}] if filled else []
        if places:
            added[places[0] : places[0] + 1] = rows
        else:
            added += rows
    left = {number: values for number, values in changed.items() if values}
    return replace(edit, changed=left, added=tuple(added))


def _latest(progress: SheetTable, before: date) -> dict[Key, Values]:
    """Return the latest row of each check and stage before a day."""
    found: dict[Key, tuple[date, Values]] = {}
    for key, of_day, values in _rows(progress):
        if of_day < before and (key not in found or found[key][0] <= of_day):
            found[key] = of_day, values
    return {key: values for key, (_, values) in found.items()}


def _is_done(values: Values) -> bool:
    to_go, done = values.get("Hours to go"), values.get("Done %")
    return bool(values.get("Finished")) or (done == 100 if to_go is None else to_go == 0)


def _in_words(values: Values) -> str:
    """Return what a row tells: ``40 % done, 120 h to go as of Mon 11 Jan 2027``."""
    told = [
        f"{value:g} % done" if isinstance(value := values.get("Done %"), int | float) else "",
        f"{hours(value)} booked" if isinstance(value := values.get("Hours booked"), int | float)
        else "",
        f"{hours(value)} to go" if isinstance(value := values.get("Hours to go"), int | float)
        else "",
    ]  # fmt: skip
    said = ", ".join(part for part in told if part)
    of_day = _day(values.get("As of"))
    return f"{said} as of {day(of_day)}" if said and of_day is not None else said


def _rows(progress: SheetTable) -> Iterator[tuple[Key, date, Values]]:
    for row in progress.rows:
        yield from _row(row.values)


def _row(values: Values) -> Iterator[tuple[Key, date, Values]]:
    """Yield a row with its key and its day; nothing where it has no check or no day."""
    check, of_day = _name(values.get("Check")), _day(values.get("As of"))
    if check and of_day is not None:
        yield (check, _name(values.get("Stage"))), of_day, values


def _name(value: object) -> str:
    if isinstance(value, float) and value.is_integer():
        value = int(value)
    return "" if value is None else " ".join(str(value).split())


def _day(value: object) -> date | None:
    if isinstance(value, datetime):
        return value.date()
    if isinstance(value, date):
        return value
    try:
        return date.fromisoformat(str(value or "").strip()[:10])
    except ValueError:
        return None


def told_in_grid(
    rows: Sequence[StageInWork], before: Mapping[Key, Values], changes: Mapping[str, object]
) -> dict[Key, Values]:
    """Return what a grid of these rows tells, of those that were changed in it, by position."""
    edited = changes.get("edited_rows") or {}
    assert isinstance(edited, Mapping)
    found: dict[Key, Values] = {}
    for place, values in edited.items():
        key = rows[int(place)].key
        told = {**dict.fromkeys(TOLD), **before.get(key, {})}
        for heading, value in values.items():
            if heading in TOLD:
                told[heading] = _day(value) if heading == "Finished" else value
        found[key] = told
    return found


def is_told(values: Iterable[Values]) -> int:
    """Return of how many rows something is told."""
    return sum(any(value is not None for value in row.values()) for row in values)
