"""A conflict and its ways out in a planner's sentences, with the cells to look at."""

from collections.abc import Iterator

from capacity.cells import Where, sheet_only
from capacity.facts import Base
from capacity.questions.conflicts.confirmed import UNKNOWN
from capacity.questions.conflicts.values import Conflict, Conflicts, FewestDays
from capacity.questions.conflicts.ways_wording import way_text
from capacity.slots.rules.rule import Rule
from capacity.words import days, listed


def conflict_sentences(found: Conflicts, base: Base, where: Where | None = None) -> tuple[str, ...]:
    """Return the whole answer, a sentence or a line of a list each."""
    return tuple(_sentences(found, base, where or sheet_only))


def _sentences(found: Conflicts, base: Base, where: Where) -> Iterator[str]:
    question = _question(found)
    if found.possible:
        yield f"All is possible: {question}."
        return
    if found.possible is None:
        yield f"It was not proven in the time given whether {question}. Allow more seconds."
        return
    yield f"It is proven impossible that {question}."
    for number, conflict in enumerate(found.conflicts, start=1):
        title = f"Conflict {number}: these" if len(found.conflicts) > 1 else "These"
        yield from _of_conflict(conflict, title, base, where)
    if not found.all_told:
        yield (
            "There are, or may be, more conflicts than these; the ways out were tried only for "
            "the checks named in the conflict, with the fixed ones."
        )
    if found.left_out:
        yield (
            f"Some days of the windows of {listed(found.left_out)} are left out by some rule that "
            "this explanation does not know."
        )
    if found.fewest_days is not None:
        yield _fewest(found.fewest_days)


def _question(found: Conflicts) -> str:
    if found.fixed_only:
        return "the fixed checks do not conflict with each other"
    return "all fixed and booked checks come in by their Latest in"


def _of_conflict(conflict: Conflict, title: str, base: Base, where: Where) -> Iterator[str]:
    if len(conflict.rules) == 1:
        yield f"{title[:-5]}This cannot hold, whatever else gives way:"
    else:
        yield f"{title} conflict with each other:"
    for rule in conflict.rules:
        yield f"  - {rule_text(rule, base, where)}"
    if not conflict.is_smallest:
        yield "A smaller part of it may already conflict; that was not proven in the time given."
    elif UNKNOWN in conflict.rules:
        yield (
            "The rules that this explanation knows do not explain it, but the planning program "
            "finds no plan. Without any one of these checks the others have a slot."
        )
    elif len(conflict.rules) > 1:
        yield "No smaller part of it conflicts: without any one of these, the others can hold."
    if conflict.ways_out:
        yield "Each of these alone is a way out, solved and audited:"
        for number, way in enumerate(conflict.ways_out, start=1):
            yield f"  {number}. {way_text(way, base, where)}"
        if any(way.change.is_bought for way in conflict.ways_out):
            yield "What a bay, equipment or a faster shop costs is not in the workbook."
    elif not conflict.not_tried:
        yield "No single change of those tried is a way out: more than one has to change."
    if conflict.not_tried:
        tried = listed([f"'{change}' of {rule.of}" for change, rule in conflict.not_tried])
        yield f"Not settled in the time given: {tried}."


def _fewest(fewest: FewestDays) -> str:
    parts = [f"{name} by {days(late)}" for name, late in fewest.late]
    told = f"late {listed(parts)}" if parts else ""
    missing = f"no slot for {listed(fewest.not_placed)}" if fewest.not_placed else ""
    proof = (
        "fewer are proven impossible"
        if fewest.bound >= fewest.days
        else f"at least {days(fewest.bound)} are unavoidable"
    )
    how = "; ".join(part for part in (told, missing) if part)
    return (
        f"If only the windows give way, the fewest days past Latest in found are "
        f"{fewest.days} in all ({how}); {proof}."
    )


def rule_text(rule: Rule, base: Base, where: Where = sheet_only) -> str:
    """Return a rule as a planner would say it, with its cells."""
    return rule.kind.holds(rule, base, where)
