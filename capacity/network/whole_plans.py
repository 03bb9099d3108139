"""Whole plans of the bases, audited at the prices of the workbook: the columns of the master.

A plan without one of its options is a plan too, with no more days past ``Latest in``: its other
checks keep their slots. So whatever plans are there, some of them go together.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from itertools import combinations

from capacity.errors import AuditError
from capacity.facts import Base, Network
from capacity.plans.audit import Audit, Auditor
from capacity.plans.listing import listed_anew
from capacity.plans.plan import Plan

# With no more of its enquiries wanted elsewhere too, a plan is kept without any of them.
MOST_LEFT_OUT = 5


@dataclass(frozen=True, slots=True)
class WholePlan:
    """A plan of a base that keeps all its rules, with the enquiries it takes."""

    at: str
    plan: Plan
    audit: Audit
    taken: frozenset[str]

    @property
    def days_past(self) -> int:
        """Days past ``Latest in``."""
        return self.audit.goals.days_past_latest_in

    @property
    def cost(self) -> float:
        """What it costs, enquiries paying their price less the ferry cost."""
        return self.audit.goals.money


class WholePlans:
    """The plans that were found of each base, those with the fewest days past it knows of.

    Days past ``Latest in`` are settled base by base: an enquiry is an option, which no booked
    check gives way to, so a base has the same fewest days with it and without.
    """

    def __init__(self, network: Network) -> None:
        """Begin without plans."""
        self.bases: Mapping[str, Base] = {
            name: base.replace(
                checks=(*base.checks, *(one.at(name) for one in network.asked_of(name)))
            )
            for name, base in network.bases.items()
        }
        self._shared = frozenset(enquiry.name for enquiry in network.enquiries)
        self._auditors = {name: Auditor(base) for name, base in self.bases.items()}
        self._found: dict[str, dict[Plan, WholePlan]] = {name: {} for name in self.bases}

    def add(self, at: str, plan: Plan) -> WholePlan:
        """Take in a plan of a base that may not have been asked all enquiries.

        Raises
        ------
        AuditError
            When it breaks a rule.
        """
        listed = listed_anew(plan, self.bases[at])
        known = self._found[at].get(listed)
        if known is None:
            audit = self._auditors[at].audit(listed)
            if audit.broken:
                raise AuditError(audit.broken)
            placed = {placement.check for placement in listed.placements}
            known = WholePlan(at, listed, audit, frozenset(placed & self._shared))
            self._found[at][listed] = known
        return known

    def of(self, at: str) -> list[WholePlan]:
        """Return the plans of a base with the fewest days past."""
        found = self._found[at].values()
        fewest = min((one.days_past for one in found), default=0)
        return [one for one in found if one.days_past == fewest]

    def fewest_days(self, at: str) -> int:
        """Return the fewest days past of the plans of a base."""
        return self.of(at)[0].days_past

    @property
    def are_complete(self) -> bool:
        """Whether there is a plan of every base."""
        return all(self._found.values())

    def make_room(self) -> None:
        """Add plans without enquiries that other bases have plans with."""
        for at in self.bases:
            elsewhere = frozenset[str]().union(
                *(one.taken for other in self.bases if other != at for one in self.of(other))
            )
            for one in self.of(at):
                for gone in _left_out(one.taken & elsewhere):
                    without = one.taken - gone
                    self.add(at, self._only(one, without))

    def _only(self, one: WholePlan, kept: Collection[str]) -> Plan:
        gone = one.taken - frozenset(kept)
        return Plan(tuple(p for p in one.plan.placements if p.check not in gone))


def _left_out(wanted: frozenset[str]) -> list[frozenset[str]]:
    """Return what may be left out together: anything of a few, else one alone or all."""
    names = sorted(wanted)
    if len(names) <= MOST_LEFT_OUT:
        sizes = range(1, len(names) + 1)
        return [frozenset(some) for size in sizes for some in combinations(names, size)]
    return [frozenset(names), *(frozenset({name}) for name in names)]
