"""Why a check has its slot, or none."""
