"""Read the plan of a summary back, so that a person can ask about it later."""

import json
from collections.abc import Callable, Collection, Iterator
from datetime import date, timedelta
from os import PathLike
from pathlib import Path
from typing import TypeVar
from unicodedata import category

from capacity.errors import InputError
from capacity.facts import Base, Status
from capacity.findings import Finding, Level
from capacity.inputs.wording import suggest
from capacity.plans.audit import audit
from capacity.plans.plan import Placement, Plan, StageDays

MOST_BYTES = 20_000_000
"""A plan of thousands of checks has a tenth of them."""

LONGEST_NAME = 200
FIRST_YEAR, LAST_YEAR = 1990, 2110
"""What the workbook takes, with room for checks that came in before and go out after."""

WRITE_ANEW = "Write the summary anew with this program, and do not change it by hand."

_BREAKING = {"Cc", "Cs", "Zl", "Zp"}  # which no name of a workbook has

T = TypeVar("T")


def plan_from_summary(source: str | PathLike[str], base: Base) -> Plan:
    """Return the plan of a summary; it keeps every rule of the base.

    ``source`` is the path of a summary, or its text, which begins with a brace. Options of
    the base that are not placed are refused. The figures of the summary are not read: they
    follow from plan and base.

    Raises
    ------
    InputError
        When the file cannot be read as a summary of a plan, names what the base does not
        have, or the plan breaks rules of the base; its ``findings`` hold everything.
    """
    written = plan_as_written(source)
    known = {check.name: check for check in base.checks}
    if findings := list(_unknown_names(written, base)):
        raise InputError(findings)
    placed = {placement.check for placement in written.placements}
    options = [c.name for c in known.values() if c.status is Status.OPTION]
    plan = Plan(
        placements=written.placements,
        not_placed=written.not_placed,
        refused=tuple(name for name in options if name not in placed),
    )
    if broken := audit(plan, base).broken:
        remedy = "Plan again, or give the base for which the plan was made."
        raise InputError([_error("placements", sentence, remedy) for sentence in broken])
    return plan


def plan_as_written(source: str | PathLike[str]) -> Plan:
    """Return the plan that a summary states, whatever base it was made for.

    A summary does not name refused options; ``refused`` is empty.

    Raises
    ------
    InputError
        When the file cannot be read as a summary of a plan.
    """
    reader = _Reader()
    told = reader.object_of(_parsed(source), "the summary")
    outcome = reader.take(told, "outcome", "", _text)
    if outcome not in (None, "planned"):
        what = f"the outcome is '{outcome}': there is no plan in it."
        reader.fault("outcome", what, "Give the summary of a plan that was made.")
    placements = []
    for number, entry in enumerate(reader.take(told, "placements", "", _list) or []):
        placement = _placement(reader, entry, f"placements[{number}]")
        placements += [] if placement is None else [placement]
    not_placed = []
    for number, entry in enumerate(reader.take(told, "not_placed", "", _list) or []):
        name = reader.read(entry, f"not_placed[{number}]", _text)
        not_placed += [] if name is None else [name]
    if reader.findings:
        raise InputError(reader.findings)
    in_turn = sorted(placements, key=lambda p: (p.in_day, p.out_day, p.bay))
    return Plan(tuple(in_turn), tuple(not_placed))


def _parsed(source: str | PathLike[str]) -> object:
    if isinstance(source, str) and source.lstrip().startswith("{"):
        name, text = "the summary", source
    else:
        path = Path(source)
        name = path.name or str(path)
        try:
            with path.open("rb") as file:
                content = file.read(MOST_BYTES + 1)
            if len(content) > MOST_BYTES:
                what = f"the file has more than {MOST_BYTES // 1_000_000} MB."
                raise InputError([_error(name, what, "Give the summary of one plan.")])
            text = content.decode(encoding="utf-8-sig")
        except UnicodeDecodeError as fault:
            raise InputError([_error(name, "the file is not in UTF-8.", WRITE_ANEW)]) from fault
        except (OSError, ValueError) as fault:
            what = f"the file cannot be opened ({getattr(fault, 'strerror', None) or fault})."
            remedy = "Check the name, and that it may be read."
            raise InputError([_error(name, what, remedy)]) from fault
    try:
        return json.loads(text)
    except json.JSONDecodeError as fault:
        where = f"{name}, line {fault.lineno} column {fault.colno}"
        raise InputError([_error(where, f"it is not JSON ({fault.msg}).", WRITE_ANEW)]) from fault
    except ValueError as fault:  # a whole number of thousands of digits
        raise InputError(
            [_error(name, "it holds a number too long to read.", WRITE_ANEW)]
        ) from fault
    except RecursionError as fault:
        raise InputError([_error(name, "it is nested too deeply.", WRITE_ANEW)]) from fault


class _Reader:
    """Takes values out of parsed JSON; whatever is wrong is kept with its place."""

    def __init__(self) -> None:
        self.findings: list[Finding] = []

    def fault(self, where: str, what: str, remedy: str = WRITE_ANEW) -> None:
        self.findings.append(_error(where, what, remedy))

    def object_of(self, value: object, where: str) -> dict[str, object]:
        if isinstance(value, dict):
            return value
        self.fault(where, "an object in braces is wanted here.")
        return {}

    def take(
        self, told: dict[str, object], key: str, where: str, reads: Callable[[object], T]
    ) -> T | None:
        """Return what stands under a key, None when it is missing or faulty."""
        place = f"{where}.{key}" if where else key
        if key not in told:
            if told or not where:  # that it is no object at all has been said
                self.fault(place, "it is missing.")
            return None
        return self.read(told[key], place, reads)

    def read(self, value: object, where: str, reads: Callable[[object], T]) -> T | None:
        try:
            return reads(value)
        except ValueError as fault:
            self.fault(where, str(fault))
            return None


def _placement(reader: _Reader, entry: object, where: str) -> Placement | None:
    told = reader.object_of(entry, where)
    check = reader.take(told, "check", where, _text)
    bay = reader.take(told, "bay", where, _text)
    stage_from = reader.take(told, "stage_from", where, _text)
    in_day = reader.take(told, "in", where, _day)
    out_day = reader.take(told, "out", where, _day)
    entries = reader.take(told, "stages", where, _list)
    stages = [_stage(reader, s, f"{where}.stages[{n}]") for n, s in enumerate(entries or [])]
    if check is None or bay is None or stage_from is None or in_day is None or out_day is None:
        return None
    if out_day < in_day:
        reader.fault(f"{where}.out", f"the out day {out_day} is before the in day {in_day}.")
    done = tuple(stage for stage in stages if stage is not None)
    return Placement(check, bay, stage_from, in_day, out_day, done)


def _stage(reader: _Reader, entry: object, where: str) -> StageDays | None:
    told = reader.object_of(entry, where)
    name = reader.take(told, "stage", where, _text)
    first = reader.take(told, "from", where, _day)
    last = reader.take(told, "to", where, _day)
    if name is None or first is None or last is None:
        return None
    if last < first:
        reader.fault(f"{where}.to", f"the last day {last} is before the first day {first}.")
    # As in every pair of from and to, both days are included.
    return StageDays(name, first, last + timedelta(days=1))


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise ValueError("text is wanted here.")
    if len(value) > LONGEST_NAME or any(category(mark) in _BREAKING for mark in value):
        what = f"text of at most {LONGEST_NAME} characters on one line is wanted here."
        raise ValueError(what)
    return value


def _list(value: object) -> list[object]:
    if not isinstance(value, list):
        raise ValueError("a list in square brackets is wanted here.")
    return value


def _day(value: object) -> date:
    try:
        day = date.fromisoformat(_text(value))
    except ValueError as fault:
        raise ValueError("a date such as 2027-01-31 is wanted here.") from fault
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        raise ValueError(f"a date of the years {FIRST_YEAR} to {LAST_YEAR} is wanted here.")
    return day


def _unknown_names(plan: Plan, base: Base) -> Iterator[Finding]:
    checks = {check.name for check in base.checks}
    bays = {bay.name for bay in base.bays}
    stages = {stage.name for package in base.packages for stage in package.stages}
    asked: list[tuple[str, Collection[str], str, str]] = []
    for place, placement in enumerate(plan.placements):
        where = f"placements, {placement.check or f'number {place + 1}'}"
        asked.append((placement.check, checks, "Checks", where))
        asked.append((placement.bay, bays, "Bays", where))
        asked += [(stage.stage, stages, "Packages", where) for stage in placement.stages]
    asked += [(name, checks, "Checks", "not_placed") for name in plan.not_placed]
    for name, known, sheet, where in dict.fromkeys(
        (name, frozenset(known), sheet, where) for name, known, sheet, where in asked
    ):
        if name not in known:
            what = f"'{name}' is not in the sheet {sheet} of the base."
            yield _error(where, what, suggest(name, known, f"the sheet {sheet}"))


def _error(where: str, what: str, remedy: str) -> Finding:
    return Finding(Level.ERROR, where, what, remedy)
