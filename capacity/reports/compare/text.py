"""A comparison of two plans in lines for a terminal."""

from collections.abc import Iterator

from capacity.facts import Base
from capacity.questions.compare.two_plans import Comparison
from capacity.reports.compare.sheet_two_plans import DAYS_PAST, KINDS, Names, overload_pair_lines
from capacity.reports.compare.wording import (
    NAMES,
    apart_in_words,
    broken_in_words,
    compared_in_words,
    differing_in_words,
    differs_in_words,
    notes_on_steps,
    steps_in_words,
)
from capacity.reports.kit.cell_text import printable
from capacity.reports.kit.left_out import left_out
from capacity.reports.plan.stay_columns import stay_in_words
from capacity.reports.plan.wording import CAUTION, work_left_counts_from
from capacity.words import money

MOST_CHECKS, MOST_WEEKS, MOST_RULES = 20, 5, 6
"""Lines shown of each list; the workbook has all of them."""


def comparison_in_words(told: Comparison, base: Base, names: Names = NAMES) -> str:
    """Return both plans side by side in plain text; ``names`` is what they are called."""
    return "\n".join(printable(line).rstrip() for line in _lines(told, base, names))


def _lines(told: Comparison, base: Base, names: Names) -> Iterator[str]:
    yield f"Two slot plans of {base.name}: {names[0]} and {names[1]}"
    yield compared_in_words(told, names, base)
    yield from apart_in_words(told, names)
    if left := work_left_counts_from(base):
        yield left
    broken = broken_in_words(told, names)
    yield from broken[:MOST_RULES]
    yield from left_out(broken, MOST_RULES, "broken rule", indent="")
    yield from _figures(told, base, names)
    if told.steps is not None and told.steps.tell_more:
        yield "Why the cost differs, all checks counted:"
        for line, amount in steps_in_words(told.steps, names):
            yield f"  {line:<60} {money(amount, base):>18}"
        yield from (f"  {note}" for note in notes_on_steps(told.steps, names))
    yield differing_in_words(told)
    for pair in told.differing[:MOST_CHECKS]:
        yield f"  {pair.check}: {differs_in_words(pair, names)}"
        yield f"    {stay_in_words(pair.first)} -> {stay_in_words(pair.second)}"
    yield from left_out(told.differing, MOST_CHECKS)
    if told.overloads:
        yield f"Overload, {names[0]} -> {names[1]}:"
        yield from overload_pair_lines(told, MOST_WEEKS)
    yield CAUTION


def _figures(told: Comparison, base: Base, names: Names) -> Iterator[str]:
    yield f"  {'':<34} {names[0]:>20} {names[1]:>20}"
    for pair in told.money:
        if pair.name == DAYS_PAST:
            figures = [f"{value:,.0f} days" for value in (pair.first, pair.second)]
            label = "Days past Latest in"
        else:
            figures = [money(value, base) for value in (pair.first, pair.second)]
            label = KINDS.get(pair.name, "Cost of the plan")
        yield f"  {label:<34} {figures[0]:>20} {figures[1]:>20}"
