"""A plan simulated with findings, delays and absences."""
