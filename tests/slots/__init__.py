"""Tests of candidates, the program over them, and the search."""
