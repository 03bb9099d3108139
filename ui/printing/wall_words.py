"""What the wall sheet says: of a stay, of where it goes on, of what has no slot."""

from collections.abc import Sequence
from datetime import date

from capacity.facts import Status
from capacity.plans.plan import Placement
from capacity.reports.plan.view import View
from capacity.reports.plan.wording import late_in
from capacity.words import day
from capacity.words.marks import AGREED, BAR, SQUARE, late
from capacity.words.palette import OPTION
from ui.printing.lettering import ELLIPSIS, lines_of, width_of

CUT = f"A name that ends in {ELLIPSIS} stands whole in the plan workbook, sheet Slots."


THIRD_PARTY_MARK = "3P"
"""Stands on every check of a third party, as in the workbook: in grey, colours tell nothing."""


def short_day(value: date) -> str:
    """Return ``4 Jan``, for a sheet whose heading has the year."""
    return f"{value.day} {value:%b}"


def parts_of(view: View, stay: Placement, *, says_agreed: bool) -> list[str]:
    """Return what is said of a stay, what matters most first: name and aircraft lead.

    ``says_agreed`` adds the day of Agreed out, where no bar is drawn for it.
    """
    check = view.base.check(stay.check)
    account, agreed = view.account_at(stay), view.agreed_out(stay)
    square = f"{SQUARE} " if check.status is Status.FIXED else ""
    parts = [
        f"{square}{check.name}",
        check.aircraft,
        THIRD_PARTY_MARK if check.third_party else "",
        late_in(account) if account else "",
        OPTION.word if check.status is Status.OPTION else "",
        check.customer if check.third_party else "",
        f"{short_day(stay.in_day)} to {short_day(stay.out_day)}",
        f"{BAR} {AGREED} {short_day(agreed)}" if says_agreed and agreed else "",
    ]
    return [part for part in parts if part]


def label_of(parts: Sequence[str], late_days: int, ems: float, most: int) -> list[str]:
    """Return the lines of a stay; the words of being late out go before all but the name."""
    if not late_days:
        return lines_of(parts, ems, most)
    told = late(late_days)
    if most == 1:
        room = ems - width_of(f", {told}")
        named = lines_of(parts[:1], room, 1) if room > 0 else []
        return [f"{named[0]}, {told}"] if named else [told]
    if width_of(told) > ems:
        word, _, rest = told.partition(" ")
        return [word, rest]
    return [*lines_of(parts, ems, most - 1), told]


def without_slot(view: View) -> list[str]:
    """Return the checks that have no slot, each with the days on which it could come in."""
    names = [name for name in view.outcome.plan.not_placed if view.base.has_check(name)]
    checks = sorted(map(view.base.check, names), key=lambda check: (check.latest_in, check.name))
    return [
        f"{check.name} ({check.aircraft}, {check.status.value}, in from {day(check.earliest_in)} "
        f"to {day(check.latest_in)})"
        for check in checks
    ]
