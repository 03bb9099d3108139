"""Several bases planned together."""
