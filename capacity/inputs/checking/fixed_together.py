"""Cross checks of fixed checks in different bays: their ways, their floor, their equipment."""

from bisect import bisect_left
from collections.abc import Iterator
from datetime import date
from itertools import accumulate

from capacity.inputs.checking.bay_ties import bays_in_front, way_to
from capacity.inputs.checking.equipment import numbers, outages, pieces_out
from capacity.inputs.checking.fixed import Stay, stays
from capacity.inputs.checking.running_totals import Totals
from capacity.inputs.checking.stay import LaidStage
from capacity.inputs.reading.rows import Sheets
from capacity.inputs.reading.sheets import BayRow, EquipmentRow
from capacity.messages import Level, Message
from capacity.words import day as as_day

Use = tuple[Stay, LaidStage]  # a fixed check and a stage of it that holds a piece

REMEDY = "Move one of the two, or make it booked."


def ways_are_clear(sheets: Sheets) -> Iterator[Message]:
    """Require in day >= move or out day <= move of whoever stands on the way of a move."""
    in_front = bays_in_front(sheets)
    if not in_front:
        return
    in_bay = _by_bay(stays(sheets))
    in_days = {bay: [stay.in_day for stay in row] for bay, row in in_bay.items()}
    longest = {bay: list(accumulate(row, _later_out)) for bay, row in in_bay.items()}
    for bay, row in in_bay.items():
        passed = [name for name in way_to(bay, in_front) if name in in_bay]
        for stay in row:
            for move, day in (("comes into", stay.in_day), ("leaves", stay.out_day)):
                if move == "leaves" and not stay.leaves_then:
                    continue
                for name in passed:
                    came_before = bisect_left(in_days[name], day)
                    other = longest[name][came_before - 1] if came_before else None
                    if other and day < other.out_day:
                        yield Message(
                            Level.ERROR,
                            sheets.at(stay.check, "fixed_in"),
                            f"the fixed check '{stay.check.check}' {move} '{bay}' on "
                            f"{as_day(day)} by "
                            f"way of '{name}', where '{other.check.check}' is from "
                            f"{as_day(other.in_day)} until {other.until}.",
                            REMEDY,
                        )


def floor_is_free(sheets: Sheets) -> Iterator[Message]:
    """Require of fixed checks in two bays that share floor: in day >= out day of the other."""
    pairs = {
        frozenset((bay.bay, other)): None
        for bay in sheets[BayRow].rows
        for other in bay.shares_floor_with
        if other != bay.bay
    }
    if not pairs:
        return
    in_bay = _by_bay(stays(sheets))
    for pair in pairs:
        there: dict[str, Stay] = {}
        both = [stay for bay in sorted(pair) for stay in in_bay.get(bay, ())]
        for stay in sorted(both, key=lambda stay: stay.in_day):
            bay = stay.bay.bay
            other = next((there[name] for name in pair - {bay} if name in there), None)
            if other and stay.in_day < other.out_day:
                yield Message(
                    Level.ERROR,
                    sheets.at(stay.check, "fixed_in"),
                    f"the fixed check '{stay.check.check}' comes into '{bay}' on "
                    f"{as_day(stay.in_day)}, "
                    f"but '{other.check.check}' is in '{other.bay.bay}' on the same floor until "
                    f"{other.until}.",
                    REMEDY,
                )
            there[bay] = _later_out(there[bay], stay) if bay in there else stay


def equipment_suffices(sheets: Sheets) -> Iterator[Message]:
    """Require on every day: stages of fixed checks that hold a piece <= pieces not out."""
    number = numbers(sheets)
    uses: dict[str, list[Use]] = {}
    for stay in stays(sheets) if sheets[EquipmentRow].rows else ():
        for laid in stay.stages:
            for pool in laid.stage.equipment:
                uses.setdefault(pool, []).append((stay, laid))
    rows = outages(sheets)
    for pool, taken in uses.items():
        if not number.get(pool):  # the stage has its message
            continue
        for day, (stay, laid), held, left in _over(taken, number[pool], pieces_out(rows[pool])):
            yield Message(
                Level.ERROR,
                sheets.at(stay.check, "fixed_in"),
                f"the fixed check '{stay.check.check}' needs a piece of the equipment '{pool}' on "
                f"{as_day(day)} for the stage '{laid.stage.name}'; fixed checks need {held} of "
                "them on "
                f"that day, and {left} of {number[pool]} can be used.",
                "Move a check or make it booked, or correct the sheets Equipment and Equipment "
                "outages.",
            )


def _over(taken: list[Use], number: int, out: Totals) -> Iterator[tuple[date, Use, int, int]]:
    """Return days on which more is held than left, who began last, and both numbers.

    Each check is named once at the most.
    """
    to_come = sorted(taken, key=lambda use: use[1].first, reverse=True)
    said: set[str] = set()
    held: list[Use] = []
    for day in sorted({*out.days, *(laid.first for _, laid in taken)}):
        held = [use for use in held if day < use[1].until]
        while to_come and to_come[-1][1].first <= day:
            held.append(to_come.pop())
        left = max(0, number - out.on(day))
        if len(held) > left and held[-1][0].check.check not in said:
            said.add(held[-1][0].check.check)
            yield day, held[-1], len(held), left


def _by_bay(found: list[Stay]) -> dict[str, list[Stay]]:
    """Return the stays in each bay, by in day."""
    in_bay: dict[str, list[Stay]] = {}
    for stay in sorted(found, key=lambda stay: stay.in_day):
        in_bay.setdefault(stay.bay.bay, []).append(stay)
    return in_bay


def _later_out(one: Stay, other: Stay) -> Stay:
    return other if other.out_day > one.out_day else one
