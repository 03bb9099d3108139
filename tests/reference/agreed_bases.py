"""Small random bases with own days of the base, in addition to every other rule.

``random.Random(seed)`` adds the same to a base for a seed. All is invented.
"""

from datetime import timedelta
from random import Random

from capacity.facts import Base, CalendarDays


def with_own_days(base: Base, rng: Random) -> Base:
    """Return the base closed on some days, at work on others, and with shortened days."""
    rows, first = [], base.first_day - timedelta(days=3)
    while len(rows) < 5:
        first += timedelta(days=rng.randint(0, 7))
        last = first + timedelta(days=rng.randint(0, 3))
        worked = rng.choice([True, False, False, None])
        share = 1.0 if worked is False else rng.choice([0.25, 0.5, 0.8, 1.0])
        rows.append(CalendarDays(first, last, worked, share))
        first = last + timedelta(days=1)
    return base.replace(calendar_days=tuple(rows))
