"""The page Base manager as a page to print: the same views and words, all of them unfolded."""

from collections.abc import Iterator, Sequence

from capacity.man_hour_plan.messages import man_hour_messages
from capacity.plans.plan import WeekLoad
from capacity.questions.overtime.measures import Measures
from capacity.reports.overtime.wording import (
    COMPARED,
    PRICES_MISSING,
    effect,
    proof,
    tried_in_words,
)
from capacity.reports.plan.largest_moves import LARGEST
from capacity.reports.plan.levelled_words import how_levelled
from capacity.reports.plan.summed_cautions import summed_cautions
from capacity.reports.plan.view import View
from capacity.reports.plan.wording import CAUTION, how_loaded, is_over
from capacity.words import counted, day, week_dates
from capacity.words.marks import TRIANGLE
from capacity.words.palette import HOURS, Paint
from ui.manager import labour_tables as tables
from ui.manager import labour_words as words
from ui.manager.heat_rows import PAINTS, band_of, heat_legend, printed
from ui.manager.labour_view import LabourView
from ui.planner.levelled_rows import even_beside_levelled, largest
from ui.printing.sheet import Cell, caution, heading, paragraph, picture, sheet, table, value_table
from ui.rows import TableRow, message_rows

BY_WEEK_AND_CREW, CAUTIONS = "Overtime, week by week and crew by crew", "Cautions"

NO_MEASURES_YET = (
    "No measures have been tried on this plan yet. Press Try the measures on the page Base "
    "manager, then print again."
)
NOTHING_FOR_REVIEW = "Nothing in these months is for review."


def labour_page(labour: LabourView, measures: Measures | None, notes: Sequence[str] = ()) -> bytes:
    """Return the labour of a plan as an HTML page, in UTF-8; every text stays a text.

    ``measures`` are None where they have not been tried. ``notes`` stand at the top, in a frame.
    """
    view = labour.view
    base = view.base
    title = f"Labour of the plan from {day(base.first_day)}, {counted(base.weeks, 'week')}"
    body = [
        *map(caution, (CAUTION, *notes)),
        paragraph(how_loaded(view.outcome)),
        *_levelled(view),
        *_figures(view),
        *_weeks(labour),
        *_overtime(labour),
        *_rules(labour),
        *_measures(measures, labour),
        *_months(labour),
        *_cautions(view),
    ]
    return sheet(title, base.name, body, view.outcome.plan)


def _levelled(view: View) -> Iterator[str]:
    if view.levelling is not None:
        yield paragraph(how_levelled(view.levelling, view.base))


def _figures(view: View) -> Iterator[str]:
    headings = [Cell("On top of regular hours"), Cell("Man-hours", True), Cell("Cost", True)]
    rows = [
        [Cell(kind), Cell(amount, True), Cell(cost, True)]
        for kind, amount, cost in tables.labour_figures(view)
    ]
    yield table(headings, rows)


def _weeks(labour: LabourView) -> Iterator[str]:
    yield heading(words.WEEKS)
    yield paragraph(words.SIGNS)
    yield picture("Week", heat_legend())
    yield _matrix(labour.view)
    bought = tables.bought_by_week_and_skill(labour.review, labour.view.base)
    if bought:
        yield heading(words.BOUGHT)
        yield value_table(_with_mark(bought), lambda row: row[""] == TRIANGLE, is_small=True)
    if beside := even_beside_levelled(labour.view):
        yield heading(LARGEST)
        yield value_table(largest(labour.view), is_small=True)
        yield heading(words.EVENLY)
        yield value_table(beside, is_small=True)


def _matrix(view: View) -> str:
    """Return weeks down and skills across, so that a year goes on from sheet to sheet."""
    loads = {(load.week, load.skill): load for load in view.outcome.audit.weeks}
    skills = [skill.name for skill in view.base.skills]
    headings = [Cell("Week"), Cell("From"), *(Cell(skill, is_number=True) for skill in skills)]
    rows = [
        [
            Cell(week),
            Cell(day(week_dates(week)[0])),
            *(
                Cell(printed(load), True, is_over(load), _paint_of(load))
                if (load := loads.get((week, skill))) is not None
                else Cell("")
                for skill in skills
            ),
        ]
        for week in dict.fromkeys(week for week, _ in loads)
    ]
    return table(headings, rows, is_small=True)


def _paint_of(load: WeekLoad) -> Paint | None:
    paint = PAINTS[band_of(load)]
    return paint if paint in HOURS else None


def _with_mark(rows: Sequence[TableRow]) -> list[TableRow]:
    """Put the triangle in front of the weeks with overload."""
    return [{"": TRIANGLE if row["Overload (man-hours)"] else "", **row} for row in rows]


def _overtime(labour: LabourView) -> Iterator[str]:
    review, base = labour.review, labour.view.base
    yield heading(words.OVERTIME)
    by_crew = tables.overtime_by_crew(review, base)
    if not by_crew:
        yield paragraph(words.NO_OVERTIME)
        return
    yield paragraph(words.SHARED)
    yield value_table(by_crew)
    yield heading(BY_WEEK_AND_CREW)
    yield value_table(tables.overtime_by_week_and_crew(review, base), is_small=True)


def _rules(labour: LabourView) -> Iterator[str]:
    yield heading(words.RULES)
    yield paragraph(words.rules_in_words(labour.review, labour.view.base))
    if labour.view.base.working_time_rules is None:
        return
    yield paragraph(words.FIRST_CHECK)
    yield value_table(tables.limits_table(labour.review), lambda row: row["By"] == "the overtime")


def _measures(measures: Measures | None, labour: LabourView) -> Iterator[str]:
    base = labour.view.base
    yield heading(words.MEASURES_TRIED)
    if measures is None:
        yield paragraph(NO_MEASURES_YET)
        return
    yield paragraph(tried_in_words(measures))
    yield paragraph(tables.measures_sentence(measures, base))
    rows: list[TableRow] = [
        {
            "Rank": rank,
            **row,
            "In all": effect(measure, measures, base),
            "Proven": proof(measure, base),
        }
        for rank, (measure, row) in enumerate(
            zip(measures.measures, tables.measures_table(measures, base), strict=True), start=1
        )
    ]
    if rows:
        yield value_table(rows, is_small=True)
        yield paragraph(COMPARED)
        yield paragraph(PRICES_MISSING)
    else:
        yield paragraph(words.NOTHING_TAKEN_AWAY)
    for title, listed in (
        (words.NO_SLOT_FOUND, measures.no_place),
        (words.NOT_TRIED, measures.not_tried),
    ):
        if listed:
            yield paragraph(title)
            yield from map(paragraph, listed)


def _months(labour: LabourView) -> Iterator[str]:
    months = labour.months
    yield heading(words.MONTHS)
    yield paragraph(tables.review_dates(months))
    yield paragraph(words.NOT_AVAILABLE)
    rows = tables.months_table(months)
    for_review = [r for m, r in zip(months.months, rows, strict=True) if m.is_for_review]
    yield value_table(rows, lambda row: row in for_review, is_small=True)
    found = man_hour_messages(months)
    if not found:
        yield paragraph(NOTHING_FOR_REVIEW)
        return
    yield heading(words.FOR_REVIEW)
    yield value_table(message_rows(found), is_small=True)


def _cautions(view: View) -> Iterator[str]:
    yield heading(CAUTIONS)
    yield paragraph(
        "Local rules and approved data always come first; these are examples of what is usual."
    )
    yield value_table(
        [
            {
                "When": told.when,
                "Caution": told.text,
                "Concerns": told.concerns,
                "Why it is shown": told.why,
                "Source": told.source,
            }
            for told in summed_cautions(view)
        ],
        is_small=True,
    )
