"""What measures against overtime come to, as values."""

from dataclasses import dataclass
from enum import StrEnum
from math import fsum

from capacity.plans.audit import Audit


class How(StrEnum):
    """How a measure was tried.

    ``SLOTS_KEPT`` is all that there is to try of it. ``FIRST_LOOK`` is one that could be searched
    anew, had there been time: with the slots kept, or one check moved for it.
    """

    SLOTS_KEPT = "slots kept"
    FIRST_LOOK = "first look"
    SEARCHED_ANEW = "searched anew"


@dataclass(frozen=True, slots=True)
class Figures:
    """What the labour and the whole of a plan come to."""

    overtime_hours: float
    contract_hours: float
    overload_hours: float
    labour_money: float
    days_past: int
    money: float


@dataclass(frozen=True, slots=True)
class Measure:
    """One thing to change, and what the plan comes to with it.

    ``after`` is audited on the changed base; ``proven`` is the least money that it could
    come to, where that was proven. ``saves`` is what it takes off the money of the plan,
    dearer contract hours and lateness it causes taken into account. ``worth`` says up to
    what price it pays, where its own price is not in the workbook: money a week a head.
    """

    kind: str
    what: str
    how: How
    after: Figures
    overtime_less: float
    saves: float
    proven: float | None
    worth: float | None
    moved: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Measures:
    """The plan as it is, what a search without any measure finds, and the measures by effect.

    Where there is no measure to try there is no search, and ``without`` is the plan as it is.

    Measures searched anew are compared with ``without``, so that nothing is put down to a measure
    that a longer search finds without it. Those with the slots kept, and first looks, are compared
    with ``now``. ``not_tried`` are those that somebody stopped; ``no_place`` were tried and
    have none in this plan. ``seconds`` is the wall time that all took. A plan that ``is_too_large``
    is not searched as a whole.
    """

    now: Figures
    without: Figures
    measures: tuple[Measure, ...]
    not_tried: tuple[str, ...]
    no_place: tuple[str, ...] = ()
    seconds: float = 0.0
    is_too_large: bool = False

    def compared_with(self, measure: Measure) -> Figures:
        """Return the figures that a measure's own are compared with."""
        return self.without if measure.how is How.SEARCHED_ANEW else self.now


def figures_of(found: Audit) -> Figures:
    """Return the figures of an audit."""
    return Figures(
        overtime_hours=fsum(load.overtime for load in found.weeks),
        contract_hours=fsum(load.contract for load in found.weeks),
        overload_hours=found.goals.overload_hours,
        labour_money=found.overtime_money + found.contract_money + found.overload_money,
        days_past=found.goals.days_past_latest_in,
        money=found.goals.money,
    )
