"""Why the plan is as it is, as a sheet."""
