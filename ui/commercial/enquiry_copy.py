"""A copy of the plan with enquiries taken into it, beside the plan as it is."""

from dataclasses import dataclass, replace

from capacity.facts import Base
from capacity.plans.outcome import Planned
from capacity.plans.plan import Plan
from capacity.questions.asking.as_outcome import as_outcome
from capacity.questions.compare.two_plans import Comparison, compare
from capacity.reports.enquiries.ways import OTHERS_MOVED, ranked, way_of_cheapest
from capacity.reports.plan.stay_columns import stay_in_words
from ui.commercial.enquiry_job import Told


@dataclass(frozen=True, slots=True)
class Taking:
    """A plan that takes the enquiries of these names; ``label`` is for people."""

    label: str
    names: tuple[str, ...]
    plan: Plan


@dataclass(frozen=True, slots=True)
class PlanCopy:
    """The plan with the enquiries, on a base that has them; ``comparison`` has the plan first."""

    taking: Taking
    base: Base
    outcome: Planned
    comparison: Comparison


def takings_of(told: Told) -> tuple[Taking, ...]:
    """Return every plan to compare: combinations, the best in front, then each enquiry."""
    takings = []
    several = len(told.answers) > 1
    for rank, one in enumerate(ranked(told.combinations), start=1):
        if several and one.enquiries:
            best = "Best combination" if rank == 1 else f"Combination {rank}"
            takings.append(Taking(f"{best}: {', '.join(one.names)}", one.names, one.plan))
    alone = " alone" if several else ""
    for answer in told.answers:
        name = answer.enquiry.name
        if (way := way_of_cheapest(answer)) is not None and answer.cheapest is not None:
            label = f"{name}{alone}, {way.name}: {stay_in_words(way.placements)}"
            plan = answer.cheapest.taken_into(told.planned.plan)
            takings.append(Taking(label, (name,), plan))
        if (moved := answer.with_moves) is not None and moved.moves:
            takings.append(Taking(f"{name}{alone}, {OTHERS_MOVED}", (name,), moved.plan))
    return tuple(takings)


def copy_of(taking: Taking, told: Told) -> PlanCopy:
    """Return the copy with its audit and what is different; enquiries not taken are left out."""
    before = told.planned
    taken = [check for check in told.question.enquiries if check.name in taking.names]
    base = told.base.replace(checks=(*told.base.checks, *taken))
    known = {check.name for check in base.checks}
    plan = replace(
        taking.plan, refused=tuple(name for name in taking.plan.refused if name in known)
    )
    without = replace(before.plan, refused=(*before.plan.refused, *taking.names))
    return PlanCopy(
        taking=taking,
        base=base,
        outcome=as_outcome(plan, base, before.settings, told.seconds, "question", before.audit),
        comparison=compare(base, without, plan),
    )
