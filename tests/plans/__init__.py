"""Tests of plans and their audit."""
