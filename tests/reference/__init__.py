"""Checks against something outside: published values, theorems, a second solution."""
