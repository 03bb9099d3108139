"""The key figures of a plan, from the facts and the audit."""

from dataclasses import replace

from capacity.facts import Base, Status
from capacity.plans.audit import Audit, Auditor, CheckAccount
from capacity.plans.plan import Plan
from capacity.questions.asking.differences import moves_between
from capacity.questions.key_figures.bay_use import bay_uses
from capacity.questions.key_figures.labour_use import (
    ALL_SKILLS,
    by_skill,
    months_of,
    use_of,
    weeks_of,
)
from capacity.questions.key_figures.options import option_results
from capacity.questions.key_figures.values import (
    Changed,
    KeyFigures,
    TurnRound,
    UnusedInterval,
)


def key_figures(
    base: Base, plan: Plan, *, audit: Audit | None = None, earlier: Plan | None = None
) -> KeyFigures:
    """Return the key figures of a plan, and what is other than in an ``earlier`` one.

    ``audit`` is that of the plan where it is known already. Figures of the earlier plan are those
    of its slots in the base as it is now, checks and bays that are gone or new left out.
    """
    auditor = Auditor(base)
    found = _figures(base, plan, audit or auditor.audit(plan), auditor)
    if earlier is None:
        return found
    return replace(found, changed=_changed(base, plan, earlier))


def _figures(base: Base, plan: Plan, audit: Audit, auditor: Auditor) -> KeyFigures:
    weeks = weeks_of(base, audit.weeks)
    turn_rounds = tuple(_turn_round(base, account) for account in audit.accounts)
    no_slot = tuple(
        check.name
        for check in base.checks
        if check.status is not Status.OPTION and check.name not in audit.by_check()
    )
    promised = [turn for turn in turn_rounds if turn.agreed_out is not None]
    broken = sum(base.check(name).is_agreed for name in no_slot)
    early = [account for account in audit.accounts if account.early_days]
    return KeyFigures(
        first=base.first_day,
        last=base.last_in_day,
        bays=bay_uses(base, plan.placements),
        weeks=weeks,
        labour=use_of(ALL_SKILLS, (week.total for week in weeks)),
        labour_by_skill=by_skill(base, weeks),
        months=months_of(base, audit.weeks),
        turn_rounds=turn_rounds,
        promised=len(promised) + broken,
        on_time=sum(turn.is_on_time for turn in promised),
        options=tuple(option_results(base, plan, audit, auditor)),
        unused_interval=UnusedInterval(
            sum(account.early_days for account in early),
            len(early),
            sum(account.early_money for account in early),
        ),
        days_past_latest_in=audit.goals.days_past_latest_in,
        no_slot=no_slot,
        money=audit.goals.money,
    )


def _turn_round(base: Base, account: CheckAccount) -> TurnRound:
    check = base.check(account.check)
    began = max(account.in_day, base.first_day)
    return TurnRound(
        check=check.name,
        customer=check.customer,
        in_day=account.in_day,
        out_day=account.out_day,
        agreed_out=check.agreed_out_from(account.in_day),
        man_hours=account.man_hours,
        work_days=max(0, (account.out_day - began).days),
    )


def _changed(base: Base, plan: Plan, earlier: Plan) -> Changed:
    bays = {bay.name for bay in base.bays}
    known = replace(
        earlier,
        placements=tuple(
            placement
            for placement in earlier.placements
            if base.has_check(placement.check) and placement.bay in bays
        ),
    )
    told = {p.check for p in earlier.placements} | {*earlier.not_placed, *earlier.refused}
    taken = plan.by_check()
    new = tuple(
        check.name
        for check in base.checks
        if check.name not in told and (check.status is not Status.OPTION or check.name in taken)
    )
    without = base.replace(checks=tuple(c for c in base.checks if c.name not in new))
    then = Auditor(without)
    return Changed(
        before=_figures(without, known, then.audit(known), then),
        moves=moves_between(known, plan, new),
        new=new,
        gone=tuple(sorted(name for name in told if not base.has_check(name))),
    )
