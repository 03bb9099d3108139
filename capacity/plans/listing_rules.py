"""Every check of the base is named exactly once, in the place where it belongs."""

from collections import Counter
from collections.abc import Iterator, Mapping

from capacity.facts import Base, Check, Status
from capacity.plans.plan import Plan


def broken(plan: Plan, base: Base, legs: Mapping[str, int]) -> Iterator[str]:
    """Say which checks are unknown, named twice, named in the wrong place or forgotten.

    ``legs`` is the most placements that each check may have.
    """
    placed = Counter(placement.check for placement in plan.placements)
    not_placed = Counter(plan.not_placed)
    refused = Counter(plan.refused)
    known = {check.name for check in base.checks}
    for name in placed | not_placed | refused:
        if name not in known:
            yield f"{name} is in the plan, but the base has no check of that name."
    for check in base.checks:
        name = check.name
        if placed[name] > legs[name]:
            yield f"{name} has {placed[name]} slots, but needs no more than {legs[name]}."
        yield from _one_check(check, placed[name], not_placed[name], refused[name])


def _one_check(check: Check, placed: int, not_placed: int, refused: int) -> Iterator[str]:
    """Judge how often a check is named in each of the three places."""
    name = check.name
    option = check.status is Status.OPTION
    if not placed and not not_placed and not refused:
        aside = "not taken" if option else "without a slot"
        yield f"{name} is {_kind(check)}, but it neither has a slot nor is listed as {aside}."
    for count, listed, right in (
        (not_placed, "without a slot", not option),
        (refused, "not taken", option),
    ):
        if count and placed:
            yield f"{name} has a slot, but it is also listed as {listed}."
        elif count and not right:
            yield f"{name} is {_kind(check)}, but it is listed as {listed}."
        elif count > 1:
            yield f"{name} is listed as {listed} {count} times."


def _kind(check: Check) -> str:
    return "an option" if check.status is Status.OPTION else f"a {check.status} check"
