"""Which bays can hold an aircraft."""

from capacity.facts import AircraftType, Bay


def fits(bay: Bay, aircraft: AircraftType) -> bool:
    """Span, length and tail are at most the bay's, and its docking is there."""
    return (
        aircraft.span_m <= bay.max_span_m
        and aircraft.length_m <= bay.max_length_m
        and aircraft.tail_m <= bay.max_tail_m
        and (not bay.docking or aircraft.docking is None or aircraft.docking in bay.docking)
    )
