"""The crew workbook: shift lists to pin to a wall, overtime by crew, what is short, what moved."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby
from math import fsum
from pathlib import Path

from capacity.cautions.applying import cautions_of_stage
from capacity.crews.assign import Staffed
from capacity.crews.crew_plan import Short, StageHours, StageMove
from capacity.facts import Base, Stage
from capacity.plans.plan import Plan
from capacity.plans.weeks import monday_of, week_name
from capacity.plans.worked_days import WorkedDays
from capacity.reports.crews.people_by_stage import people_by_stage
from capacity.reports.crews.text import goal_lines
from capacity.reports.crews.wording import bought_in_words
from capacity.reports.kit.formats import (
    BOLD,
    DATE,
    HOURS,
    HOURS_OR_DASH,
    NOTE,
    PEOPLE,
    SECTION,
    SIGNED_DAYS,
    TITLE,
    WRAPPED,
)
from capacity.reports.kit.sheet import Book, Sheet
from capacity.reports.kit.table import Column, table_points, write_sheet_table, write_table
from capacity.reports.kit.whole_file import write_whole
from capacity.reports.plan.wording import CAUTION
from capacity.words import day as as_day
from capacity.words import percent

SHARED_PEOPLE = (
    "People may share their shift between aircraft: 2.25 people are two for the whole shift and "
    "one for a quarter of it. A crew's people on one aircraft are shared between its stages in "
    "quarters, by man-hours, and go from one stage to the next. Hours are booked man-hours. A "
    "stage that starts or ends in the course of the day, handovers and breaks are for the lead "
    "to arrange."
)

PRESENT = "no hours booked: there for the licence, or as the second person on critical work"


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a shift list: what a crew does on one stage of one aircraft."""

    bay: str
    aircraft: str
    check: str
    stage: str
    skill: str
    crew: str
    people: float
    hours: float
    overtime: float
    remarks: str


@dataclass(frozen=True, slots=True)
class ShiftList:
    """Everything that is to be done in one shift, in order of bay and stage."""

    day: date
    shift: str
    begins: str
    lines: tuple[Line, ...]
    shortened: str = ""

    @property
    def title(self) -> str:
        """The day, the shift and its start; on a shortened day the share of its hours."""
        begins = f"{as_day(self.day)}, shift {self.shift} from {self.begins}"
        return f"{begins}, {self.shortened}" if self.shortened else begins


@dataclass(frozen=True, slots=True)
class CrewWeek:
    """A crew's week in a crew plan, in man-hours."""

    week: str
    crew: str
    employment: str
    given: float
    overtime: float
    aircraft: int


def write_crews_workbook(base: Base, staffed: Staffed, plan: Plan, path: Path) -> None:
    """Write the crew workbook whole or not at all; raises ``OutputError``."""
    write_whole(crews_workbook(staffed, plan, base), path)


def crews_workbook(staffed: Staffed, plan: Plan, base: Base) -> bytes:
    """Return the crew workbook as the bytes of an ``.xlsx`` file."""
    book = Book(title=f"Crews {base.name}", plans=(plan,))
    _overview(book.sheet("Crews", upright=True), staffed, base)
    _shift_sheet(book.sheet("Shift lists"), shift_lists(staffed, plan, base))
    write_sheet_table(book.sheet("Crew weeks"), _CREW_WEEKS, crew_weeks(staffed, base), 2)
    moved = [stage for stage in staffed.plan.stages if stage.first != stage.planned]
    write_sheet_table(book.sheet("Stages moved"), _MOVED, moved)
    missing = [(amount, "overload") for amount in staffed.plan.short]
    missing += [(amount, "contract labour to be hired") for amount in staffed.plan.bought]
    write_sheet_table(book.sheet("Overload and contract"), _NOT_COVERED, missing)
    return book.content()


def shift_lists(staffed: Staffed, plan: Plan, base: Base) -> tuple[ShiftList, ...]:
    """Return a list a day and shift in which anybody is at work, in order of time.

    Whoever is on an aircraft for a licence, or as the second on critical work, without hours
    of a stage has a line too.
    """
    made = staffed.plan
    stages = {name: base.stages_of(name) for name in {p.check for p in plan.placements}}
    people = {(a.day, a.crew, a.check, a.skill): a for a in made.attendance}
    on_aircraft: defaultdict[tuple[date, str, str, str], dict[str, float]] = defaultdict(dict)
    for work in made.work:
        on_aircraft[work.day, work.crew, work.check, work.skill][work.stage] = work.hours
    present = [
        StageHours(a.day, a.shift, a.crew, a.check, "", a.skill, 0.0)
        for a in made.attendance
        if a.heads > 0 and (a.day, a.crew, a.check, a.skill) not in on_aircraft
    ]
    at_work = [*made.work, *present]
    order = sorted(at_work, key=lambda w: (w.day, base.shift(w.shift).start, w.shift))
    lists, worked_days = [], WorkedDays(base)
    for (day, name), group in groupby(order, key=lambda w: (w.day, w.shift)):
        lines = []
        for work in group:
            key = (work.day, work.crew, work.check, work.skill)
            there, of_stage = people[key], on_aircraft.get(key, {"": 1.0})
            share = work.hours / fsum(of_stage.values())
            shared = people_by_stage(there.heads, staffed.settings.parts, [*of_stage.values()])
            of_line = dict(zip(of_stage, shared, strict=True))[work.stage]
            facts = stages[work.check].get(work.stage)
            lines.append(
                Line(
                    bay=_bay_of(plan, work.check, day),
                    aircraft=base.check(work.check).aircraft,
                    check=work.check,
                    stage=work.stage or "(present)",
                    skill=work.skill,
                    crew=work.crew,
                    people=of_line,
                    hours=work.hours,
                    overtime=there.overtime_hours * share,
                    remarks=_remarks(facts, base.shift(name).night, by_the_way=not of_line)
                    if facts
                    else PRESENT,
                )
            )
        lines.sort(key=lambda line: (line.bay, line.check, line.stage, line.skill, line.crew))
        share, short = worked_days.hours_share(day), ""
        if share < 1:
            short = f"shortened day: {percent(share)} of its hours"
        begins = f"{base.shift(name).start:%H:%M}"
        lists.append(ShiftList(day, name, begins, tuple(lines), short))
    return tuple(lists)


def crew_weeks(staffed: Staffed, base: Base) -> tuple[CrewWeek, ...]:
    """Return what each crew gives in each week that is staffed."""
    given: defaultdict[tuple[str, str], list[float]] = defaultdict(list)
    overtime: defaultdict[tuple[str, str], list[float]] = defaultdict(list)
    aircraft: defaultdict[tuple[str, str], set[str]] = defaultdict(set)
    for work in staffed.plan.work:
        given[week_name(monday_of(work.day)), work.crew].append(work.hours)
    for there in staffed.plan.attendance:
        key = (week_name(monday_of(there.day)), there.crew)
        overtime[key].append(there.overtime_hours)
        aircraft[key].add(there.check)
    employment = {crew.name: str(crew.employment) for crew in base.crews}
    return tuple(
        CrewWeek(
            week=week,
            crew=crew,
            employment=employment[crew],
            given=fsum(given[week, crew]),
            overtime=fsum(overtime[week, crew]),
            aircraft=len(aircraft[week, crew]),
        )
        for week, crew in sorted(aircraft)
    )


def _bay_of(plan: Plan, check: str, day: date) -> str:
    return next(
        (p.bay for p in plan.placements if p.check == check and p.in_day <= day < p.out_day), ""
    )


def _remarks(stage: Stage, night: bool, *, by_the_way: bool) -> str:
    """Return what the people must know: two on critical work, alone, and the cautions."""
    words = ["by the crew's people on the stages above or below"] if by_the_way else []
    if stage.critical:
        words.append("CRITICAL: one does it, another qualified person inspects")
    if stage.alone:
        words.append("ALONE: nobody else works on the aircraft")
    if night:
        words.append("night: rest and handover")
    words += [
        applied.caution.when
        for applied in cautions_of_stage(stage, night)
        if not (stage.critical or stage.alone) and applied.is_guess
    ]
    return "; ".join(dict.fromkeys(words))


def _overview(sheet: Sheet, staffed: Staffed, base: Base) -> None:
    sheet.widths([36, 16, 16, 46])
    sheet.write(0, 0, f"Crews of {base.name}", TITLE)
    made, audit = staffed.plan, staffed.audit
    sheet.write(1, 0, f"{as_day(made.first_day)} up to, not including, {as_day(made.until)}")
    row = 3
    for label, value in (
        ("Demand in these days (h)", audit.asked),
        ("Assigned to crews (h)", audit.given),
        ("of which overtime (h)", audit.overtime),
        ("Contract labour to be hired (h)", audit.bought),
        ("Overload (h)", audit.short),
        ("Crew-aircraft pairs", float(audit.crews_per_aircraft)),
    ):
        sheet.write(row, 0, label, BOLD)
        sheet.write(row, 1, value, HOURS)
        row += 1
    row = _paragraphs(
        sheet, row + 1, "Results", (bought_in_words(staffed.bought), *goal_lines(staffed))
    )
    row = _paragraphs(sheet, row + 1, "Warnings", audit.warnings or ("None.",))
    _paragraphs(sheet, row + 1, "Cautions", (CAUTION, SHARED_PEOPLE, FATIGUE))
    sheet.hide_gridlines()


FATIGUE = (
    "Overtime, nights and calls on days off are limited by working-time rules, collective "
    "agreements and the organisation's fatigue procedures, which go before this plan. Critical "
    "work belongs in hours in which people are alert."
)


def _paragraphs(sheet: Sheet, row: int, title: str, sentences: tuple[str, ...]) -> int:
    sheet.run(row, 0, 3, title, SECTION)
    for sentence in sentences:
        row += 1
        sheet.run(row, 0, 3, sentence, NOTE if title == "Cautions" else WRAPPED)
        sheet.height(row, 15 * (1 + len(sentence) // 95))
    return row + 1


def _shift_sheet(sheet: Sheet, lists: tuple[ShiftList, ...]) -> None:
    """Write one list below the other, on a page as many as have room whole."""
    sheet.widths([column.width for column in _LINES])
    sheet.scale(SHIFT_SCALE)
    row, breaks = 0, []
    for page in _pages(lists):
        if row:
            breaks.append(row)
        sheet.write(row, 0, _on_the_page(page), TITLE)
        sheet.height(row, TITLE_POINTS)
        row += 1
        for shift_list in page:
            sheet.write(row, 0, shift_list.title, {**SECTION, "bottom": 0})
            sheet.height(row, LIST_TITLE_POINTS)
            row = write_table(sheet, row + 1, _LINES, shift_list.lines)
            sheet.height(row, GAP_POINTS)
            row += 1
        # The caution stands at the foot of every page.
        sheet.run(row, 0, len(_LINES) - 1, SHARED_PEOPLE, NOTE)
        sheet.height(row, NOTE_POINTS)
        row += 1
    sheet.page_breaks(breaks)


SHIFT_SCALE = 73
"""Per cent at which the columns of a shift list fit on a page, also in a wider font."""

PAGE_POINTS = 680.0
"""Height of a landscape A4 page at that scale, less than its margins leave."""

TITLE_POINTS, LIST_TITLE_POINTS, GAP_POINTS, NOTE_POINTS = 26, 20, 9, 33


def _pages(lists: Sequence[ShiftList]) -> list[list[ShiftList]]:
    """Put lists on pages in turn; one that is longer than a page begins on a page of its own."""
    pages: list[list[ShiftList]] = []
    room = 0.0
    for shift_list in lists:
        asked = LIST_TITLE_POINTS + table_points(_LINES, shift_list.lines) + GAP_POINTS
        if not pages or asked > room:
            pages.append([])
            room = PAGE_POINTS - TITLE_POINTS - NOTE_POINTS
        pages[-1].append(shift_list)
        room -= asked
    return pages


def _on_the_page(page: Sequence[ShiftList]) -> str:
    """Return what is on a page: its days, and the shifts where they are few."""
    first, last = page[0], page[-1]
    days = (
        as_day(first.day) if first.day == last.day else f"{as_day(first.day)} to {as_day(last.day)}"
    )
    names = list(dict.fromkeys(one.shift for one in page))
    return f"Shift lists, {days}: {'shift' if len(names) == 1 else 'shifts'} {', '.join(names)}"


_LINES: tuple[Column[Line], ...] = (
    Column("Bay", lambda line: line.bay, width=9),
    Column("Aircraft", lambda line: f"{line.aircraft} ({line.check})", width=16),
    Column("Stage", lambda line: line.stage, WRAPPED, width=20),
    Column("Skill", lambda line: line.skill, width=10),
    Column("Crew", lambda line: line.crew, width=17),
    Column("People", lambda line: line.people, PEOPLE, width=8),
    Column("Man-hours", lambda line: line.hours, HOURS, width=9),
    Column("Overtime (h)", lambda line: line.overtime, HOURS_OR_DASH, width=10),
    Column("Remarks", lambda line: line.remarks or None, WRAPPED, width=44),
)
_CREW_WEEKS: tuple[Column[CrewWeek], ...] = (
    Column("Week", lambda week: week.week, width=11),
    Column("Crew", lambda week: week.crew, width=24),
    Column("Employment", lambda week: week.employment, width=11),
    Column("Assigned (h)", lambda week: week.given, HOURS, width=11),
    Column("Overtime (h)", lambda week: week.overtime, HOURS_OR_DASH, width=11),
    Column("Aircraft", lambda week: week.aircraft, width=10),
)
_MOVED: tuple[Column[StageMove], ...] = (
    Column("Check", lambda stage: stage.check, width=14),
    Column("Stage", lambda stage: stage.stage, width=26),
    Column("In the slot plan from", lambda stage: stage.planned, DATE, width=17),
    Column("Now from", lambda stage: stage.first, DATE, width=17),
    Column("Days later", lambda stage: (stage.first - stage.planned).days, SIGNED_DAYS, width=10),
)
_NOT_COVERED: tuple[Column[tuple[Short, str]], ...] = (
    Column("Check", lambda row: row[0].check, width=14),
    Column("Stage", lambda row: row[0].stage, width=26),
    Column("Skill", lambda row: row[0].skill, width=14),
    Column("Man-hours", lambda row: row[0].hours, HOURS, width=11),
    Column("Why", lambda row: row[1], width=30),
)
