"""Which cautions apply to a stage, to a base and to a plan."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from capacity.cautions import catalogue
from capacity.cautions.activities import SAYS, Activity, signs_of
from capacity.cautions.caution import AppliedCaution, Caution
from capacity.facts import Base, Shift, Stage
from capacity.plans.plan import Plan

LONGEST_SHIFT_HOURS = 12.0
"""Hours of a scheduled shift; see the source of the caution on long shifts."""

CAUTION_OF: Mapping[Activity, Caution] = {
    Activity.JACKS: catalogue.JACKS,
    Activity.GEAR_SWING: catalogue.GEAR_SWING,
    Activity.FUEL_TANK: catalogue.FUEL_TANK,
    Activity.HOT_WORK: catalogue.HOT_WORK,
    Activity.POWERED_CONTROLS: catalogue.POWERED_CONTROLS,
    Activity.HEIGHT: catalogue.HEIGHT,
    Activity.PAINT: catalogue.PAINTING,
    Activity.PAINT_REMOVAL: catalogue.PAINT_REMOVAL,
    Activity.X_RAY: catalogue.X_RAY,
    Activity.ENGINE_RUN: catalogue.ENGINE_RUN,
}


def cautions_of_stage(stage: Stage, works_nights: bool) -> tuple[AppliedCaution, ...]:
    """Return the cautions of one stage; ``works_nights`` says whether any crew does."""
    found = [
        AppliedCaution(CAUTION_OF[sign.activity], sign.why, sign.is_guess)
        for sign in signs_of(stage)
        if sign.activity in CAUTION_OF
    ]
    if stage.alone:
        found.append(_said(catalogue.ALONE, "Alone is yes"))
    if stage.critical:
        found.append(_said(catalogue.INDEPENDENT_INSPECTION, "Critical is yes"))
        found.append(_said(catalogue.SAME_TASK_TWICE, "Critical is yes"))
        if stage.by_night and works_nights:
            why = "Critical is yes, By night is not no, and crews work nights"
            found.append(_said(catalogue.ALERTNESS, why))
    return tuple(replace(caution, stage=stage.name) for caution in found)


def cautions_of_base(base: Base) -> tuple[AppliedCaution, ...]:
    """Return the cautions that concern the base as a whole; that on planning aids always."""
    return tuple(_of_base(base))


def cautions_of_plan(plan: Plan, base: Base) -> tuple[AppliedCaution, ...]:
    """Return the cautions of the base, then those of every stage that the plan has, in turn."""
    stages = {name: base.stages_of(name) for name in {p.check for p in plan.placements}}
    works_nights = any(shift.night for shift in shifts_worked(base))
    of_stages = (
        replace(caution, check=placement.check)
        for placement in plan.placements
        for days in placement.stages
        for caution in cautions_of_stage(stages[placement.check][days.stage], works_nights)
    )
    return (*cautions_of_base(base), *of_stages)


def by_caution(
    applied: Iterable[AppliedCaution],
) -> tuple[tuple[AppliedCaution, ...], ...]:
    """Return what is alike together: a group a caution, in the order in which each is met."""
    alike: dict[str, list[AppliedCaution]] = {}
    for one in applied:
        alike.setdefault(one.caution.id, []).append(one)
    return tuple(map(tuple, alike.values()))


def shifts_worked(base: Base) -> tuple[Shift, ...]:
    """Return the shifts that people work by the pattern of a crew."""
    cycles = {pattern.name: pattern.cycle for pattern in base.patterns}
    worked = {shift for crew in base.crews if crew.heads for shift in cycles[crew.pattern]}
    return tuple(shift for shift in base.shifts if shift.name in worked)


def _of_base(base: Base) -> Iterator[AppliedCaution]:
    yield AppliedCaution(catalogue.PLANNING_AID, "always", is_guess=False)
    shifts = shifts_worked(base)
    if len(shifts) > 1:
        yield _said(catalogue.HANDOVER, f"crews work {len(shifts)} shifts")
    if nights := [shift.name for shift in shifts if shift.night]:
        yield _said(catalogue.NIGHT_WORK, f"crews work nights ({', '.join(nights)})")
    for shift in shifts:
        if shift.hours > LONGEST_SHIFT_HOURS:
            yield _said(catalogue.LONG_SHIFT, f"the shift {shift.name} has {shift.hours:g} hours")
    if skills := [skill.name for skill in base.skills if skill.overtime_cap > 0]:
        yield _said(catalogue.OVERTIME, f"overtime may be bought in {', '.join(skills)}")


def _said(caution: Caution, why: str) -> AppliedCaution:
    return AppliedCaution(caution, f"{SAYS}: {why}", is_guess=False)
