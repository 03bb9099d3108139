"""Cautions: work that can hurt someone, told beside the plan; local rules always come first."""
