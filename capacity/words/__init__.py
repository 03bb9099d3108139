"""What people read, said once: figures and lists in words, colours and marks."""

from capacity.words.figures import counted, day, days, hours, listed, money

__all__ = ["counted", "day", "days", "hours", "listed", "money"]
