"""One file a family of rules; each states its inequality and returns named rows."""

from collections.abc import Callable

from capacity.facts import Base
from capacity.slots.candidates.columns import Columns
from capacity.slots.rules.bay_days import bay_days
from capacity.slots.rules.equipment import equipment
from capacity.slots.rules.floor_shared import floor_shared
from capacity.slots.rules.rows import Rows
from capacity.slots.rules.shop_windows import shop_windows
from capacity.slots.rules.ways_clear import ways_clear

Family = Callable[[Columns, Base], Rows]
"""Makes the rows of one family of rules over the columns of a base."""

PACKING_RULES: tuple[Family, ...] = (bay_days, ways_clear, floor_shared, equipment, shop_windows)

# Families of many rows of which few ever bind.
LAZY_RULES: tuple[Family, ...] = (shop_windows,)

__all__ = ["LAZY_RULES", "PACKING_RULES", "Family"]
