"""The N-th step fails: what was found is kept, and nothing is left behind."""
