"""Which enquiries to accept together: combinations as tables; money is in the base's currency."""

from capacity.facts import Base
from capacity.questions.enquiries.values import Combination, CombinationAnswer
from capacity.reports.enquiries.contribution import counted
from capacity.reports.enquiries.ways import overloads, ranked
from capacity.reports.enquiries.wording import NO_ENQUIRY, set_proof
from capacity.reports.plan.stay_columns import bays
from capacity.words import LEAST_MONEY
from ui.commercial.enquiry_rows import OVERLOAD, contribution_columns, moves_in_words, whole
from ui.commercial.words import NO_SLOT
from ui.rows import TableRow


def combinations_table(found: CombinationAnswer, base: Base) -> list[TableRow]:
    """Return a line a combination, the one that gains most first, with what is proven of it."""
    ones = ranked(found)
    told = contribution_columns([counted(one.contribution) for one in ones], base)
    return [
        _combination(rank, one, more, base)
        for rank, (one, more) in enumerate(zip(ones, told, strict=True), start=1)
    ]


def _combination(rank: int, one: Combination, more: TableRow, base: Base) -> TableRow:
    return {
        "Rank": "best" if rank == 1 else f"{rank}",
        "Accept": ", ".join(one.names) or NO_ENQUIRY,
        f"Gains ({base.currency})": whole(one.gain),
        **more,
        "Proven": set_proof(one, rank, base),
        "Checks moved": moves_in_words(one.moves),
        f"Cost ({base.currency})": whole(one.costs.money),
        "Overload": OVERLOAD if overloads(one.hours_more) else "",
    }


def slots_of_best_table(found: CombinationAnswer, base: Base) -> list[TableRow]:
    """Return the slots of the enquiries of the best combination."""
    return [
        {
            "Enquiry": enquiry.check,
            "Bay": bays(enquiry.placements),
            "In": enquiry.placements[0].in_day,
            "Out": enquiry.placements[-1].out_day,
            f"Price ({base.currency})": whole(enquiry.price),
        }
        for enquiry in found.best.enquiries
    ]


def alone_table(found: CombinationAnswer, base: Base) -> list[TableRow]:
    """Return what each enquiry gains by itself, and whether it is in the best combination."""
    return [
        {
            "Enquiry": alone.check,
            f"Gains alone ({base.currency})": (None if alone.gain is None else whole(alone.gain)),
            "Alone": _alone_in_words(alone.gain),
            "In the best combination": "yes" if alone.check in found.best.names else "no",
        }
        for alone in found.alone
    ]


def _alone_in_words(gain: float | None) -> str:
    if gain is None:
        return NO_SLOT
    if abs(gain) < LEAST_MONEY:
        return "breaks even"
    return "gains" if gain > 0 else "LOSES"
