"""Moves by hand and their answers in a planner's sentences, with the cells to look at."""

from collections import defaultdict
from collections.abc import Iterator

from capacity.cells import Where, cells, sheet_only
from capacity.facts import Base, Check, Status
from capacity.plans.plan import Placement
from capacity.questions.asking.differences import HoursMore
from capacity.questions.by_hand.values import HandAnswer, HandMove, Limit, OwnLimit
from capacity.questions.why.values import Blocker
from capacity.slots.rules.rule import Met
from capacity.slots.rules.windows import window_text
from capacity.words import LEAST_HOURS, day, days, hours, listed, money

KINDS = {
    "overtime": "overtime",
    "contract": "contract labour",
    "guaranteed hours": "guaranteed hours",
    "overload": "overload",
    "early days": "unused interval",
    "late days": "days late out",
    "days from Wanted in": "days from Wanted in",
    "prices of options": "prices of options",
}
"""The kinds of money of a comparison, as the verdict of a move names them."""

MOST_WEEKS = 4
HALF = 0.5


def move_in_words(move: HandMove) -> str:
    """Return ``N-05 into Bay 2 on Mon 4 Jan 2027``, or ``N-05 off the bays``."""
    if move.in_day is None:
        return f"{move.check} off the bays"
    return f"{move.check} into {move.bay} on {day(move.in_day)}"


def verdict_in_words(answer: HandAnswer, base: Base, where: Where = sheet_only) -> str:
    """Return in a sentence whether a move is legal, or why it is not."""
    move = move_in_words(answer.move)
    if not answer.is_legal:
        return f"Not legal: {move}: {'; '.join(reasons_in_words(answer, base, where))}."
    if answer.move.is_off:
        return f"Legal: {move}; it has no slot then."
    if answer.is_there_already:
        return f"Legal: {move}; it is there already."
    return f"Legal: {move}, {_stay(answer.after)}."


def reasons_in_words(answer: HandAnswer, base: Base, where: Where = sheet_only) -> tuple[str, ...]:
    """Return every reason why a move is not legal, rules of the check itself first."""
    check = base.check(answer.move.check)
    own = frozenset(placement.bay for placement in answer.after) or frozenset({answer.move.bay})
    limits = [_limit(limit, answer.move, check, base, where) for limit in answer.limits]
    blockers = [_blocker(blocker, own, base, where) for blocker in answer.in_the_way]
    return tuple(dict.fromkeys((*limits, *blockers)))


def costs_in_words(answer: HandAnswer, base: Base) -> Iterator[str]:
    """Yield what a move costs, by kind, which hours are bought, and which days are late.

    Of one that is not legal, what it would cost if nothing were in its way.
    """
    more = answer.costs_more
    if more is None:
        yield "What it would cost cannot be said: the check cannot be laid out there."
        return
    what = "the plan would cost" if not answer.is_legal else "The plan costs"
    if not answer.is_legal:
        what = f"If nothing were in the way, {what}"
    if abs(more) < HALF:
        yield f"{what} the same{_by_kind(answer, base)}."
    else:
        word = "more" if more > 0 else "less"
        yield f"{what} {money(abs(more), base)} {word}{_by_kind(answer, base)}."
    yield from _days(answer)
    yield from _hours(answer)
    if answer.is_legal and answer.priced < answer.courses:
        yield _of_courses(answer)


def _of_courses(answer: HandAnswer) -> str:
    return (
        f"Of {answer.courses} ways through its stages that are free there, the {answer.priced} "
        "that look cheapest were worked out to the cent; the cheapest of them is shown."
    )


def _stay(after: tuple[Placement, ...]) -> str:
    then = "".join(f", then {p.bay} from {day(p.in_day)}" for p in after[1:])
    return f"out on {day(after[-1].out_day)}{then}"


def _limit(limit: OwnLimit, move: HandMove, check: Check, base: Base, where: Where) -> str:
    match limit.limit:
        case Limit.FIXED:
            at = cells(where, "Checks", check.name, "Fixed bay", "Fixed in")
            assert check.fixed_in is not None
            return f"it is fixed in {check.fixed_bay} on {day(check.fixed_in)} {at}"
        case Limit.IN_ALREADY:
            assert base.work_counts_from is not None
            return f"it came in before {day(base.work_counts_from)}, the day of the re-plan"
        case Limit.BEFORE_TODAY:
            assert base.work_counts_from is not None
            return f"that is before {day(base.work_counts_from)}, the day of the re-plan"
        case Limit.LAPSED:
            return _window(check, base, where)
        case Limit.TOO_EARLY:
            at = cells(where, "Checks", check.name, "Earliest in")
            return f"that is before its Earliest in, {day(check.earliest_in)} {at}"
        case Limit.BEFORE_THE_PLAN:
            at = cells(where, "Base", "First day", "Value")
            return f"that is before the First day of the plan, {day(base.first_day)} {at}"
        case Limit.TOO_LATE:
            return _too_late(check, base, where)
        case Limit.AFTER_THE_PLAN:
            at = cells(where, "Base", "Weeks", "Value")
            return f"that is after {day(base.last_in_day)}, the last day of the plan {at}"
        case Limit.BAY:
            at = cells(where, "Bays", move.bay, "Bay")
            return f"{move.bay} cannot hold it: {listed(limit.texts)} {at}"
        case Limit.NO_STAY:
            return listed(limit.texts) or "from that day on it cannot go through its stages"
        case Limit.AUDIT:
            return "the audit finds: " + "; ".join(text.rstrip(".") for text in limit.texts)


def _window(check: Check, base: Base, where: Where) -> str:
    return f"its window is {window_text(check, base, where)}"


def _too_late(check: Check, base: Base, where: Where) -> str:
    at = cells(where, "Checks", check.name, "Latest in")
    latest = f"its Latest in, {day(check.latest_in)} {at}"
    if check.status is Status.OPTION:
        return f"that is past {latest}, as no option may be"
    longest = cells(where, "Base", "Longest delay days", "Value")
    return f"that is more than the longest delay, {days(base.longest_delay_days)} {longest}, " + (
        f"past {latest}"
    )


def _blocker(blocker: Blocker, own: frozenset[str], base: Base, where: Where) -> str:
    kind = blocker.rule.kind
    if kind.blocks is None:
        return kind.holds(blocker.rule, base, where)
    return kind.blocks(blocker.rule, Met(blocker.by, own), base, where)


def _by_kind(answer: HandAnswer, base: Base) -> str:
    """Tell what makes up the difference where that is more than one kind of cost."""
    parts = [
        f"{KINDS[pair.name]} {'+' if pair.more > 0 else '-'}{money(abs(pair.more), base)}"
        for pair in answer.money
        if pair.name in KINDS and abs(pair.more) >= HALF
    ]
    return f" ({', '.join(parts)})" if parts else ""


def _days(answer: HandAnswer) -> Iterator[str]:
    goals = [audit.goals for audit in (answer.audit_before, answer.audit) if audit is not None]
    past = [goal.days_past_latest_in for goal in goals]
    if past[0] != past[1]:
        word = "more" if past[1] > past[0] else "fewer"
        who = "" if answer.after else "; a check without a slot counts the longest delay and a day"
        yield (
            f"{days(abs(past[1] - past[0]))} {word} past Latest in: {past[1]} in all, {past[0]} "
            f"before{who}."
        )
    before, after = answer.late_days
    if before != after:
        yield f"{answer.move.check} is {days(after)} late out, {days(before)} before."


def _hours(answer: HandAnswer) -> Iterator[str]:
    """Tell the weeks and skills in which overload comes or goes, then where hours are bought."""
    told = _telling_hours(answer)
    overload = [(one, one.overload) for one in told]
    bought = [(one, one.overtime + one.contract) for one in told]
    for found, more, fewer in (
        (overload, "Overload comes", "Overload goes"),
        (bought, "More overtime and contract labour", "Less overtime and contract labour"),
    ):
        for is_more, word in ((True, more), (False, fewer)):
            some = [(o, h) for o, h in found if abs(h) >= LEAST_HOURS and (h > 0) == is_more]
            if some:
                yield f"{word}: {_weeks(some)}."


def _telling_hours(answer: HandAnswer) -> list[HoursMore]:
    """Return what is bought more or less, without what tells nothing.

    Where hours are levelled, a skill's hours may lie in other weeks at the same cost: so a skill
    of which no more and no less is bought in all is left out.
    """
    plan = answer.plan
    if plan is None or not any(s.hours for p in plan.placements for s in p.stages):
        return list(answer.hours)
    net: defaultdict[str, float] = defaultdict(float)
    for one in answer.hours:
        net[one.skill] += one.overtime + one.contract
    overloaded = {one.skill for one in answer.hours if abs(one.overload) >= LEAST_HOURS}
    return [o for o in answer.hours if abs(net[o.skill]) >= 1.0 or o.skill in overloaded]


def _weeks(found: list[tuple[HoursMore, float]]) -> str:
    """Return ``60 h of Airframe in 2027-W03``, the most hours first."""
    in_turn = sorted(found, key=lambda pair: -abs(pair[1]))
    parts = [f"{hours(abs(h))} of {one.skill} in {one.week}" for one, h in in_turn[:MOST_WEEKS]]
    if len(in_turn) > MOST_WEEKS:
        rest = sum(abs(h) for _, h in in_turn[MOST_WEEKS:])
        parts.append(f"{hours(rest)} in other weeks and skills")
    return listed(parts)
