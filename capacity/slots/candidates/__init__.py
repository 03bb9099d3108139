"""Candidates: every slot that a check may have."""
