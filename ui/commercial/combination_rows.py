"""Which enquiries to accept together, as tables; money is in the base's currency."""

from capacity.facts import Base
from capacity.questions.enquiries.values import Combination, CombinationAnswer
from capacity.reports.enquiries.ways import overloads, ranked
from capacity.reports.enquiries.wording import NO_ENQUIRY, set_proof
from capacity.reports.plan.stay_columns import bays
from capacity.reports.plan.wording import LEAST_MONEY
from ui.commercial.enquiry_rows import OVERLOAD, moves_in_words, whole
from ui.rows import TableRow

NO_SLOT = "no slot with nobody moved"


def sets_table(sets: CombinationAnswer, base: Base) -> list[TableRow]:
    """Return a line a set, the one that gains most first, with what is proven of it."""
    return [_set(rank, one, base) for rank, one in enumerate(ranked(sets), start=1)]


def _set(rank: int, one: Combination, base: Base) -> TableRow:
    return {
        "Rank": "best" if rank == 1 else f"{rank}",
        "Accept": ", ".join(one.names) or NO_ENQUIRY,
        f"Gains ({base.currency})": whole(one.gain),
        "What is proven": set_proof(one, rank, base),
        "Who would move": moves_in_words(one.moves),
        f"Costs ({base.currency})": whole(one.costs.money),
        "Overload": OVERLOAD if overloads(one.hours_more) else "",
    }


def places_in_best_table(sets: CombinationAnswer, base: Base) -> list[TableRow]:
    """Return where the enquiries of the best set stand in its plan."""
    return [
        {
            "Enquiry": enquiry.check,
            "Bay": bays(enquiry.placements),
            "In": enquiry.placements[0].in_day,
            "Out": enquiry.placements[-1].out_day,
            f"Price ({base.currency})": whole(enquiry.price),
        }
        for enquiry in sets.best.enquiries
    ]


def alone_table(sets: CombinationAnswer, base: Base) -> list[TableRow]:
    """Return what each enquiry gains by itself, and whether it is in the best set."""
    return [
        {
            "Enquiry": alone.check,
            f"Gains alone ({base.currency})": (None if alone.gain is None else whole(alone.gain)),
            "Alone": _alone_in_words(alone.gain),
            "In the best set": "yes" if alone.check in sets.best.names else "no",
        }
        for alone in sets.alone
    ]


def _alone_in_words(gain: float | None) -> str:
    if gain is None:
        return NO_SLOT
    if abs(gain) < LEAST_MONEY:
        return "gains nothing and costs nothing"
    return "gains" if gain > 0 else "LOSES"
