"""Which bays can hold an aircraft, and do its work."""

from capacity.facts import AircraftType, Bay, Package


def fits(bay: Bay, aircraft: AircraftType) -> bool:
    """Span, length and tail are at most the bay's, and its docking is there."""
    return (
        aircraft.span_m <= bay.max_span_m
        and aircraft.length_m <= bay.max_length_m
        and aircraft.tail_m <= bay.max_tail_m
        and (not bay.docking or aircraft.docking is None or aircraft.docking in bay.docking)
    )


def does_work(bay: Bay, package: Package) -> bool:
    """Every kind of work of the package is done in the bay."""
    return {stage.work for stage in package.stages} <= bay.work
