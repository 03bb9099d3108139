"""How many man-hours a day a stage has room for: its heads on the aircraft, over all shifts."""

import math

from capacity.facts import Base, Package

HOURS_OF_A_DAY = 24.0


def day_room_of(base: Base, package: Package) -> dict[str, float]:
    """Return the man-hours a day that find room, by the name of each stage of a package.

    room = max heads x hours of the shifts x productivity, over the shifts that some crew's
    pattern has, those by night only for a stage that may run by night; inf without ``max_heads``.
    """
    by_day, in_all = _shift_hours(base, nights=False), _shift_hours(base, nights=True)
    return {
        stage.name: math.inf
        if stage.max_heads is None
        else stage.max_heads * (in_all if stage.by_night else by_day) * base.productivity
        for stage in package.stages
    }


def _shift_hours(base: Base, *, nights: bool) -> float:
    """Return the hours of all shifts in the patterns of crews, a day of them at the most."""
    worked = {crew.pattern for crew in base.crews}
    names = {name for p in base.patterns if p.name in worked for name in p.cycle}
    return min(
        HOURS_OF_A_DAY,
        sum(s.hours for s in base.shifts if s.name in names and (nights or not s.night)),
    )
