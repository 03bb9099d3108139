"""What findings do to a plan: who is late out, which weeks run short, how much to keep back."""

import time
from collections.abc import Callable
from dataclasses import replace
from threading import Event

from capacity.errors import StoppedError
from capacity.facts import Base
from capacity.plans.plan import Plan
from capacity.questions.risk.answer import answer
from capacity.questions.risk.findings import spreads_of
from capacity.questions.risk.play import Played, drawn_of, joined, play
from capacity.questions.risk.settings import Keep, RiskSettings, Shape
from capacity.questions.risk.values import CheckRisk, Risk, Totals, WeekRisk

__all__ = ["CheckRisk", "Keep", "Risk", "RiskSettings", "Shape", "Totals", "WeekRisk", "risk_of"]

DRAWS_A_PART = 200
"""So many simulations between two looks at the clock."""


def risk_of(
    base: Base,
    plan: Plan,
    settings: RiskSettings | None = None,
    *,
    made_on: Base | None = None,
    seconds: float | None = None,
    stop: Event | None = None,
    on_draws: Callable[[int], None] | None = None,
) -> Risk:
    """Return how a plan may end when findings are drawn.

    ``made_on`` is the base that the plan was made on, where that is another than ``base``, such
    as its variant at 80 % findings: it says which man-hours a day and which days are planned,
    ``base`` what findings are to be expected, what days are agreed and what late ones cost.

    With ``seconds`` or a ``stop`` there are as many draws as there is time for, in parts; the
    settings of the answer tell how many. ``on_draws`` is told their number after each part.

    Raises
    ------
    AuditError
        When the plan breaks a rule of the base that it was made on.
    CapacityError
        When a triangle cannot have the spread of a stage.
    StoppedError
        When ``stop`` is set before the first part is done.
    """
    began = time.monotonic()
    settings = settings or RiskSettings()
    spreads = spreads_of(base, settings)
    if seconds is None and stop is None and on_draws is None:
        return answer(play(plan, base, settings, made_on or base), base, settings, spreads)
    drawn = drawn_of(plan, base, settings, made_on or base)
    parts: list[Played] = []
    done = 0
    while done < settings.draws:
        if stop is not None and stop.is_set():
            break
        if parts and seconds is not None and time.monotonic() - began >= seconds:
            break
        until = min(done + DRAWS_A_PART, settings.draws)
        parts.append(drawn.played(slice(done, until)))
        done = until
        if on_draws is not None:
            on_draws(done)
    if not parts:
        raise StoppedError("It was stopped before the first simulations were done.")
    return answer(joined(parts), base, replace(settings, draws=done), spreads)
