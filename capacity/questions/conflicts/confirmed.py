"""What the program that plans says of an answer that was found rule by rule.

An answer is found from rules that a person knows. If there is a rule that is none of them,
such an answer could say that all is possible where no plan is. So nobody is told so before
the program of a plan has placed the checks; and what a conflict takes beside its rules is
asked of that program, too.
"""

from collections.abc import Iterator
from dataclasses import replace

from capacity.cells import Where
from capacity.facts import Base
from capacity.questions.conflicts.case import Case
from capacity.questions.conflicts.search import smallest, thinned
from capacity.questions.conflicts.solving import Clock
from capacity.questions.conflicts.trials import Ground, Wanted, trial_on
from capacity.questions.conflicts.values import Conflict, Conflicts
from capacity.slots.rules.families import lifted
from capacity.slots.rules.rule import Met, Rule, RuleKind, nothing_helps
from capacity.slots.rules.windows import rule_of


def _holds(rule: Rule, base: Base, where: Where) -> str:
    return "some rule that this explanation does not know"


def _blocks(rule: Rule, met: Met, base: Base, where: Where) -> str:
    return "kept out by some rule that this explanation does not know"


UNKNOWN = Rule(RuleKind("unknown rule", _holds, _blocks, nothing_helps), "")
"""What keeps checks apart when no rule of any family does."""


def confirmed(found: Conflicts, ground: Ground, clock: Clock) -> Conflicts:
    """Return an answer that says that all is possible, if the program agrees.

    Otherwise the fewest checks that cannot all be placed, with an ``UNKNOWN`` rule; and no
    verdict where the time does not suffice.
    """

    def holds(rules: frozenset[Rule]) -> bool | None:
        names = frozenset(rule.of for rule in rules)
        return trial_on(ground, Wanted(names), clock).answer.holds

    windows = tuple(rule_of(check) for check in ground.base.checks if check.name in found.asked)
    verdict = holds(frozenset(windows))
    if verdict is not False:
        return replace(found, possible=verdict)
    few, is_smallest = thinned(holds, smallest(holds, frozenset(), windows))
    conflict = Conflict((*few, UNKNOWN), is_smallest)
    return replace(found, possible=False, conflicts=(conflict,), all_told=False)


def rules_of_stays(case: Case) -> Iterator[Rule]:
    """Yield the rules about how long checks stay without which a conflict would be none.

    Each is lifted by itself, the conflict's own checks beside all other rules being placed by
    the program.
    """
    if case.trial_of_few(case.base).answer.holds is not False:
        return  # not the program keeps them apart, but a date that has passed
    packages = {check.package for check in case.base.checks if check.name in case.own}
    for rule, without in lifted(case.base, packages):
        if rule not in case.rules and case.trial_of_few(without).answer.holds:
            yield rule
