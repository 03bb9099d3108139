"""An overtime review and its measures in lines for a terminal."""

from collections.abc import Iterator

from capacity.facts import Base
from capacity.questions.overtime.measures import Measures
from capacity.questions.overtime.review import OvertimeReview, SkillWeekReview
from capacity.reports.kit.cell_text import printable
from capacity.reports.overtime.sheet_weeks import week_money
from capacity.reports.overtime.wording import (
    LONG_HOURS,
    PRICES_MISSING,
    effect,
    limits_in_words,
    proof,
    takes_away,
    times,
    totals_in_words,
    tried_in_words,
    why_met,
    worth,
)
from capacity.reports.plan.wording import CAUTION
from capacity.words import LEAST_HOURS, counted, day, hours, money
from capacity.working_time.wording import CAUTION as WORKING_TIME_CAUTION

MOST_WEEKS, MOST_CREWS, MOST_LIMITS, MOST_MEASURES = 5, 5, 6, 8
"""Lines shown of each list; the workbook has all of them."""


def overtime_in_words(review: OvertimeReview, measures: Measures | None, base: Base) -> str:
    """Return what came out, in plain text; what is above each list's most is counted."""
    return "\n".join(printable(line).rstrip() for line in _lines(review, measures, base))


def _lines(review: OvertimeReview, measures: Measures | None, base: Base) -> Iterator[str]:
    weeks = counted(base.weeks, "week")
    yield f"Overtime of {base.name} from {day(base.first_day)}, {weeks}"
    yield totals_in_words(review, base)
    yield from _weeks(review, base)
    yield from _crews(review, base)
    yield from _limits(review, base)
    if measures is not None:
        yield from _measures(measures, base)
    yield LONG_HOURS
    yield CAUTION


def _weeks(review: OvertimeReview, base: Base) -> Iterator[str]:
    dear = [week for week in review.weeks if _bought(week)]
    dear.sort(key=lambda week: (-week_money(week), week.week, week.skill))
    if dear:
        yield "Weeks that buy hours, most expensive first:"
    for week in dear[:MOST_WEEKS]:
        price = money(week_money(week), base)
        yield f"  {week.week}  {week.skill:<14} {price:>14}  {', '.join(_bought(week))}"
        if week.limits:
            yield f"  {'':24}limits: {'; '.join(week.limits)}"
    yield from _more(len(dear) - MOST_WEEKS)


def _bought(week: SkillWeekReview) -> list[str]:
    """Return what a week buys, worst first, with the overtime per head in attended hours."""
    a_head = f"overtime {hours(week.overtime)} ({hours(week.overtime_per_head)} attended per head)"
    kinds = (
        (f"overload {hours(week.overload)}", week.overload),
        (f"contract {hours(week.contract)}", week.contract),
        (a_head, week.overtime),
    )
    return [text for text, amount in kinds if amount >= LEAST_HOURS]


def _crews(review: OvertimeReview, base: Base) -> Iterator[str]:
    most = sorted(review.crews, key=lambda c: (-c.overtime_per_head, c.week, c.crew))
    if most:
        yield "Crews with most overtime per head in a week, in attended hours:"
    for crew in most[:MOST_CREWS]:
        price = money(crew.money, base)
        a_head = f"{crew.overtime_per_head:5.1f} h per head"
        yield f"  {crew.week}  {crew.crew:<24} {a_head}, {hours(crew.overtime)}, {price}"
    yield from _more(len(most) - MOST_CREWS)


def _limits(review: OvertimeReview, base: Base) -> Iterator[str]:
    yield f"Working time: {limits_in_words(review, base)}"
    by_overtime_first = sorted(review.limits, key=lambda limit: not limit.by_overtime)
    for limit in by_overtime_first[:MOST_LIMITS]:
        yield f"  {limit.crew}: {limit.what}, {times(limit)}, {why_met(limit)}"
        yield f"      {limit.source}"
    yield from _more(len(review.limits) - MOST_LIMITS)
    if review.limits:
        yield f"  {WORKING_TIME_CAUTION}"


def _measures(measures: Measures, base: Base) -> Iterator[str]:
    yield f"Measures against it: {tried_in_words(measures)}"
    useful = [measure for measure in measures.measures if takes_away(measure, measures)]
    for rank, measure in enumerate(useful[:MOST_MEASURES], start=1):
        yield f"  {rank}. {measure.what}"
        notes = [effect(measure, measures, base), worth(measure, base), _moved(len(measure.moved))]
        yield f"     {'; '.join(note for note in notes if note)}"
        yield f"     {proof(measure, base)}"
    yield from _more(len(useful) - MOST_MEASURES)
    if vain := len(measures.measures) - len(useful):
        yield f"  {counted(vain, 'measure')} would take none away"
    for what in measures.no_place:
        yield f"  does not fit this plan: {what}"
    for what in measures.not_tried:
        yield f"  not tried, because it was stopped: {what}"
    if measures.measures:
        yield f"  {PRICES_MISSING}"


def _moved(number: int) -> str | None:
    return f"{counted(number, 'check')} moved" if number else None


def _more(number: int) -> Iterator[str]:
    if number > 0:
        yield f"  and {number} more"
