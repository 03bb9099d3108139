"""The cheapest ways out of a conflict: single changes, each tried by solving."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from threading import Event

from capacity.questions.conflicts import ways_of_checks as of_checks
from capacity.questions.conflicts import ways_of_rooms as of_rooms
from capacity.questions.conflicts.case import Case, Found, Tried
from capacity.questions.conflicts.rules import Kind, Rule
from capacity.questions.conflicts.solving import clock_of
from capacity.questions.conflicts.values import Change, WayOut

# So many other bays are told for a fixed check.
MOST_OTHER_BAYS = 2
# Share of the time in which changes are tried; the rest goes to the plans with them.
SHARE_TO_FIND, LEAST_SECONDS_A_PLAN = 0.6, 0.5
# What a search takes until it runs, and its plan to be audited.
SECONDS_TO_BEGIN = 0.7
# What helps most often is tried first, so that it is told when time runs out.
IN_TURN = (
    Change.LATER,
    Change.EXTENDED,
    Change.MORE_WEEKS,
    Change.OTHER_DAY,
    Change.OTHER_BAY,
    Change.OPENS_SOONER,
    Change.CLOSES_LATER,
    Change.OPEN_AGAIN,
    Change.SHORTER_CHANGEOVER,
    Change.IN_USE_AGAIN,
    Change.MORE_EQUIPMENT,
    Change.FASTER_SHOP,
    Change.LONGER_WAIT,
    Change.FURTHER_BAY,
    Change.EARLIER,
    Change.GIVEN_UP,
)


@dataclass(frozen=True)
class Attempt:
    """A change to try for a rule."""

    change: Change
    rule: Rule
    run: Callable[[], Tried]


def ways_out(case: Case, seed: int) -> tuple[tuple[WayOut, ...], tuple[tuple[Change, Rule], ...]]:
    """Return the changes that help, ranked, and those that could not be tried to the end.

    Each is solved with all that is wanted in place and then searched for a cheap plan; both
    times it is audited.
    """
    finding = replace(case, clock=clock_of(SHARE_TO_FIND * case.clock.left, case.clock.stop))
    found: list[Found] = []
    not_tried: list[tuple[Change, Rule]] = []
    for attempt in sorted(attempts(finding), key=lambda a: IN_TURN.index(a.change)):
        if _is_needless(attempt, found):
            continue
        tried = attempt.run() if finding.clock.left > 0 else None
        if isinstance(tried, Found):
            found.append(tried)
        elif tried is None:
            not_tried.append((attempt.change, attempt.rule))
    ways = []
    for number, way in enumerate(found):
        share = case.clock.left / (len(found) - number) - SECONDS_TO_BEGIN
        share = max(LEAST_SECONDS_A_PLAN, share)
        ways.append(_valued(way, share, seed, case.clock.stop))
    return tuple(sorted(ways, key=lambda way: way.rank)), tuple(not_tried)


def _is_needless(attempt: Attempt, found: Sequence[Found]) -> bool:
    """Return whether less than this change helps already, or enough of its kind is told."""
    shorter = {Change.OPENS_SOONER, Change.CLOSES_LATER}
    of_rule = [way.change for way in found if way.rule == attempt.rule]
    if attempt.change is Change.OPEN_AGAIN:
        return any(change in shorter for change in of_rule)
    return attempt.change is Change.OTHER_BAY and of_rule.count(Change.OTHER_BAY) >= MOST_OTHER_BAYS


def attempts(case: Case) -> Iterator[Attempt]:
    """Yield the changes to try for the rules of the conflict."""
    for rule in case.rules:
        for change, run in _of_rule(case, rule):
            yield Attempt(change, rule, run)
    for rule, bay in of_rooms.bays_to_add(case):
        yield Attempt(Change.FURTHER_BAY, rule, partial(of_rooms.one_bay_more, case, rule, bay))


def _of_rule(case: Case, rule: Rule) -> Iterator[tuple[Change, Callable[[], Tried]]]:
    match rule.kind:
        case Kind.WINDOW:
            yield Change.LATER, partial(of_checks.later, case, rule)
            if case.check(rule.of).earliest_in > case.base.first_day:
                yield Change.EARLIER, partial(of_checks.earlier, case, rule)
            yield Change.GIVEN_UP, partial(of_checks.given_up, case, rule)
        case Kind.FIXED_PLACE:
            yield from _of_fixed(case, rule)
            yield Change.GIVEN_UP, partial(of_checks.given_up, case, rule)
        case Kind.LATEST_IN:
            yield Change.EXTENDED, partial(of_checks.extended, case, rule)
        case Kind.CLOSURE:
            yield Change.OPENS_SOONER, partial(of_rooms.opens_sooner, case, rule)
            if case.base.closures[rule.row].first >= case.base.first_day:
                yield Change.CLOSES_LATER, partial(of_rooms.closes_later, case, rule)
            yield Change.OPEN_AGAIN, partial(of_rooms.open_again, case, rule)
        case Kind.CHANGEOVER:
            yield Change.SHORTER_CHANGEOVER, partial(of_rooms.shorter_changeover, case, rule)
        case Kind.OUTAGE:
            yield Change.IN_USE_AGAIN, partial(of_rooms.in_use_again, case, rule)
        case Kind.EQUIPMENT:
            most = len(case.own)
            yield Change.MORE_EQUIPMENT, partial(of_rooms.more_equipment, case, rule, most)
        case Kind.PERIOD:
            yield Change.MORE_WEEKS, partial(of_checks.more_weeks, case, rule)
        case Kind.WAIT:
            yield Change.LONGER_WAIT, partial(of_rooms.longer_wait, case, rule)
        case Kind.SHOP:
            yield Change.FASTER_SHOP, partial(of_rooms.faster_shop, case, rule)


def _of_fixed(case: Case, rule: Rule) -> Iterator[tuple[Change, Callable[[], Tried]]]:
    """Yield the changes to a fixed check that is not in yet."""
    check = case.check(rule.of)
    if check.fixed_in is None or check.fixed_in < case.base.first_day:
        return
    yield Change.OTHER_DAY, partial(of_checks.other_day, case, rule)
    for bay in of_checks.other_bays(case, check):
        yield Change.OTHER_BAY, partial(of_checks.other_bay, case, rule, bay)


def _valued(way: Found, seconds: float, seed: int, stop: Event) -> WayOut:
    made, audit, bound = way.trial.best_plan(seconds, seed, stop)
    return WayOut(
        change=way.change,
        rule=way.rule,
        amount=way.amount,
        days=way.days,
        is_least=way.is_least,
        base=way.trial.ground.base,
        plan=made,
        days_past=audit.goals.days_past_latest_in,
        money=audit.goals.money,
        bound=bound,
        bay=way.bay,
    )
