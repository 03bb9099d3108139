"""The bays of a base as rows of the board, and the days on which nobody works."""

from collections import Counter
from collections.abc import Sequence
from datetime import timedelta

from capacity.facts import Base
from capacity.plans.worked_days import WorkedDays
from capacity.words import days
from ui.board.rows import BayRow, Block
from ui.planner.span import Span


def bay_rows(base: Base, blocks: Sequence[Block]) -> tuple[BayRow, ...]:
    """Return a row for each bay, the bays of one hangar together."""
    used: Counter[int] = Counter()
    for block in blocks:
        if block.agreed is not None or block.late_days:
            used[block.bay] = max(used[block.bay], block.lane + 1)
    return tuple(
        BayRow(bay.name, bay.hangar, used[number], _bay_told(base, number))
        for number, bay in enumerate(base.bays)
    )


def by_hangar(base: Base) -> Base:
    """Return a base with the bays of each hangar together, hangars in order of their first bay."""
    hangars = list(dict.fromkeys(bay.hangar for bay in base.bays))
    bays = sorted(base.bays, key=lambda bay: hangars.index(bay.hangar))
    return base.replace(bays=tuple(bays))


def _bay_told(base: Base, number: int) -> str:
    bay = base.bays[number]
    told = [f"{bay.name}, {bay.hangar}"]
    if bay.shares_floor_with:
        told.append(f"shares floor with {', '.join(sorted(bay.shares_floor_with))}")
    if bay.reached_through:
        told.append(f"reached through {bay.reached_through}")
    if bay.changeover_days:
        told.append(f"{days(bay.changeover_days)} changeover")
    return "; ".join(told)


def days_off(base: Base, span: Span) -> tuple[tuple[int, int], ...]:
    """Return the runs of days that the base does not work, as days of the board."""
    worked = WorkedDays(base)
    runs: list[tuple[int, int]] = []
    for number in range(span.day_count):
        if span.first + timedelta(days=number) in worked:
            continue
        if runs and runs[-1][1] == number:
            runs[-1] = (runs[-1][0], number + 1)
        else:
            runs.append((number, number + 1))
    return tuple(runs)
