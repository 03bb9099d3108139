"""The search: both sides, the incumbent and the bound."""
