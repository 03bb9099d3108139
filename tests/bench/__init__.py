"""Benchmarks on invented quarters; run by hand, never part of the unit tests."""
