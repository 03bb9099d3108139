"""A smallest set of rules that cannot hold together, by QuickXplain."""

from collections.abc import Callable

from capacity.slots.rules.rule import Rule

Rules = tuple[Rule, ...]
Holds = Callable[[frozenset[Rule]], bool | None]
"""Whether rules can hold together; None where that was not proven."""


def smallest(holds: Holds, always: frozenset[Rule], rules: Rules) -> Rules:
    """Return a part of ``rules`` that cannot hold beside ``always``, and no smaller part of it.

    ``always`` and ``rules`` together are known not to hold. Earlier rules are kept in favour
    of later ones. What is not proven counts as holding: the part returned is proven not to
    hold all the same, but some of it may then not be needed (see ``thinned``).
    Method: Junker, QuickXplain, 2004 (from memory, not checked against the text): split the rules
    in two, find what of the second half is needed beside the first, then what of the first beside
    that.
    """
    if holds(always) is False:
        return ()
    return _needed(holds, always, rules, grown=False)


def _needed(holds: Holds, always: frozenset[Rule], rules: Rules, *, grown: bool) -> Rules:
    if grown and holds(always) is False:
        return ()
    if len(rules) == 1:
        return rules
    half = len(rules) // 2
    first, second = rules[:half], rules[half:]
    of_second = _needed(holds, always | {*first}, second, grown=True)
    of_first = _needed(holds, always | {*of_second}, first, grown=bool(of_second))
    return of_first + of_second


def thinned(holds: Holds, rules: Rules) -> tuple[Rules, bool]:
    """Take rules out one by one while the rest is proven not to hold; a deletion filter.

    Return the rest, and whether each of its rules is proven to be needed.
    """
    kept, is_smallest = list(rules), True
    for rule in rules:
        others = [r for r in kept if r != rule]
        verdict = holds(frozenset(others))
        if verdict is False:
            kept = others
        elif verdict is None:
            is_smallest = False
    return tuple(kept), is_smallest
