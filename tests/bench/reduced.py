"""A base reduced to what a job shop knows: bays, windows and dates."""

from dataclasses import replace

from capacity.facts import Base

# With so many times the people, no week asks for more than the regular hours.
PLENTY = 1000


def reduced(base: Base) -> Base:
    """Return the base with hours that never bind and bays that stand free."""
    return base.replace(
        name=f"{base.name}, bays and dates only",
        bays=tuple(replace(bay, reached_through=None) for bay in base.bays),
        crews=tuple(replace(crew, heads=PLENTY * crew.heads) for crew in base.crews),
    )
