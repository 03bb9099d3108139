"""The dashboard: pages over the same functions that the command uses; it decides nothing."""
