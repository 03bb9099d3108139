"""Plans as values, and the audit that recomputes them from the facts."""
