"""Cross checks of what ties bays to each other: the way through one, and shared floor."""

from collections.abc import Iterator, Mapping

from capacity.inputs.reading.rows import Sheets
from capacity.inputs.reading.sheets import BayRow
from capacity.messages import Level, Message


def bays_are_tied_to_others(sheets: Sheets) -> Iterator[Message]:
    """Require that no bay is reached through itself or shares floor with itself."""
    for bay in sheets[BayRow].rows:
        if bay.reached_through == bay.bay:
            yield Message(
                Level.ERROR,
                sheets.at(bay, "reached_through"),
                f"the bay '{bay.bay}' is reached through itself.",
                "Name the bay in front of it, or clear the cell.",
            )
        if bay.bay in bay.shares_floor_with:
            yield Message(
                Level.ERROR,
                sheets.at(bay, "shares_floor_with"),
                f"the bay '{bay.bay}' shares floor with itself.",
                "Name only other bays, or clear the cell.",
            )


def ways_run_in_no_circle(sheets: Sheets) -> Iterator[Message]:
    """Require that no bay is reached through itself by way of others."""
    rows = {bay.bay: bay for bay in sheets[BayRow].rows}
    for circle in _circles(bays_in_front(sheets)):
        way = " through ".join(f"'{name}'" for name in circle)
        yield Message(
            Level.ERROR,
            sheets.at(rows[circle[0]], "reached_through"),
            f"bays are reached through each other in a circle: {way}.",
            "Clear Reached through for the bay that an aircraft comes to first.",
        )


def bays_in_front(sheets: Sheets) -> dict[str, str]:
    """Return the bay through which each is reached, of those reached through another."""
    return {
        bay.bay: bay.reached_through
        for bay in sheets[BayRow].rows
        if bay.reached_through and bay.reached_through != bay.bay
    }


def way_to(bay: str, in_front: Mapping[str, str]) -> list[str]:
    """Return the bays that an aircraft passes on its way out of a bay, however many."""
    passed: dict[str, None] = {}
    step = in_front.get(bay)
    while step is not None and step not in passed and step != bay:
        passed[step] = None
        step = in_front.get(step)
    return list(passed)


def _circles(in_front: Mapping[str, str]) -> Iterator[list[str]]:
    """Return every circle once, its first bay named again at the end."""
    seen: set[str] = set()
    for bay in in_front:
        walked: dict[str, int] = {}
        step = bay
        while step in in_front and step not in seen:
            seen.add(step)
            walked[step] = len(walked)
            step = in_front[step]
        if step in walked:
            yield [*list(walked)[walked[step] :], step]
