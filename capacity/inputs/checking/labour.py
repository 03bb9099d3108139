"""Cross checks of skills, crews, absences and holidays."""

from collections import defaultdict
from collections.abc import Iterator
from datetime import timedelta

from capacity.inputs.checking.references import is_unknown
from capacity.inputs.checking.stay import ONE_DAY, holidays_of
from capacity.inputs.checking.work_left import work_left
from capacity.inputs.reading.facts_from_rows import NOTHING
from capacity.inputs.reading.rows import Sheets
from capacity.inputs.reading.sheets import (
    AbsenceRow,
    CheckRow,
    CrewRow,
    PatternRow,
    ShiftRow,
    SkillRow,
    TypeRow,
)
from capacity.messages import Level, Message
from capacity.words import day as as_day

DAYS_IN_WEEK = 7
TAIL = timedelta(days=60)  # how far past the last in day estimated holidays are looked for


def caps_have_costs(sheets: Sheets) -> Iterator[Message]:
    """Require a price of hours that may be bought."""
    for row in sheets[SkillRow].rows:
        for kind in ("overtime", "contract"):
            if getattr(row, f"{kind}_cap") > 0 and not getattr(row, f"{kind}_cost"):
                yield Message(
                    Level.ERROR,
                    sheets.at(row, f"{kind}_cost"),
                    f"the skill '{row.skill}' has a {kind} cap, but no {kind} cost.",
                    f"Give the cost of a man-hour, or set {row.heading(f'{kind}_cap')} to 0.",
                )


def overload_is_the_last_resort(sheets: Sheets) -> Iterator[Message]:
    """Require overload to be more expensive than any hours that can be bought."""
    if sheets.settings is None:
        return
    overload = sheets.settings.overload_cost
    for row in sheets[SkillRow].rows:
        for kind in ("overtime", "contract"):
            cost = getattr(row, f"{kind}_cost")
            if cost > overload:
                yield Message(
                    Level.ERROR,
                    sheets.at(row, f"{kind}_cost"),
                    f"the {kind} cost of {cost:g} of the skill '{row.skill}' is above the "
                    f"Overload cost of {overload:g} in {sheets.at_setting('overload_cost')}; "
                    "overload is meant as the last resort.",
                    "Raise the Overload cost, or correct the cost of the skill.",
                )


def contract_crews_have_costs(sheets: Sheets) -> Iterator[Message]:
    """Require a contract cost of every skill of each contract crew."""
    skills = {row.skill: row for row in sheets[SkillRow].rows}
    for crew in sheets[CrewRow].rows:
        for skill in (skills.get(name) for name in crew.skills):
            if crew.employment == "contract" and skill and not skill.contract_cost:
                yield Message(
                    Level.ERROR,
                    sheets.at(skill, "contract_cost"),
                    f"the contract crew '{crew.crew}' works in the skill '{skill.skill}', which "
                    "has no contract cost.",
                    "Give the cost of a man-hour.",
                )


def guarantees_are_of_contract_crews(sheets: Sheets) -> Iterator[Message]:
    """Require that only contract crews are guaranteed hours; warn of more than a crew has."""
    hours = {row.shift: row.hours for row in sheets[ShiftRow].rows}
    cycles = {row.pattern: row.cycle for row in sheets[PatternRow].rows}
    for crew in sheets[CrewRow].rows:
        if not crew.guaranteed:
            continue
        where, cycle = sheets.at(crew, "guaranteed"), cycles.get(crew.pattern, ())
        if crew.employment != "contract":
            yield Message(
                Level.ERROR,
                where,
                f"the crew '{crew.crew}' is employed; only contract crews are guaranteed hours.",
                "Clear it, or make the crew a contract crew.",
            )
        elif sheets.settings and cycle and all(s == NOTHING or s in hours for s in cycle):
            a_head = DAYS_IN_WEEK * sum(hours.get(shift, 0.0) for shift in cycle) / len(cycle)
            most = crew.heads * a_head * sheets.settings.productivity
            if crew.guaranteed > most:
                yield Message(
                    Level.WARNING,
                    where,
                    f"the crew '{crew.crew}' is guaranteed {crew.guaranteed:,.1f} man-hours a "
                    f"week, but gives {most:,.1f} on average; the rest is paid and never worked.",
                    "Give man-hours of the whole crew, after productivity.",
                )


def types_have_crews(sheets: Sheets) -> Iterator[Message]:
    """Warn of a skill asked for on a type on which no crew that has it is authorised."""
    if not sheets[CrewRow].whole:
        return
    crews = [crew for crew in sheets[CrewRow].rows if crew.heads]
    left = work_left(sheets)
    asked: dict[tuple[str, str], CheckRow] = {}
    for check in sheets[CheckRow].rows:
        if check.row in left and check.type in sheets[TypeRow].named:
            for skill in left[check.row].skills():
                asked.setdefault((check.type, skill), check)
    for (type_, skill), check in asked.items():
        able = [crew for crew in crews if skill in crew.skills]
        if able and not any(_is_authorised(sheets, crew, type_) for crew in able):
            yield Message(
                Level.WARNING,
                sheets.at(able[0], "types"),
                f"no crew with the skill '{skill}' is authorised on the type '{type_}', on which "
                f"the check '{check.check}' needs it; only overtime, contract hours or "
                "overload can do that work.",
                f"Add '{type_}' to Types of a crew that is authorised on it, or correct "
                f"{sheets.at(check, 'type')}.",
            )


def _is_authorised(sheets: Sheets, crew: CrewRow, type_: str) -> bool:
    """Whether a crew may work on a type; one with a misspelt type counts as if on all."""
    return (
        not crew.types
        or type_ in crew.types
        or any(is_unknown(sheets, name, TypeRow) for name in crew.types)
    )


def patterns_have_shifts(sheets: Sheets) -> Iterator[Message]:
    """Warn of a pattern in which nobody ever works."""
    for row in sheets[PatternRow].rows:
        if set(row.cycle) == {NOTHING}:
            yield Message(
                Level.WARNING,
                sheets.at(row, "cycle"),
                f"the pattern '{row.pattern}' has only days off; its crews have no man-hours.",
                "Put the shifts into its cycle.",
            )


def absences_lie_within_heads(sheets: Sheets) -> Iterator[Message]:
    """Warn of days on which more heads of a crew are away than it has.

    The number away is highest on the first day of some absence, so only those are looked at.
    """
    heads = {crew.crew: crew.heads for crew in sheets[CrewRow].rows}
    absences: defaultdict[str, list[AbsenceRow]] = defaultdict(list)
    for absence in sheets[AbsenceRow].rows:
        if absence.crew in heads and absence.first <= absence.last:
            absences[absence.crew].append(absence)
    for crew, rows in absences.items():
        away = 0.0
        ends = sorted(rows, key=lambda row: row.last, reverse=True)
        for row in sorted(rows, key=lambda row: row.first):
            while ends[-1].last < row.first:
                away -= ends.pop().heads
            away += row.heads
            if away > heads[crew] + 1e-9:  # heads may be parts of a person
                yield Message(
                    Level.WARNING,
                    sheets.at(row, "heads"),
                    f"on {as_day(row.first)}, {away:g} heads of the crew '{crew}' are away, but "
                    "it has "
                    f"{heads[crew]}; it counts as nobody present.",
                    "Correct the absences or the heads of the crew.",
                )


def crews_are_there(sheets: Sheets) -> Iterator[Message]:
    """Warn of a crew that is never there in the plan, and of absences while it is not."""
    plan = sheets.settings
    crews = {crew.crew: crew for crew in sheets[CrewRow].rows}
    for crew in crews.values():
        if plan is not None and crew.last is not None and crew.last < plan.first_day:
            yield Message(
                Level.WARNING,
                sheets.at(crew, "last"),
                f"the crew '{crew.crew}' is there until {as_day(crew.last)}, before the First day "
                f"{as_day(plan.first_day)}; it gives no man-hours.",
                "Correct To, or leave the crew out.",
            )
    for row in sheets[AbsenceRow].rows:
        there = crews.get(row.crew)
        if there is None or row.first > row.last:
            continue
        late = there.last is not None and row.first > there.last
        if late or (there.first is not None and row.last < there.first):
            yield Message(
                Level.WARNING,
                sheets.at(row, "first"),
                f"the crew '{row.crew}' is not there on the days of this absence, by From and To "
                f"in row {there.row} of the sheet Crews.",
                "Correct the absence, or leave it out.",
            )


def estimated_holidays(sheets: Sheets) -> Iterator[Message]:
    """Note the holidays that follow the moon, whose dates are known to a day or so."""
    settings = sheets.settings
    if settings is None or settings.holidays is None:
        return
    closed = holidays_of(settings.holidays)
    day, last = settings.first_day, settings.last_in_day + TAIL
    estimated = []
    while day <= last:
        name = closed.get(day)
        if name and "(estimated)" in name and day.weekday() in settings.working_days:
            estimated.append(f"{as_day(day)} {name}")
        day += ONE_DAY
    if estimated:
        yield Message(
            Level.NOTE,
            sheets.at_setting("holidays"),
            f"the dates of some holidays are estimates: {'; '.join(estimated)}.",
            "Check them nearer the time.",
        )
