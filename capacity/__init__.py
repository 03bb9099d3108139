"""Slot plans for an aircraft heavy-maintenance base, with proof."""
