"""Tests of the crew plan."""
