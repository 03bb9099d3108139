"""Read a plan file: the plan it states, its figures, and where it comes from."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from os import PathLike

from capacity.errors import InputError
from capacity.facts import DoneHours, WorkDone
from capacity.plans.plan import Placement, Plan, StageDays, WeekHours
from capacity.plans.weeks import monday_of_week, week_name
from capacity.reports.plan_files.json_reader import JsonReader, day, items, number, parsed, text
from capacity.reports.plan_files.made import Made


@dataclass(frozen=True, slots=True)
class Stated:
    """The figures that a plan file states: goals, and man-hours asked by week and skill."""

    days_past: float
    money: float
    demand: Mapping[tuple[str, str], float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class PlanFile:
    """What a plan file says.

    ``name`` is what the file is called. ``made`` and ``stated`` are None where the file, an
    older one, does not say.
    """

    name: str
    plan: Plan
    made: Made | None
    stated: Stated | None


def read_plan_file(source: str | PathLike[str]) -> PlanFile:
    """Return what a plan file says, whatever base it was made for.

    ``source`` is its path, or its text, which begins with a brace. The file does not name
    refused options; ``refused`` of its plan is empty.

    Raises
    ------
    InputError
        When the file cannot be read as one of a plan.
    """
    name, content = parsed(source)
    reader = JsonReader()
    told = reader.object_of(content, "the plan file")
    outcome = reader.take(told, "outcome", "", text)
    if outcome not in (None, "planned"):
        what = f"the outcome is '{outcome}': there is no plan in it."
        reader.fault("outcome", what, "Give the plan file of a plan that was made.")
    placements = []
    for place, entry in enumerate(reader.take(told, "placements", "", items) or []):
        placement = _placement(reader, entry, f"placements[{place}]")
        placements += [] if placement is None else [placement]
    not_placed = _names(reader, reader.take(told, "not_placed", "", items), "not_placed")
    stated = _stated(reader, told) if "goals" in told and outcome == "planned" else None
    made = _made(reader, told["made"]) if "made" in told else None
    if reader.messages:
        raise InputError(reader.told())
    in_turn = sorted(placements, key=lambda p: (p.in_day, p.out_day, p.bay))
    return PlanFile(name, Plan(tuple(in_turn), not_placed), made, stated)


def with_left_out(file: PlanFile) -> Plan:
    """Return the plan with the options that it knew and did not take, as far as the file says."""
    plan = file.plan
    named = {placement.check for placement in plan.placements} | set(plan.not_placed)
    known = file.made.workbook.get("Checks", {}) if file.made else {}
    refused = tuple(name for name in known if name not in named)
    return Plan(plan.placements, plan.not_placed, refused)


def _placement(reader: JsonReader, entry: object, where: str) -> Placement | None:
    told = reader.object_of(entry, where)
    check = reader.take(told, "check", where, text)
    bay = reader.take(told, "bay", where, text)
    stage_from = reader.take(told, "stage_from", where, text)
    in_day = reader.take(told, "in", where, day)
    out_day = reader.take(told, "out", where, day)
    entries = reader.take(told, "stages", where, items)
    stages = [_stage(reader, s, f"{where}.stages[{n}]") for n, s in enumerate(entries or [])]
    if check is None or bay is None or stage_from is None or in_day is None or out_day is None:
        return None
    if out_day < in_day:
        reader.fault(f"{where}.out", f"the out day {out_day} is before the in day {in_day}.")
    done = tuple(stage for stage in stages if stage is not None)
    return Placement(check, bay, stage_from, in_day, out_day, done)


def _stage(reader: JsonReader, entry: object, where: str) -> StageDays | None:
    told = reader.object_of(entry, where)
    name = reader.take(told, "stage", where, text)
    first = reader.take(told, "from", where, day)
    last = reader.take(told, "to", where, day)
    if name is None or first is None or last is None:
        return None
    if last < first:
        reader.fault(f"{where}.to", f"the last day {last} is before the first day {first}.")
    hours = reader.read(told["hours"], f"{where}.hours", items) if "hours" in told else None
    found = [_hours(reader, one, f"{where}.hours[{n}]") for n, one in enumerate(hours or [])]
    # As in every pair of from and to, both days are included.
    spread = tuple(one for one in found if one is not None)
    return StageDays(name, first, last + timedelta(days=1), spread)


def _hours(reader: JsonReader, entry: object, where: str) -> WeekHours | None:
    told = reader.object_of(entry, where)
    week = reader.take(told, "week", where, text)
    skill = reader.take(told, "skill", where, text)
    amount = reader.take(told, "hours", where, number)
    if week is None or skill is None or amount is None:
        return None
    if monday_of_week(week) is None:
        reader.fault(f"{where}.week", f"'{week}' is no ISO week such as 2027-W01.")
    entries = reader.read(told["days"], f"{where}.days", items) if "days" in told else None
    days = [_day(reader, one, f"{where}.days[{n}]", week) for n, one in enumerate(entries or [])]
    return WeekHours(skill, week, amount, tuple(one for one in days if one is not None))


def _day(reader: JsonReader, entry: object, where: str, week: str) -> tuple[date, float] | None:
    told = reader.object_of(entry, where)
    on = reader.take(told, "day", where, day)
    amount = reader.take(told, "hours", where, number)
    if on is None or amount is None:
        return None
    if week_name(on) != week:
        reader.fault(f"{where}.day", f"{on} is no day of {week}.")
    return on, amount


def _names(reader: JsonReader, entries: list[object] | None, where: str) -> tuple[str, ...]:
    names = [reader.read(one, f"{where}[{n}]", text) for n, one in enumerate(entries or [])]
    return tuple(name for name in names if name is not None)


def _stated(reader: JsonReader, told: dict[str, object]) -> Stated | None:
    goals = reader.object_of(told["goals"], "goals")
    days_past = reader.take(goals, "days_past_latest_in", "goals", number)
    money = reader.take(goals, "money", "goals", number)
    demand = {}
    weeks = reader.read(told["weeks"], "weeks", items) if "weeks" in told else None
    for place, entry in enumerate(weeks or []):
        where = f"weeks[{place}]"
        load = reader.object_of(entry, where)
        week, skill = (reader.take(load, key, where, text) for key in ("week", "skill"))
        asked = reader.take(load, "demand", where, number)
        if week is not None and skill is not None and asked is not None:
            demand[week, skill] = asked
    if days_past is None or money is None:
        return None
    return Stated(days_past, money, demand)


def _made(reader: JsonReader, entry: object) -> Made | None:
    told = reader.object_of(entry, "made")
    version = reader.take(told, "version", "made", text)
    when = reader.take(told, "time", "made", _moment)
    base = reader.take(told, "base", "made", text)
    from_day = reader.take(told, "work_counts_from", "made", _day_or_none)
    held = _names(reader, reader.take(told, "held", "made", items), "made.held")
    sheets = reader.object_of(told.get("workbook"), "made.workbook")
    workbook = {
        sheet: {
            name: reader.read(mark, f"made.workbook.{sheet}.{name}", text) or ""
            for name, mark in reader.object_of(names, f"made.workbook.{sheet}").items()
        }
        for sheet, names in sheets.items()
    }
    if version is None or when is None or base is None:
        return None
    entries = reader.read(told["work_done"], "made.work_done", items) if "work_done" in told else []
    done = [_work_done(reader, e, f"made.work_done[{n}]") for n, e in enumerate(entries or [])]
    work_done = tuple(one for one in done if one is not None)
    return Made(version, when, base, from_day, held, workbook, work_done)


def _work_done(reader: JsonReader, entry: object, where: str) -> WorkDone | None:
    told = reader.object_of(entry, where)
    check = reader.take(told, "check", where, text)
    stage = reader.take(told, "stage", where, text)
    first = reader.take(told, "from", where, day)
    before = reader.take(told, "before", where, day)
    entries = reader.take(told, "hours", where, items)
    found = [_hours(reader, one, f"{where}.hours[{n}]") for n, one in enumerate(entries or [])]
    if check is None or stage is None or first is None or before is None:
        return None
    hours = []
    for one in found:
        monday = None if one is None else monday_of_week(one.week)
        if one is not None and monday is not None:
            if one.hours < 0:
                reader.fault(where, f"{one.hours:g} man-hours of {one.skill} are less than none.")
            hours.append(DoneHours(one.skill, monday, one.hours))
    return WorkDone(check, stage, first, before, tuple(hours))


def _moment(value: object) -> datetime:
    try:
        found = datetime.fromisoformat(text(value))
        return found.astimezone(UTC) if found.tzinfo else found.replace(tzinfo=UTC)
    except (ValueError, OverflowError) as fault:
        raise ValueError("a time such as 2027-01-31T09:30:00Z is wanted here.") from fault


def _day_or_none(value: object) -> date | None:
    return None if value is None else day(value)
