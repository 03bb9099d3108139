"""The answer to a "why" question in one line; the pages after it say more."""

from collections import Counter

from capacity.facts import Base, Status
from capacity.questions.conflicts.values import Conflicts
from capacity.questions.conflicts.ways_wording import way_text
from capacity.questions.why.explain import MOST_CHECKS, Explanation
from capacity.questions.why.values import Blocked, Why
from capacity.words import counted, days, listed

NOTHING = "Every check got its wish; there is nothing to explain."

MOST_NAMES = 4


def in_one_line(found: Explanation, base: Base) -> str:
    """Return what is so and what it is mostly due to, in one line."""
    parts = [] if found.conflicts is None else [_of_conflicts(found.conflicts, base)]
    if len(found.whys) == 1:
        parts.append(_of_check(found.whys[0], base))
    elif found.whys:
        parts.append(_of_checks(found.whys, base))
    return f"In short: {'; '.join(parts)}." if parts else NOTHING


def _of_conflicts(found: Conflicts, base: Base) -> str:
    question = (
        "all fixed checks can be in their bays on their days"
        if found.fixed_only
        else "all fixed and booked checks can come in by their Latest in"
    )
    if found.possible:
        return question
    if found.possible is None:
        return f"whether {question} was not proven in the time given"
    said = f"not {question}, {counted(len(found.conflicts), 'conflict')} found"
    ways = [way for conflict in found.conflicts for way in conflict.ways_out]
    if len(found.conflicts) == 1 and ways:
        change = way_text(ways[0], base).partition(". The plan found")[0].partition(";")[0]
        said += f", the least change that helps: {change}"
    return said


def _of_checks(whys: tuple[Why, ...], base: Base) -> str:
    at_least = "at least " if len(whys) == MOST_CHECKS else ""
    named = [f"{why.check} ({_state(why, base)})" for why in whys[:MOST_NAMES]]
    if len(whys) > MOST_NAMES:
        named.append(counted(len(whys) - MOST_NAMES, "other"))
    return f"{at_least}{len(whys)} checks did not get their wish: {listed(named)}"


def _of_check(why: Why, base: Base) -> str:
    state = f"{why.check}: {_state(why, base)}"
    if _status(why, base) is Status.FIXED:
        return f"{state}, its bay and day are fixed"
    if not why.better:
        return f"{state}, no other day or bay would be better"
    if any(place.is_better for place in why.dearer):
        return f"{state}, but a slot that costs less is free: search longer"
    in_the_way = Counter(
        name
        for place in why.better
        if isinstance(place, Blocked)
        for name in {name for blocker in place.by for name in blocker.by}
    )
    places = counted(len(why.better), "better slot")
    dearer = len(why.dearer)
    parts = [f"{dearer} free, but more expensive for the plan"] if dearer else []
    if dearer < len(why.better):
        parts.append(f"{len(why.better) - dearer} not free")
    said = f"{state}, {places} tried: {listed(parts)}"
    if in_the_way:
        most = in_the_way.most_common(2)
        said += f", most often because of {listed([name for name, _ in most])}"
    return said


def _status(why: Why, base: Base) -> Status:
    return base.check(why.check).status


def _state(why: Why, base: Base) -> str:
    """Return how a check fares: ``no slot``, ``out 2 days late``, ``on time``."""
    if not why.placements:
        return "not taken" if _status(why, base) is Status.OPTION else "no slot"
    said = [f"{days(why.days_past)} past Latest in"] if why.days_past else []
    said += [f"{days(why.late_days)} late out"] if why.late_days else []
    return " and ".join(said) or "on time"
