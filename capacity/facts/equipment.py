"""Things that several aircraft want at once: equipment pools and shops."""

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class Equipment:
    """A pool of ``number`` alike pieces: jack sets, tail docks, cranes."""

    name: str
    number: int


@dataclass(frozen=True, slots=True)
class EquipmentOutage:
    """``number`` pieces out of use from ``first`` to ``last``, both included."""

    equipment: str
    first: date
    last: date
    number: int
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Shop:
    """A shop that turns round ``items_per_day`` items, shared by all checks."""

    name: str
    items_per_day: float


@dataclass(frozen=True, slots=True)
class ShopLoop:
    """``items`` leave at the end of stage ``leave_at`` and are wanted before ``back_for``."""

    package: str
    shop: str
    items: int
    leave_at: str
    back_for: str
