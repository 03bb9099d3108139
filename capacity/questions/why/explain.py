"""Why: why there is no plan that keeps all windows, or why a check stands where it does."""

import time
from dataclasses import dataclass
from threading import Event

from capacity.cells import Where
from capacity.errors import SettingsError, StoppedError
from capacity.facts import Base, Status
from capacity.plans.audit import Audit
from capacity.plans.plan import Plan
from capacity.questions.conflicts.explaining import conflicts_of
from capacity.questions.conflicts.values import Conflicts
from capacity.questions.conflicts.wording import conflict_sentences
from capacity.questions.why.one_check import PlanReasons
from capacity.questions.why.values import Why
from capacity.questions.why.wording import why_sentences
from capacity.settings import Settings

# Checks that are explained without being asked for, the worst first.
MOST_CHECKS = 10

NOT_THE_BEST = "So this plan is not the best one in this respect: search longer."


@dataclass(frozen=True, slots=True)
class Explanation:
    """What was asked, answered as values and as sentences.

    ``conflicts`` is None where a plan keeps all windows, or one check was asked about.
    ``whys`` are those of the check asked, else of the checks without a place, past
    ``Latest in``, out late or refused, the worst first and at the most ten; empty without a
    plan. ``sentences`` is all of it in order, a sentence or a line of a list each.
    """

    conflicts: Conflicts | None
    whys: tuple[Why, ...]
    sentences: tuple[str, ...]


def explain(
    base: Base,
    plan: Plan | None = None,
    settings: Settings | None = None,
    *,
    check: str | None = None,
    where: Where | None = None,
    stop: Event | None = None,
) -> Explanation:
    """Explain a base that has no plan, a plan that does not keep all windows, or a check.

    Without a ``plan``: a smallest set of rules that cannot hold together, of the fixed checks
    first, else of all fixed and booked ones by ``Latest in``, and the cheapest ways out. With
    a plan, the same where it leaves a fixed or booked check out or past ``Latest in``. With a
    plan and a ``check``: what keeps that check from each better day. ``where`` gives the
    cells that the sentences name, as ``Book.where`` does. ``settings.seconds`` are for the
    conflicts and ways out; a check takes a few seconds. After ``stop`` is set nothing more
    is looked at.

    Raises
    ------
    InputError
        When the plan is none of this base's, or the check unknown.
    SettingsError
        When a check is asked about without a plan.
    StoppedError
        When ``stop`` is set before the check asked about is explained.
    AuditError
        When the plan, or one with a change, does not stand up to the audit.
    """
    if plan is None and check is not None:
        raise SettingsError("a check is explained within a plan: give the plan too")
    began, stop = time.monotonic(), stop or Event()
    settings = settings or Settings()
    reasons = None if plan is None else PlanReasons(base, plan)
    asked = [] if check is None else [check]
    conflicts = None
    if plan is None or (check is None and _is_past(plan, reasons)):
        conflicts = conflicts_of(base, settings.seconds, settings.seed, stop)
    if reasons is not None and plan is not None and check is None:
        asked = _worst_first(base, plan, reasons.audit)
    whys = []
    for name in asked[:MOST_CHECKS]:
        if stop.is_set():
            break
        if reasons is not None and (
            check is not None or time.monotonic() - began <= 2 * settings.seconds
        ):
            whys.append(reasons.why(name))
    if check is not None and not whys:
        raise StoppedError("It was stopped before the check was explained.")
    sentences = [] if conflicts is None else [*conflict_sentences(conflicts, base, where)]
    if plan is not None and conflicts is not None and conflicts.possible:
        sentences.append(NOT_THE_BEST)
    for why in whys:
        sentences += why_sentences(why, base, where)
    return Explanation(conflicts, tuple(whys), tuple(sentences))


def _is_past(plan: Plan, reasons: PlanReasons | None) -> bool:
    past = reasons is not None and reasons.audit.goals.days_past_latest_in > 0
    return bool(plan.not_placed) or past


def _worst_first(base: Base, plan: Plan, audit: Audit) -> list[str]:
    """Return the checks that a planner would ask about: those that did not get their wish."""
    rank: dict[str, tuple[float, ...]] = {name: (0.0,) for name in plan.not_placed}
    for account in audit.accounts:
        name = account.check
        if account.days_past_latest_in:
            rank[name] = (1.0, -account.days_past_latest_in)
        elif account.late_days:
            rank[name] = (2.0, -account.late_money, -account.late_days)
    rank |= {name: (3.0,) for name in plan.refused}
    fixed = {check.name for check in base.checks if check.status is Status.FIXED}
    return sorted((name for name in rank if name not in fixed), key=lambda name: rank[name])
