"""Judge two plans on the same luck: the same findings drawn for both."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from capacity.facts import Base
from capacity.plans.plan import Plan
from capacity.questions.risk.answer import answer, late_days, late_money
from capacity.questions.risk.findings import Floats, spreads_of
from capacity.questions.risk.play import Ints, Played, play
from capacity.questions.risk.settings import RiskSettings
from capacity.questions.risk.values import Risk

Booleans = NDArray[np.bool_]

SAME = 1e-6
"""Differences up to this are the rounding of sums."""


@dataclass(frozen=True, slots=True)
class Difference:
    """A figure of two plans: means over the draws, and the mean of b less a with its error.

    ``b_better``, ``equal`` and ``a_better`` are shares of the draws that add up to 1; less is
    better. ``standard_error`` is that of ``difference``, from the draws' own differences, so
    that luck common to both plans does not count.
    """

    what: str
    a: float
    b: float
    difference: float
    standard_error: float
    b_better: float
    equal: float
    a_better: float


@dataclass(frozen=True, slots=True)
class CheckDifference:
    """A check that both plans place: on the day in each, and in one of them alone."""

    check: str
    on_day_a: float
    on_day_b: float
    only_a: float
    only_b: float


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two plans of one base, judged on the same draws.

    ``placed_only_by_a`` and ``placed_only_by_b`` name the checks that one plan alone places;
    they count in its figures.
    """

    a: Risk
    b: Risk
    figures: tuple[Difference, ...]
    checks: tuple[CheckDifference, ...]
    placed_only_by_a: tuple[str, ...]
    placed_only_by_b: tuple[str, ...]


def compare(
    base: Base,
    plan_a: Plan,
    plan_b: Plan,
    settings: RiskSettings | None = None,
    *,
    a_made_on: Base | None = None,
    b_made_on: Base | None = None,
) -> Comparison:
    """Return both plans' risks and how they differ draw by draw.

    Findings and agreed days are those of ``base``; ``a_made_on`` and ``b_made_on`` are the bases
    that the plans were made on where these are others, such as ``base_at(base, 0.8)``. Where no
    day is agreed, each plan is held to its own planned out day.

    Raises
    ------
    AuditError
        When a plan breaks a rule of the base that it was made on.
    CapacityError
        When a triangle cannot have the spread of a stage.
    """
    settings = settings or RiskSettings()
    spreads = spreads_of(base, settings)
    a = play(plan_a, base, settings, a_made_on or base)
    b = play(plan_b, base, settings, b_made_on or base, a.audit)
    late_a, late_b = _late_by_check(a), _late_by_check(b)
    return Comparison(
        a=answer(a, base, settings, spreads),
        b=answer(b, base, settings, spreads),
        figures=(
            _difference("Checks late out", _checks_late(a), _checks_late(b)),
            _difference("Days late out", _days_late(a), _days_late(b)),
            _difference(f"Late cost ({base.currency})", late_money(a), late_money(b)),
            _difference("Overload (man-hours)", a.overload.sum(axis=0), b.overload.sum(axis=0)),
        ),
        checks=tuple(
            _check_difference(check, late_a[check] == 0, late_b[check] == 0)
            for check in late_a
            if check in late_b
        ),
        placed_only_by_a=tuple(check for check in late_a if check not in late_b),
        placed_only_by_b=tuple(check for check in late_b if check not in late_a),
    )


def _late_by_check(played: Played) -> dict[str, Ints]:
    names = (planned.check.name for planned in played.checks)
    return dict(zip(names, late_days(played), strict=True))


def _checks_late(played: Played) -> Floats:
    return np.asarray((late_days(played) > 0).sum(axis=0), dtype=np.float64)


def _days_late(played: Played) -> Floats:
    return np.asarray(late_days(played).sum(axis=0), dtype=np.float64)


def _difference(what: str, a: Floats, b: Floats) -> Difference:
    less = b - a
    draws = len(less)
    return Difference(
        what=what,
        a=float(a.mean()),
        b=float(b.mean()),
        difference=float(less.mean()),
        standard_error=float(less.std(ddof=1) / math.sqrt(draws)) if draws > 1 else math.inf,
        b_better=float(np.mean(less < -SAME)),
        equal=float(np.mean(np.abs(less) <= SAME)),
        a_better=float(np.mean(less > SAME)),
    )


def _check_difference(check: str, on_day_a: Booleans, on_day_b: Booleans) -> CheckDifference:
    return CheckDifference(
        check=check,
        on_day_a=float(on_day_a.mean()),
        on_day_b=float(on_day_b.mean()),
        only_a=float(np.mean(on_day_a & ~on_day_b)),
        only_b=float(np.mean(on_day_b & ~on_day_a)),
    )
