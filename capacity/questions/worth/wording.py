"""What one more bay, head or day is worth, in a planner's sentences."""

from collections.abc import Iterator

from capacity.cells import Where, cells, sheet_only
from capacity.facts import Base
from capacity.questions.asking.ways_tried import proof_speaks_of
from capacity.questions.worth.values import Worth, Worths
from capacity.slots.rules.ready_dates import READY_AT_ONCE
from capacity.words import counted, days, listed, money

HALF = 0.5
NOT_PRICED = (
    "The cost of a bay or a head is not in the workbook and is not taken off. A later Latest in "
    "has to be approved first; unused interval is counted from it."
)


OTHERS_STAND = "Each Ready date is taken away by itself; all others stand as they are."


def worth_sentences(found: Worths, base: Base, where: Where | None = None) -> tuple[str, ...]:
    """Return the whole answer, a sentence or a line of a list each."""
    return tuple(_sentences(found, base, where or sheet_only))


def _sentences(found: Worths, base: Base, where: Where) -> Iterator[str]:
    without = found.without
    yield (
        f"Searched anew without any change the plan has {days(without.days_past)} past Latest in "
        f"and costs {money(without.money, base)}; each change is compared with that."
    )
    paying = [worth for worth in found.worths if gains(worth)]
    for number, worth in enumerate(paying, start=1):
        yield f"  {number}. {worth_text(worth, base, where)}"
    others = [worth.what for worth in found.worths if not gains(worth)]
    if others:
        yield f"No gain was found from: {listed(others)}."
    if found.not_tried:
        yield f"Not tried in the time given: {listed(found.not_tried)}."
    yield what_is_not_priced(found) + proof_speaks_of(base)


def is_of_ready_dates(found: Worths) -> bool:
    """Return whether only Ready dates were taken away."""
    return bool(found.worths) and all(worth.more == READY_AT_ONCE for worth in found.worths)


def what_is_not_priced(found: Worths) -> str:
    """Return what to know of the figures."""
    return OTHERS_STAND if is_of_ready_dates(found) else NOT_PRICED


def gains(worth: Worth) -> bool:
    """Return whether the plan found with a change is better than the one without."""
    return worth.saves_days > 0 or (worth.saves_days == 0 and worth.saves > HALF)


def worth_text(worth: Worth, base: Base, where: Where = sheet_only) -> str:
    """Return what a change saves, and what is proven of it."""
    saved = money(abs(worth.saves), base)
    if worth.saves_days > 0:
        with_money = "" if abs(worth.saves) <= HALF else f" and {saved}"
        if worth.saves < -HALF:
            with_money = f"; the plan costs {saved} more"
        gain = f"{counted(worth.saves_days, 'fewer day')} past Latest in{with_money}"
    else:
        gain = f"saves {saved}"
    return f"{worth.what} {where_changed(worth, where)}: {gain}{proof(worth, base)}."


def where_changed(worth: Worth, where: Where = sheet_only) -> str:
    """Return the cells to change, in brackets."""
    name = worth.of if worth.row < 0 else f"#{worth.row + 1}"
    return cells(where, worth.more.sheet, name, worth.more.column)


def proof(worth: Worth, base: Base) -> str:
    """Return what is proven of a saving; nothing where nothing is."""
    if worth.least is None or worth.most is None:
        return ""
    if worth.most - worth.least <= HALF:
        return ", proven"
    if worth.least > HALF:
        return f"; at least {money(worth.least, base)}, at most {money(worth.most, base)}, proven"
    return f"; at most {money(worth.most, base)}, proven"
