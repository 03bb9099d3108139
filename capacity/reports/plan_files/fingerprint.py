"""What a workbook says, as short hashes by sheet and name: to tell later what has changed.

Hashed are the values as they were read, and only those that are not what an empty cell would
mean: formats, the order of columns and of named rows, columns that are not known, and the kind of
file make no difference, and a column that a later version of this program knows makes none
either until it is filled in.
"""

import json
from collections.abc import Callable, Iterable, Mapping
from dataclasses import MISSING, fields, is_dataclass
from datetime import date, time
from enum import Enum
from hashlib import blake2b

from capacity.facts import Base, Package
from capacity.words import day

Fingerprint = Mapping[str, Mapping[str, str]]
"""The hash of every name, by sheet; what has no name of its own goes by what it belongs to."""

BYTES_OF_A_HASH = 4
"""One change in four thousand million would go unseen; the figures are compared all the same."""

NOT_IN_THE_WORKBOOK = ("work_counts_from", "work_done")

HEADINGS = {
    "name": "Base",
    "working_weekdays": "Working days",
    "productivity": "Productivity %",
    "counts_days": "Man-hours counted by",
    "working_time_rules": "Working-time rules",
    "working_time_mode": "Working-time mode",
    "man_hour_plan_name": "Man-hour plan name",
    "own_staff_share_rule": "Own-staff share rule",
}
"""Settings whose field does not read like their name in the sheet Base."""

_NAMED: tuple[tuple[str, Callable[[Base], Iterable[tuple[str, object]]]], ...] = (
    ("Skills", lambda base: ((skill.name, skill) for skill in base.skills)),
    ("Bays", lambda base: ((bay.name, bay) for bay in base.bays)),
    ("Bay closures", lambda base: ((closure.bay, closure) for closure in base.closures)),
    ("Aircraft types", lambda base: ((aircraft.name, aircraft) for aircraft in base.types)),
    ("Packages", lambda base: ((p.name, _without_hours(p)) for p in base.packages)),
    ("Package hours", lambda base: ((p.name, _hours(p)) for p in base.packages)),
    ("Checks", lambda base: ((check.name, check) for check in base.checks)),
    ("Progress", lambda base: ((row.check, row) for row in base.progress)),
    ("Extra work", lambda base: ((row.check, row) for row in base.extra_work)),
    ("Ready dates", lambda base: ((row.check, row) for row in base.ready_dates)),
    ("Crews", lambda base: ((crew.name, crew) for crew in base.crews)),
    ("Shift patterns", lambda base: ((pattern.name, pattern) for pattern in base.patterns)),
    ("Shifts", lambda base: ((shift.name, shift) for shift in base.shifts)),
    ("Absence", lambda base: ((absence.crew, absence) for absence in base.absences)),
    ("Base calendar", lambda base: ((day(own.first), own) for own in base.calendar_days)),
    ("Licences", lambda base: ((licence.crew, licence) for licence in base.licences)),
    ("Equipment", lambda base: ((pool.name, pool) for pool in base.equipment)),
    ("Equipment outages", lambda base: ((o.equipment, o) for o in base.equipment_outages)),
    ("Shops", lambda base: ((shop.name, shop) for shop in base.shops)),
    ("Shop loops", lambda base: ((loop.package, loop) for loop in base.shop_loops)),
    ("Functions", lambda base: ((staff.function.value, staff) for staff in base.functions)),
    ("Function absence", lambda base: ((a.function.value, a) for a in base.function_absences)),
)


def fingerprint_of(base: Base) -> Fingerprint:
    """Return the hashes of all sheets that say anything."""
    found = {"Base": {name: _hash([value]) for name, value in _settings(base)}}
    for sheet, named in _NAMED:
        by_name: dict[str, list[object]] = {}
        for name, fact in named(base):
            by_name.setdefault(name, []).append(fact)
        if by_name:
            found[sheet] = {name: _hash(facts) for name, facts in by_name.items()}
    return found


def _settings(base: Base) -> Iterable[tuple[str, object]]:
    """Return the settings of the sheet Base that are not at their defaults."""
    for field in fields(base):
        value = getattr(base, field.name)
        is_table = isinstance(value, tuple) and field.name not in HEADINGS
        if is_table or field.name in NOT_IN_THE_WORKBOOK or value == field.default:
            continue
        yield HEADINGS.get(field.name, field.name.replace("_", " ").capitalize()), value


def _without_hours(package: Package) -> object:
    """Return all that the sheet Packages says of a package, its stages in order."""
    stages: list[object] = [
        {key: value for key, value in _filled(stage).items() if key != "man_hours"}
        for stage in package.stages
    ]
    return [*stages, *([package.material_cost] if package.material_cost else [])]


def _hours(package: Package) -> object:
    return {
        stage.name: {skill: hours for skill, hours in stage.man_hours.items() if hours}
        for stage in package.stages
        if any(stage.man_hours.values())
    }


def _hash(facts: list[object]) -> str:
    text = "\n".join(sorted(json.dumps(_plain(fact), sort_keys=True) for fact in facts))
    return blake2b(text.encode("utf-8"), digest_size=BYTES_OF_A_HASH).hexdigest()


def _filled(fact: object) -> dict[str, object]:
    """Return the fields of a fact that are not what they are when nothing is said."""
    assert is_dataclass(fact)
    filled = {}
    for field in fields(fact):
        default = field.default
        if default is MISSING and field.default_factory is not MISSING:
            default = field.default_factory()
        value = getattr(fact, field.name)
        if value != default:
            filled[field.name] = value
    return filled


def _plain(value: object) -> object:
    """Return a value as JSON can have it, alike for alike values."""
    match value:
        case bool() | None:
            return value
        case Enum():
            return str(value.value)
        case int() | float():
            return f"{float(value):.12g}"  # a percentage may be off in its last digit
        case date() | time():
            return value.isoformat()
        case frozenset():
            return sorted(str(_plain(one)) for one in value)
        case tuple() | list():
            return [_plain(one) for one in value]
        case Mapping():
            return {str(key): _plain(one) for key, one in value.items()}
        case _ if is_dataclass(value):
            return _plain(_filled(value))
        case _:
            return str(value)
