"""One file a family of rules; each states its inequality and returns named rows."""

from capacity.slots.rules.bay_days import bay_days

PACKING_RULES = (bay_days,)

__all__ = ["PACKING_RULES"]
