"""Work that does not go together at the same time, as data."""

from dataclasses import dataclass
from enum import StrEnum

from capacity.cautions.activities import Activity
from capacity.cautions.caution import SourceStatus

ARRANGED = "CCAR-145R3 145.28(3): arrange work that could affect other work"


class Reach(StrEnum):
    """How far the work reaches; the value reads in a sentence."""

    AIRCRAFT = "on one aircraft"
    FLOOR = "in the same bay or on the same floor"


@dataclass(frozen=True, slots=True)
class Incompatible:
    """``one`` and ``other`` do not go together within ``reach``; None is any other work.

    The pairs as such are derived; ``status`` is that of what ``source`` says.
    """

    one: Activity
    other: Activity | None
    reach: Reach
    source: str
    status: SourceStatus


def _aircraft(one: Activity, other: Activity | None, source: str) -> Incompatible:
    return Incompatible(one, other, Reach.AIRCRAFT, source, SourceStatus.DERIVED)


MATRIX = (
    _aircraft(
        Activity.FUEL_TANK,
        Activity.HOT_WORK,
        "29 CFR 1910.252(a)(2) on hot work near what burns; 29 CFR 1910.146 on tanks",
    ),
    _aircraft(
        Activity.FUEL_TANK,
        Activity.POWER_ON,
        f"29 CFR 1910.146(b) on flammable vapour; {ARRANGED}",
    ),
    _aircraft(
        Activity.JACKS,
        Activity.HEAVY_REMOVAL,
        f"handbook FAA-H-8083-30 on jacking; {ARRANGED}",
    ),
    _aircraft(
        Activity.JACKS,
        Activity.WING_DOCK,
        "handbook FAA-H-8083-30: clear workstands from under and near the aircraft",
    ),
    _aircraft(
        Activity.GEAR_SWING,
        Activity.GEAR_WELLS,
        "accident report EW/C96/6/5 of 1996; common practice: nobody in the wells",
    ),
    Incompatible(
        Activity.GEAR_SWING,
        None,
        Reach.AIRCRAFT,
        "accident report EW/C96/6/5 of 1996 (summary): no other work in the bay area",
        SourceStatus.SEEN,
    ),
    _aircraft(Activity.POWERED_CONTROLS, Activity.SURFACES, ARRANGED),
    Incompatible(
        Activity.PAINT,
        None,
        Reach.FLOOR,
        "14 CFR 145.103(a)(2): painting is segregated",
        SourceStatus.SEEN,
    ),
    Incompatible(Activity.X_RAY, None, Reach.FLOOR, ARRANGED, SourceStatus.DERIVED),
)
"""Of the pairs of one activity the particular ones stand before any other work."""
