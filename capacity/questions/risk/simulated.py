"""What findings do to a plan: who is late out, which weeks run short, how much to keep back."""

from capacity.facts import Base
from capacity.plans.plan import Plan
from capacity.questions.risk.answer import answer
from capacity.questions.risk.findings import spreads_of
from capacity.questions.risk.play import play
from capacity.questions.risk.settings import Keep, RiskSettings, Shape
from capacity.questions.risk.values import CheckRisk, Risk, Totals, WeekRisk

__all__ = ["CheckRisk", "Keep", "Risk", "RiskSettings", "Shape", "Totals", "WeekRisk", "risk_of"]


def risk_of(
    base: Base, plan: Plan, settings: RiskSettings | None = None, *, made_on: Base | None = None
) -> Risk:
    """Return how a plan may end when findings are drawn.

    ``made_on`` is the base that the plan was made on, where that is another than ``base``, such
    as its variant at 80 % findings: it says which man-hours a day and which days are planned,
    ``base`` what findings are to be expected, what days are agreed and what late ones cost.

    Raises
    ------
    AuditError
        When the plan breaks a rule of the base that it was made on.
    CapacityError
        When a triangle cannot have the spread of a stage.
    """
    settings = settings or RiskSettings()
    spreads = spreads_of(base, settings)
    return answer(play(plan, base, settings, made_on or base), base, settings, spreads)
