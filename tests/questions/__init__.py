"""Tests of the questions that a person asks of a plan."""
