"""An aircraft on ground described in one line: type, days, man-hours by skill, and little more.

    "Linden 180; 12 days; Airframe 300, Avionics 80; name R-77; latest in 2027-02-03"

Parts are parted by semicolons. The type comes first; the others in any order: the days that the
base works on it, the man-hours of each skill, and, where wanted, what ``WORDED`` names. It becomes
a check with a package of its own, of one stage.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date

from capacity.errors import InputError
from capacity.facts import Base, Check, Package, Stage, Status
from capacity.inputs.reading.places import same
from capacity.inputs.wording import suggest
from capacity.messages import Level, Message, error
from capacity.words import day, listed, quoted

EXAMPLE = "Write it such as 'Linden 180; 12 days; Airframe 300, Avionics 80'."
STAGE, WORK = "Work", "maintenance"
MOST_DAYS, MOST_HOURS, MOST_HEADS, MOST_COST = 365, 200_000.0, 500, 1e9

WORDED = (
    "name", "aircraft", "customer", "work", "max heads", "latest in", "agreed out", "late cost",
)  # fmt: skip
"""The words with which a part may begin."""

_DAYS = re.compile(r"(\S+)\s*(?:days?|d)", re.IGNORECASE)
_HOURS = re.compile(r"(.+?)\s+(\S+?)\s*(?:h|hours?)?", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class OnGround:
    """An aircraft on ground as a check, and the package of its own that it has."""

    check: Check
    package: Package


@dataclass
class _Told:
    """What the parts of a line say; None and empty where they say nothing."""

    type: str = ""
    days: int | None = None
    hours: dict[str, float] = field(default_factory=dict)
    worded: dict[str, str] = field(default_factory=dict)


def aircraft_on_ground(
    lines: Sequence[str],
    base: Base,
    earliest: date,
    *,
    latest: date | None = None,
    status: Status = Status.BOOKED,
) -> tuple[OnGround, ...]:
    """Return each aircraft described in a line, as a check that may come in from ``earliest`` on.

    Where a line names no ``latest in`` it is ``latest``, or ``earliest`` itself: then each day
    that it waits counts as one past ``Latest in``.

    Raises
    ------
    InputError
        With everything that is wrong with any of the lines.
    """
    messages: list[Message] = []
    taken = {check.name for check in base.checks} | {package.name for package in base.packages}
    found = []
    for number, line in enumerate(lines, start=1):
        where = "aircraft on ground" if len(lines) == 1 else f"aircraft on ground {number}"
        one = _one(line, where, base, earliest, latest or earliest, status, taken, messages)
        if one is not None:
            taken |= {one.check.name, one.package.name}
            found.append(one)
    if messages:
        raise InputError(messages)
    return tuple(found)


def with_aircraft_on_ground(base: Base, lines: Sequence[str], today: date) -> Base:
    """Return the base with each aircraft described in a line as a booked check.

    Raises ``InputError`` as ``aircraft_on_ground`` does.
    """
    found = aircraft_on_ground(lines, base, today)
    return base.replace(
        packages=(*base.packages, *(one.package for one in found)),
        checks=(*base.checks, *(one.check for one in found)),
    )


def _one(
    line: str,
    where: str,
    base: Base,
    earliest: date,
    latest: date,
    status: Status,
    taken: set[str],
    messages: list[Message],
) -> OnGround | None:
    before = len(messages)
    told = _read(line, where, base, messages)
    name = told.worded.get("name") or _free_name(taken)
    package = f"{name} work"
    if taken & {name, package}:
        what = f"'{name}' is already a check or a package in the workbook."
        messages.append(error(where, what, "Give it a name of its own: 'name R-77'."))
    types = {aircraft.name for aircraft in base.types}
    if told.type and told.type not in types:
        what = f"'{told.type}' is not in the sheet Aircraft types."
        remedy = suggest(told.type, types, "the sheet Aircraft types")
        messages.append(error(where, what, f"{remedy} The type comes first."))
    is_read = len(messages) == before
    for is_there, wanted in (
        (told.type, "its type"),
        (told.days, "the days of work, such as '12 days'"),
        (told.hours, "the man-hours of a skill, such as 'Airframe 300'"),
    ):
        if is_read and not is_there:
            messages.append(error(where, f"it does not say {wanted}.", EXAMPLE))
    work = told.worded.get("work", WORK)
    kinds = {kind for bay in base.bays for kind in bay.work}
    if work not in kinds:
        what = f"no bay does '{work}'."
        messages.append(
            error(where, what, f"Name a kind of work that one does: {quoted(sorted(kinds))}.")
        )
    heads = _number("max heads", told, where, MOST_HEADS, messages, whole=True)
    late_cost = _number("late cost", told, where, MOST_COST, messages)
    latest_in = _date("latest in", told, where, messages) or latest
    agreed_out = _date("agreed out", told, where, messages)
    if latest_in < earliest:
        what = (
            f"Latest in {day(latest_in)} is before {day(earliest)}, the first day it may come in."
        )
        messages.append(error(where, what, "Name a later day."))
    if agreed_out is not None and agreed_out <= earliest:
        what = f"Agreed out {day(agreed_out)} is not after {day(earliest)}, when it may come in."
        messages.append(error(where, what, "Name a later day."))
    if len(messages) > before:
        return None
    assert told.days is not None
    stage = Stage(
        STAGE, work, told.days, dict(told.hours), max_heads=None if heads is None else int(heads)
    )
    check = Check(
        name=name,
        aircraft=told.worded.get("aircraft", name),
        type=told.type,
        package=package,
        status=status,
        earliest_in=earliest,
        latest_in=latest_in,
        customer=told.worded.get("customer", ""),
        agreed_out=agreed_out,
        late_cost_per_day=late_cost or 0.0,
    )
    return OnGround(check, Package(package, (stage,), (told.type,)))


def _read(line: str, where: str, base: Base, messages: list[Message]) -> _Told:
    """Return what the parts say; what cannot be read has a message, part by part."""
    first, *others = [part.strip() for part in line.split(";")]
    told = _Told(type=first)
    if not first:
        messages.append(error(where, "it does not begin with a type.", EXAMPLE))
    skills = {same(skill.name): skill.name for skill in base.skills}
    for part in filter(None, others):
        word = next((w for w in WORDED if re.match(rf"{w}\b", part, re.IGNORECASE)), None)
        days = _DAYS.fullmatch(part)
        if word is not None and not _is_hours(part, skills):
            value = part[len(word) :].strip().removeprefix(":").strip()
            if not value:
                messages.append(error(where, f"'{part}' says nothing.", f"Write '{word} ...'."))
            elif word in told.worded:
                messages.append(error(where, f"'{word}' is said twice.", "Leave one out."))
            told.worded.setdefault(word, value)
        elif days is not None and not _is_hours(part, skills):
            _read_days(part, days[1], told, where, messages)
        else:
            for one in part.split(","):
                _read_hours(one.strip(), told, where, skills, messages)
    return told


def _is_hours(part: str, skills: dict[str, str]) -> bool:
    """Return whether every piece of a part is a known skill with a number."""
    pieces = [_HOURS.fullmatch(piece.strip()) for piece in part.split(",")]
    return all(p is not None and same(p[1]) in skills and _as_number(p[2]) for p in pieces)


def _read_days(part: str, value: str, told: _Told, where: str, messages: list[Message]) -> None:
    number = _as_number(value)
    if number is None or number != int(number) or not 1 <= number <= MOST_DAYS:
        what = f"'{part}' is no number of days."
        messages.append(error(where, what, f"Write whole days from 1 to {MOST_DAYS}: '12 days'."))
    elif told.days is not None:
        messages.append(error(where, "the days are said twice.", "Leave one out."))
    else:
        told.days = int(number)
        return
    told.days = told.days or 1  # so that they are not missed as well


def _read_hours(
    piece: str, told: _Told, where: str, skills: dict[str, str], messages: list[Message]
) -> None:
    pair = _HOURS.fullmatch(piece)
    number = _as_number(pair[2]) if pair else None
    if pair is None or number is None:
        what = f"'{piece}' cannot be read."
        remedy = (
            "Write man-hours as skill and number, 'Airframe 300', days as '12 days', or begin with "
            f"{listed([f'{word!r}' for word in WORDED], 'or')}; a decimal has a point."
        )
        messages.append(error(where, what, remedy))
    elif same(pair[1]) not in skills:
        what = f"'{pair[1]}' is not in the sheet Skills."
        names = [*skills.values()]
        messages.append(error(where, what, suggest(pair[1], names, "the sheet Skills")))
    elif not 0 < number <= MOST_HOURS:
        what = f"'{piece}': {pair[2]} is no number of man-hours."
        messages.append(error(where, what, f"Give one above 0, at most {MOST_HOURS:,.0f}."))
    elif skills[same(pair[1])] in told.hours:
        what = f"the man-hours of '{skills[same(pair[1])]}' are said twice."
        messages.append(error(where, what, "Add them up, or leave one out."))
    else:
        told.hours[skills[same(pair[1])]] = number


def _number(
    word: str, told: _Told, where: str, most: float, messages: list[Message], *, whole: bool = False
) -> float | None:
    if word not in told.worded:
        return None
    number = _as_number(told.worded[word])
    if number is None or not 0 < number <= most or (whole and number != int(number)):
        kind = "a whole number" if whole else "a number"
        what = f"'{word} {told.worded[word]}' is not {kind} above 0 and up to {most:,.0f}."
        messages.append(error(where, what, "Correct it, or leave it out."))
        return None
    return number


def _date(word: str, told: _Told, where: str, messages: list[Message]) -> date | None:
    if word not in told.worded:
        return None
    try:
        found = date.fromisoformat(told.worded[word])
        if 2000 <= found.year <= 2099:
            return found
    except ValueError:
        pass
    what = f"'{word} {told.worded[word]}' is no day."
    messages.append(error(where, what, f"Write it such as '{word} 2027-02-03'."))
    return None


def _as_number(value: str) -> float | None:
    return float(value) if re.fullmatch(r"\d{1,12}(\.\d{1,6})?", value) else None


def _free_name(taken: set[str]) -> str:
    return next(
        name
        for name in (f"AOG-{number}" for number in range(1, len(taken) + 2))
        if not taken & {name, f"{name} work"}
    )


def notes_on(found: Sequence[OnGround], earliest: date) -> Iterator[Message]:
    """Yield what is taken for granted of aircraft on ground that a person may want otherwise."""
    for one in found:
        if one.check.latest_in == earliest:
            what = (
                f"its Latest in is {day(earliest)}: each day that it waits counts as a day past "
                "Latest in, which goes before all costs."
            )
            remedy = "Add 'latest in' and a later day if it may wait."
            yield Message(Level.NOTE, one.check.name, what, remedy)
