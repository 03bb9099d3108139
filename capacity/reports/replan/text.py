"""A re-plan in lines for a terminal."""

from collections.abc import Iterator

from capacity.questions.compare.two_plans import compare
from capacity.questions.replan.values import Change, Replanned
from capacity.reports.compare.sheet_two_plans import overload_pair_lines
from capacity.reports.enquiries.wording import named
from capacity.reports.kit.cell_text import printable
from capacity.reports.kit.left_out import left_out
from capacity.reports.plan.stay_columns import stay_in_words
from capacity.reports.plan.wording import CAUTION, remarks, work_left_counts_from
from capacity.reports.replan.told import told_in_words
from capacity.reports.replan.wording import (
    MOVE_PRICES,
    freeze_in_words,
    moved_in_words,
    proof_in_words,
    saved_in_words,
    search_in_words,
    what_in_words,
    why_in_words,
    work_done_in_words,
)
from capacity.words import LEAST_MONEY, day, days, money

MOST_CHANGES, MOST_WEEKS = 20, 5
"""Lines shown of each list; the workbook has all of them."""


def replan_in_words(answer: Replanned) -> str:
    """Return what changes, why, and what it saves, in plain text."""
    return "\n".join(printable(line).rstrip() for line in _lines(answer))


def _lines(answer: Replanned) -> Iterator[str]:
    base = answer.base
    yield f"Re-plan of {base.name}; today is {day(answer.today)}"
    if left := work_left_counts_from(base):
        yield left
    if done := work_done_in_words(base):
        yield done
    yield saved_in_words(answer)
    yield proof_in_words(answer)
    yield from freeze_in_words(answer)
    if answer.changes:
        yield MOVE_PRICES
    yield search_in_words(answer)
    for name, one in (("Old arrangement", answer.kept), ("New plan", answer.found)):
        yield (
            f"  {name}: {days(one.days_past)} past Latest in, {money(one.money, base)}, "
            f"moves count as {money(one.move_price, base)}"
        )
    if answer.plan.not_placed:
        yield f"NO SLOT: {named(answer.plan.not_placed)}"
    for change in answer.changes[:MOST_CHANGES]:
        yield from _change(change, answer)
    yield from left_out(answer.changes, MOST_CHANGES, "change", indent="")
    told = compare(base, answer.kept.plan, answer.plan, today=answer.today)
    if told.overloads:
        yield "Overload from this week on, old arrangement -> new plan:"
        yield from overload_pair_lines(told, MOST_WEEKS)
    yield CAUTION


def _change(change: Change, answer: Replanned) -> Iterator[str]:
    base = answer.base
    said = [what_in_words(change)]
    said += [
        late
        for account in answer.found.audit.accounts
        if account.check == change.check and (late := remarks(account))
    ]
    if moved := moved_in_words(change):
        said.append(moved)
    if change.move_price >= LEAST_MONEY:
        said.append(f"counts as {money(change.move_price, base)}")
    yield f"{change.check}: {', '.join(said)}"
    yield f"  {stay_in_words(change.before)} -> {stay_in_words(change.after)}"
    yield f"  why: {why_in_words(change, base)}"
    if told := told_in_words(change.concerned):
        yield f"  tell: {told}"
