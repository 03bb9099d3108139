"""A conflict and its ways out in a planner's sentences, with the cells to look at."""

from collections.abc import Iterator

from capacity.cells import Where, cells, sheet_only
from capacity.facts import Base, Check
from capacity.questions.asking.setting_wording import OF_SETTINGS, setting_text, window_text
from capacity.questions.conflicts.rules import OF_CHECKS, Kind, Rule
from capacity.questions.conflicts.values import TO_BE_BOUGHT, Conflict, Conflicts, FewestDays
from capacity.questions.conflicts.ways_wording import way_text
from capacity.slots.candidates.bay_misfits import bays_that_hold, kinds_needed, misfits
from capacity.words import day, days, listed

CHECKS, BAYS, CLOSURES = "Checks", "Bays", "Bay closures"
EQUIPMENT, OUTAGES, SHOPS = "Equipment", "Equipment outages", "Shops"


def conflict_sentences(found: Conflicts, base: Base, where: Where | None = None) -> tuple[str, ...]:
    """Return the whole answer, a sentence or a line of a list each."""
    return tuple(_sentences(found, base, where or sheet_only))


def _sentences(found: Conflicts, base: Base, where: Where) -> Iterator[str]:
    question = _question(found)
    if found.possible:
        yield f"All is possible: {question}."
        return
    if found.possible is None:
        yield f"It is not proven in the time given whether {question}. Allow more seconds."
        return
    yield f"It is proven impossible that {question}."
    for number, conflict in enumerate(found.conflicts, start=1):
        title = f"Conflict {number}: these" if len(found.conflicts) > 1 else "These"
        yield from _of_conflict(conflict, title, base, where)
    if not found.all_told:
        yield (
            "There are, or may be, more conflicts than these; the ways out were tried only for "
            "the checks named in the conflict, beside the fixed ones."
        )
    if found.left_out:
        yield (
            f"Some days of the windows of {listed(found.left_out)} are left out by some rule that "
            "this explanation does not know."
        )
    if found.fewest_days is not None:
        yield _fewest(found.fewest_days)


def _question(found: Conflicts) -> str:
    if found.fixed_only:
        return "the fixed checks stand together"
    return "all fixed and booked checks come in by their Latest in"


def _of_conflict(conflict: Conflict, title: str, base: Base, where: Where) -> Iterator[str]:
    if len(conflict.rules) == 1:
        yield f"{title[:-5]}This cannot hold, whatever else is given up:"
    else:
        yield f"{title} cannot hold together:"
    for rule in conflict.rules:
        yield f"  - {rule_text(rule, base, where)}"
    if not conflict.is_smallest:
        yield "A smaller part of it may conflict already; that is not proven in the time given."
    elif Kind.UNKNOWN in {rule.kind for rule in conflict.rules}:
        yield (
            "The rules that this explanation knows do not keep them apart; the program that "
            "plans does. Without any one of these checks it can place the others."
        )
    elif len(conflict.rules) > 1:
        yield "No smaller part of it conflicts: without any one of these, the others can hold."
    if conflict.ways_out:
        yield "Each of these alone is a way out, solved and audited:"
        for number, way in enumerate(conflict.ways_out, start=1):
            yield f"  {number}. {way_text(way, base, where)}"
        if any(way.change in TO_BE_BOUGHT for way in conflict.ways_out):
            yield "What a bay, equipment or a faster shop costs is not in the workbook."
    elif not conflict.not_tried:
        yield "No single change of those tried is a way out: more than one has to change."
    if conflict.not_tried:
        tried = listed([f"'{change}' of {rule.of}" for change, rule in conflict.not_tried])
        yield f"Not settled in the time given: {tried}."


def _fewest(fewest: FewestDays) -> str:
    parts = [f"{name} by {days(late)}" for name, late in fewest.late]
    told = f"late {listed(parts)}" if parts else ""
    missing = f"{listed(fewest.not_placed)} not placed" if fewest.not_placed else ""
    proof = (
        "fewer are proven impossible"
        if fewest.bound >= fewest.days
        else f"at least {days(fewest.bound)} are unavoidable"
    )
    how = "; ".join(part for part in (told, missing) if part)
    return (
        f"With every rule but the windows kept, the fewest days past Latest in found are "
        f"{fewest.days} in all ({how}); {proof}."
    )


def rule_text(rule: Rule, base: Base, where: Where = sheet_only) -> str:
    """Return a rule as a planner would say it, with its cells."""
    if rule.kind in OF_CHECKS or rule.kind is Kind.LATEST_IN:
        return _of_check(rule, base, where)
    if rule.kind in OF_SETTINGS:
        return setting_text(rule, base, where)
    match rule.kind:
        case Kind.ONE_AT_A_TIME:
            return f"one aircraft at a time in {rule.of} {cells(where, BAYS, rule.of, 'Bay')}"
        case Kind.CHANGEOVER:
            bay = next(bay for bay in base.bays if bay.name == rule.of)
            at = cells(where, BAYS, rule.of, "Changeover days")
            return f"{days(bay.changeover_days)} between two aircraft in {rule.of} {at}"
        case Kind.CLOSURE:
            closure = base.closures[rule.row]
            at = cells(where, CLOSURES, f"#{rule.row + 1}", "From", "To")
            why = f", {closure.reason}" if closure.reason else ""
            return (
                f"the closure of {rule.of} from {day(closure.first)} to {day(closure.last)}"
                f"{why} {at}"
            )
        case Kind.WAY:
            at = cells(where, BAYS, rule.of, "Reached through")
            return f"{rule.of} is reached through {rule.other} {at}"
        case Kind.FLOOR:
            at = cells(where, BAYS, rule.of, "Shares floor with")
            return f"{rule.of} and {rule.other} share floor {at}"
        case Kind.EQUIPMENT:
            pool = next(pool for pool in base.equipment if pool.name == rule.of)
            return f"{pool.number} x {rule.of} {cells(where, EQUIPMENT, rule.of, 'Number')}"
        case Kind.OUTAGE:
            outage = base.equipment_outages[rule.row]
            at = cells(where, OUTAGES, f"#{rule.row + 1}", "From", "To")
            return (
                f"{outage.number} x {rule.of} out of use from {day(outage.first)} to "
                f"{day(outage.last)} {at}"
            )
        case Kind.ALONE:
            at = cells(where, "Packages", f"{rule.of}: {rule.other}", "Alone")
            return f"'{rule.other}' of {rule.of} is done alone {at}"
        case Kind.OTHER:
            return f"the rule '{rule.of}', of which this explanation knows no cell"
        case Kind.UNKNOWN:
            return "some rule that this explanation does not know"
        case _:
            shop = next(shop for shop in base.shops if shop.name == rule.of)
            at = cells(where, SHOPS, rule.of, "Items per day")
            return f"{shop.items_per_day:g} items a day in {rule.of} {at}"


def _of_check(rule: Rule, base: Base, where: Where) -> str:
    check = next(check for check in base.checks if check.name == rule.of)
    if rule.kind is Kind.LATEST_IN:
        at = cells(where, CHECKS, rule.of, "Latest in")
        return f"the Latest in of {rule.of}, {day(check.latest_in)} {at}"
    if rule.kind is Kind.FIXED_PLACE and check.fixed_in is not None:
        at = cells(where, CHECKS, rule.of, "Fixed bay", "Fixed in")
        reasons = _misfits_of_fixed_bay(check, base)
        why_not = f"; {check.fixed_bay} cannot hold it: {listed(reasons)}" if reasons else ""
        return (
            f"the fixed bay and day of {rule.of}, {check.fixed_bay} on {day(check.fixed_in)} "
            f"{at}{why_not}"
        )
    window = window_text(check, base, where)
    return f"the window of {rule.of}, {window}; {bays_that_hold(check, base)}"


def _misfits_of_fixed_bay(check: Check, base: Base) -> tuple[str, ...]:
    aircraft = next(aircraft for aircraft in base.types if aircraft.name == check.type)
    bay = next(bay for bay in base.bays if bay.name == check.fixed_bay)
    return misfits(bay, aircraft, kinds_needed(check, base)[:1])
