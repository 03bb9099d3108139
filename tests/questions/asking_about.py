"""Plans to put enquiries to, and every place of an enquiry found the long way round."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from random import Random

import capacity
from capacity.facts import Base, Check, Status
from capacity.plans.audit import Audit, Auditor
from capacity.plans.plan import Placement, Plan, StageDays
from capacity.plans.stays import StayLayout
from capacity.plans.worked_days import WorkedDays

Place = tuple[str, int]


def planned(base: Base, seconds: float = 4.0) -> Plan | None:
    """Plan as well as can be in the time; None where fixed checks cannot stand together."""
    outcome = capacity.plan(base, capacity.Settings(seconds=seconds))
    if isinstance(outcome, capacity.Impossible):
        return None
    assert isinstance(outcome, capacity.Planned)
    return outcome.plan


def any_plan(base: Base) -> Plan | None:
    """Plan somehow, before the two sides of a search would be started; None as above."""
    return planned(base, seconds=0.3)


def base_and_enquiries(base: Base, count: int, rng: Random) -> tuple[Base, list[Check]]:
    """Turn the last checks of a base into enquiries to what is left of it."""
    enquiries = [
        replace(
            check,
            status=Status.OPTION,
            price=float(rng.randint(0, 4000)),
            remaining=None,
            fixed_bay=None,
            fixed_in=None,
            earliest_in=max(check.earliest_in, base.first_day),
            latest_in=max(check.latest_in, base.first_day) + timedelta(days=7),
            agreed_out=None,
        )
        for check in base.checks[-count:]
    ]
    return base.replace(checks=base.checks[:-count]), enquiries


def refusing(plan: Plan, enquiries: list[Check]) -> Plan:
    """Return the plan with the enquiries refused."""
    return replace(plan, refused=(*plan.refused, *(enquiry.name for enquiry in enquiries)))


def every_place(base: Base, plan: Plan, enquiry: Check) -> Iterator[tuple[Place, Audit]]:
    """Try each bay and each day of the window at the normal pace; yield those that stand.

    Only for packages done in one bay. Stages are laid out, and all else judged, by the audit.
    """
    whole = base.replace(checks=(*base.checks, enquiry))
    layout, auditor = StayLayout(whole, WorkedDays(whole)), Auditor(whole)
    days = (min(enquiry.latest_in, base.last_in_day) - enquiry.earliest_in).days
    for bay in base.bays:
        for number in range(days + 1):
            in_day = enquiry.earliest_in + timedelta(days=number)
            stay = layout.lay_out(enquiry, bay.name, in_day)
            stages = tuple(StageDays(s.work.stage, s.first, s.until) for s in stay.stages)
            first = min(stages, key=lambda stage: stage.first).stage if stages else ""
            placement = Placement(enquiry.name, bay.name, first, in_day, stay.out_day, stages)
            audit = auditor.audit(replace(plan, placements=(*plan.placements, placement)))
            if not audit.broken:
                yield (bay.name, number), audit
