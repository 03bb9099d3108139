"""Why a bay cannot take a check: size, docking, and the kinds of work done there."""

from collections.abc import Collection

from capacity.facts import AircraftType, Base, Bay, Check, sizes_exceeded
from capacity.slots.candidates.work import work_of
from capacity.words import listed

MOST_BAYS = 6


def kinds_needed(check: Check, base: Base) -> tuple[str, ...]:
    """Return the kinds of work that are left to do on a check, in their order."""
    package = base.package_of(check)
    skills = [skill.name for skill in base.skills]
    work = work_of(check, package, skills, base.shop_loops)
    return tuple(dict.fromkeys(stage.kind for stage in work))


def misfits(bay: Bay, aircraft: AircraftType, kinds: Collection[str]) -> tuple[str, ...]:
    """Return every reason why a bay cannot hold a type for work of these kinds; none if it can."""
    found = sizes_exceeded(aircraft, bay)
    if bay.docking and aircraft.docking is not None and aircraft.docking not in bay.docking:
        found.append(f"it has no docking '{aircraft.docking}'")
    if kinds and not set(kinds) & bay.work:
        asked = listed([f"'{kind}'" for kind in kinds], "or")
        found.append(f"it does no {asked}")
    return tuple(found)


def bays_that_hold(check: Check, base: Base) -> str:
    """Say which bays could hold a check, or for each why it cannot: others are no help."""
    if missing := bays_missing(check, base):
        return missing
    aircraft = base.type(check.type)
    kinds = kinds_needed(check, base)
    bays = [bay.name for bay in base.bays if not misfits(bay, aircraft, kinds)]
    return f"only {bays[0]} can hold it" if len(bays) == 1 else f"{listed(bays, 'or')} can hold it"


def bays_missing(check: Check, base: Base) -> str:
    """Say for which work no bay can hold a check, and why; nothing where there is a bay for all."""
    aircraft = base.type(check.type)
    kinds = kinds_needed(check, base)
    reasons = {bay.name: misfits(bay, aircraft, kinds) for bay in base.bays}
    if all(reasons.values()) and not kinds:
        return "no bay can hold it"
    for kind in kinds:
        if not any(kind in bay.work and not reasons[bay.name] for bay in base.bays):
            able = [bay for bay in base.bays if kind in bay.work] or list(base.bays)
            told = [
                f"{bay.name}: {listed(misfits(bay, aircraft, (kind,)))}" for bay in able[:MOST_BAYS]
            ]
            more = "; and more" if len(able) > MOST_BAYS else ""
            return f"no bay can hold it for '{kind}' ({'; '.join(told)}{more})"
    return ""
