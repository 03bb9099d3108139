"""Whole plans that go together, as an answer: each base with what it takes, audited once more."""

from collections.abc import Iterable, Sequence

from capacity.errors import AuditError
from capacity.facts import Network
from capacity.network.values import NetworkPlanned, NotTaken, PlanOfBase, Taken
from capacity.network.whole_plans import WholePlan
from capacity.plans.listing import listed_anew
from capacity.questions.asking.as_outcome import as_outcome
from capacity.settings import Settings


def answer_of(
    network: Network,
    chosen: Sequence[WholePlan],
    needed: Iterable[NotTaken],
    settings: Settings,
    stopped_by: str,
) -> NetworkPlanned:
    """Return the answer without what is proven of it.

    ``needed`` are what enquiries that no base takes would have to pay at one base or another.

    Raises
    ------
    AuditError
        When a plan breaks a rule, or two bases take the same enquiry.
    """
    bases = tuple(_of_base(network, one, settings, stopped_by) for one in chosen)
    names = [taken.check for one in bases for taken in one.taken]
    if twice := sorted({name for name in names if names.count(name) > 1}):
        raise AuditError([f"{name} is taken by two bases" for name in twice])
    return NetworkPlanned(
        bases=bases,
        not_taken=tuple(_not_taken(network, frozenset(names), needed)),
        bound=None,
        days_bound=0,
        shared_prices={},
        rounds=0,
        seconds=0.0,
        stopped_by=stopped_by,
        settings=settings,
    )


def _of_base(network: Network, one: WholePlan, settings: Settings, stopped_by: str) -> PlanOfBase:
    own = network.bases[one.at]
    asked = [enquiry for enquiry in network.asked_of(one.at) if enquiry.name in one.taken]
    base = own.replace(checks=(*own.checks, *(enquiry.at(one.at) for enquiry in asked)))
    outcome = as_outcome(listed_anew(one.plan, base), base, settings, 0.0, stopped_by)
    if outcome.audit.broken:
        raise AuditError(outcome.audit.broken)
    accounts = outcome.audit.by_check()
    taken = tuple(
        Taken(
            check=enquiry.name,
            at=one.at,
            bay=accounts[enquiry.name].bay,
            in_day=accounts[enquiry.name].in_day,
            out_day=accounts[enquiry.name].out_day,
            price=enquiry.check.price,
            ferry_cost=enquiry.ferry_costs[one.at],
        )
        for enquiry in asked
    )
    return PlanOfBase(one.at, base, outcome, taken)


def _not_taken(
    network: Network, taken: frozenset[str], needed: Iterable[NotTaken]
) -> Iterable[NotTaken]:
    """Yield every enquiry that no base takes, with the lowest price found, whichever base it is."""
    lowest: dict[str, NotTaken] = {}
    for one in needed:
        known = lowest.get(one.check)
        if known is None or (one.needed_price or 0.0) < (known.needed_price or 0.0):
            lowest[one.check] = one
    for enquiry in network.enquiries:
        if enquiry.name not in taken:
            yield lowest.get(enquiry.name, NotTaken(enquiry.name, enquiry.check.price))
