"""Cross checks of shops: the loops on which items leave an aircraft and come back to it."""

import math
from collections.abc import Callable, Iterator
from functools import cache

from capacity.inputs.checking.packages import (
    LONGEST_PACKAGE,
    days_in_all,
    sound_networks,
    stage_names,
)
from capacity.inputs.checking.stay import Loop
from capacity.inputs.checking.work_left import TOLERANCE
from capacity.inputs.reading.rows import Sheets
from capacity.inputs.reading.sheets import LoopRow, ShopRow, StageRow
from capacity.inputs.wording import suggest
from capacity.messages import Level, Message

ENDLESS = 10**9  # worked days; what takes longer is refused all the same


def loops_name_stages(sheets: Sheets) -> Iterator[Message]:
    """Require that items leave at, and are back for, stages that the package has."""
    if not sheets[StageRow].names_known:
        return
    known = stage_names(sheets)
    for row in sheets[LoopRow].rows:
        for field in ("leave_at", "back_for"):
            name = getattr(row, field)
            if row.package in known and name not in known[row.package]:
                yield Message(
                    Level.ERROR,
                    sheets.at(row, field),
                    f"'{name}' is not a stage of the package '{row.package}'.",
                    suggest(name, known[row.package], "the sheet Packages"),
                )


def loops_run_forward(sheets: Sheets) -> Iterator[Message]:
    """Require that ``Back for`` comes after ``Leave at``, directly or by way of others."""
    sound, before = sound_networks(sheets), _stages_before(sheets)
    stages = {(stage.package, stage.stage): stage for stage in sheets[StageRow].rows}
    for row in sheets[LoopRow].rows:
        graph, leave, back = sound.get(row.package, {}), row.leave_at, row.back_for
        if leave not in graph or back not in graph or leave in before(row.package, back):
            continue
        if leave == back:
            what = f"the items are wanted for '{back}', at whose end they leave."
            remedy = "Name a later stage."
        elif back in before(row.package, leave):
            what = f"'{back}' comes before '{leave}', at whose end the items leave."
            remedy = "Swap the two, or name other stages."
        else:
            what = (
                f"'{back}' does not come after '{leave}', at whose end the items leave, neither "
                "directly nor by way of others."
            )
            after = sheets.at(stages[row.package, back], "after")
            remedy = (
                f"Add '{leave}' to {after}, where blank is the row above, or name other stages."
            )
        yield Message(Level.ERROR, sheets.at(row, "back_for"), what, remedy)


def loops_end(sheets: Sheets) -> Iterator[Message]:
    """Require a bearable number of days of each package with the loops of its items."""
    shops = {shop.shop: shop for shop in sheets[ShopRow].rows}
    total = days_in_all(sheets)
    for row in sheets[LoopRow].rows:
        shop, before = shops.get(row.shop), total.get(row.package, 0)
        if shop is None or not 0 < before <= LONGEST_PACKAGE:  # longer ones have a message
            continue
        days = _worked_days(row, shop)
        total[row.package] = before + days
        if before + days > LONGEST_PACKAGE:
            yield Message(
                Level.ERROR,
                sheets.at(row, "items"),
                f"{row.items:,} items at {shop.items_per_day:g} a day are {days:,} days; with "
                f"them the package '{row.package}' has {before + days:,} days at most.",
                f"A package may have at most {LONGEST_PACKAGE:,}. Correct the items, or "
                f"{sheets.at(shop, 'items_per_day')}.",
            )


def sound_loops(sheets: Sheets) -> dict[str, tuple[Loop, ...]]:
    """Return the loops of each sound package, none of which has a fault."""
    if not sheets[LoopRow].whole:
        return {}
    before, length = _stages_before(sheets), days_in_all(sheets)
    shops = {shop.shop: shop for shop in sheets[ShopRow].rows}
    found: dict[str, tuple[Loop, ...]] = dict.fromkeys(sound_networks(sheets), ())
    for row in sheets[LoopRow].rows:
        shop = shops.get(row.shop)
        if row.package not in found:
            continue
        if shop and row.leave_at in before(row.package, row.back_for):
            days = _worked_days(row, shop)
            length[row.package] += days
            if length[row.package] <= LONGEST_PACKAGE:
                found[row.package] += (Loop(row.leave_at, row.back_for, days),)
                continue
        del found[row.package]
    return found


def _worked_days(row: LoopRow, shop: ShopRow) -> int:
    """Return the fewest whole days with items per day x days >= items."""
    return math.ceil(min(row.items / shop.items_per_day, ENDLESS) - TOLERANCE)


def _stages_before(sheets: Sheets) -> Callable[[str, str], set[str]]:
    """Return what tells which stages one of a sound package waits for, if by way of others."""
    sound = sound_networks(sheets)

    @cache
    def before(package: str, stage: str) -> set[str]:
        graph = sound[package]
        found: set[str] = set()
        to_come = list(graph.get(stage, ()))
        while to_come:
            name = to_come.pop()
            if name not in found:
                found.add(name)
                to_come += graph[name]
        return found

    return before
