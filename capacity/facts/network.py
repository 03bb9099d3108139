"""Several bases, and the aircraft that any of them may take."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from capacity.facts.base import Base
from capacity.facts.checks import Check


@dataclass(frozen=True, slots=True)
class SharedEnquiry:
    """An aircraft that one of several bases may take, as an option.

    ``ferry_costs`` is what flying it there and back costs, in money, by the name of each base that
    is asked; other bases are not. What a base earns by it is the price of the ``check`` less that.
    """

    check: Check
    ferry_costs: Mapping[str, float]

    @property
    def name(self) -> str:
        """The name of the check."""
        return self.check.name

    def earns_at(self, base: str) -> float:
        """Return what a base that is asked earns by it: its price less the ferry cost."""
        return self.check.price - self.ferry_costs[base]

    def at(self, base: str, shared_price: float = 0.0) -> Check:
        """Return it as an option of a base, that pays what is earned less a ``shared_price``."""
        return replace(self.check, price=self.earns_at(base) - shared_price)


@dataclass(frozen=True)
class Network:
    """Bases by name, with one currency and one first day, and the aircraft asked of them."""

    bases: Mapping[str, Base]
    enquiries: tuple[SharedEnquiry, ...]

    @property
    def currency(self) -> str:
        """The currency of all bases."""
        return next(iter(self.bases.values())).currency

    def asked_of(self, base: str) -> tuple[SharedEnquiry, ...]:
        """Return the enquiries that a base is asked and would earn anything by.

        An option never makes the rest of a plan cheaper, so one that earns nothing is in no plan
        that is best.
        """
        return tuple(
            one for one in self.enquiries if base in one.ferry_costs and one.earns_at(base) > 0
        )
