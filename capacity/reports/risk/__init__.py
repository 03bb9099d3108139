"""Simulated weeks and days as text and sheets."""
