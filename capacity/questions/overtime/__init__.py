"""Weeks of overtime, the limits on it, and measures that take it away."""
