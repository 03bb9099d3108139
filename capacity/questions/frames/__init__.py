"""Answers as data frames."""
