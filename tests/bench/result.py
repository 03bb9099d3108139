"""What one way of planning one base came to, and the line that is kept of it."""

from dataclasses import dataclass
from math import isfinite

from capacity.facts import Base
from capacity.plans.audit import Audit, Auditor
from capacity.plans.outcome import relative_gap
from capacity.plans.plan import Goals, Plan


@dataclass(frozen=True)
class Found:
    """Seconds taken, the audited goals of the plan found, and what was proven of them.

    ``days_past`` and ``money`` are None when no plan was found. ``days_bound`` is proven of
    goal 1, ``bound`` of the money of all plans with no more days past than this one; None
    where nothing is proven. ``first_seconds`` is when the first plan stood, where it is known.
    ``turnover`` is what labour the plan buys and the prices it earns come to together, where kept.
    """

    seconds: float
    stopped_by: str
    days_past: int | None = None
    money: float | None = None
    days_bound: int | None = None
    bound: float | None = None
    first_seconds: float | None = None
    turnover: float | None = None

    @property
    def gap_of_turnover(self) -> float | None:
        """Return the gap relative to the larger of money and turnover; None where one is unknown.

        Where what options earn is taken off the money, a small sum makes a large share of it.
        """
        if self.money is None or self.bound is None or self.turnover is None:
            return None
        return (self.money - self.bound) / max(1.0, abs(self.money), self.turnover)

    @property
    def gap(self) -> float | None:
        """Return the proven relative gap of the money; None without a plan or a bound."""
        return None if self.money is None else relative_gap(self.money, self.bound)

    @property
    def goals(self) -> tuple[int, float] | None:
        """Return days past ``Latest in`` and money, compared in this order."""
        if self.days_past is None or self.money is None:
            return None
        return self.days_past, self.money


@dataclass(frozen=True)
class Line:
    """One measurement: what was asked, what was found, and how much memory it took.

    ``seconds`` is the limit that was given; ``found`` is None when the run ``failed``, for the
    reason given. ``peak_gib`` is the most memory that the process and its children held at
    once, where it could be read. ``sources`` names the state of the sources that was measured
    and ``cores`` the processor cores there were.
    """

    work: str
    seed: int
    seconds: float
    found: Found | None
    failed: str = ""
    peak_gib: float | None = None
    sources: str = ""
    cores: int | None = None


def audited_goals(plan: Plan, base: Base) -> Goals:
    """Return the goals of a plan by the audit, for peers as for ourselves.

    Raises
    ------
    AssertionError
        When the plan breaks a rule: it is no plan then.
    """
    return audited(plan, base).goals


def audited(plan: Plan, base: Base) -> Audit:
    """Return the audit of a plan; raises ``AssertionError`` when the plan breaks a rule."""
    audit = Auditor(base).audit(plan)
    if audit.broken:
        raise AssertionError("\n".join(audit.broken))
    return audit


def turnover_of(audit: Audit) -> float:
    """Return labour bought + prices of options taken, in the base's currency."""
    bought = audit.overtime_money + audit.contract_money + audit.overload_money
    return bought + sum(account.price for account in audit.accounts)


def checked_bound(bound: float, money: float) -> float | None:
    """Return a peer's bound of the money of its own plan, None when it says nothing.

    Raises
    ------
    AssertionError
        When it lies above the money by more than sums of floats may be off.
    """
    if not isfinite(bound):
        return None
    assert bound <= money + 1e-6 * max(1.0, abs(money)), f"bound {bound}, money {money}"
    return min(bound, money)
