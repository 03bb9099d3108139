"""A plan: which check stands in which bay on which days. It knows no solver."""

from dataclasses import dataclass, replace
from datetime import date


@dataclass(frozen=True, slots=True)
class WeekHours:
    """Man-hours of one skill in one ISO week such as ``2027-W01``.

    ``by_day`` says on which days of the week they lie, where days are priced.
    """

    skill: str
    week: str
    hours: float
    by_day: tuple[tuple[date, float], ...] = ()


@dataclass(frozen=True, slots=True)
class StageDays:
    """A stage from its first day up to, not including, ``until``.

    ``hours`` say where its man-hours lie, week by week and skill by skill; none are stated
    where they lie evenly over its worked days.
    """

    stage: str
    first: date
    until: date
    hours: tuple[WeekHours, ...] = ()


@dataclass(frozen=True, slots=True)
class Placement:
    """A check in one bay over ``[in_day, out_day)``, with the stages done there.

    ``stage_from`` is the first stage done in this bay. A check that moves between bays has
    one placement a bay.
    """

    check: str
    bay: str
    stage_from: str
    in_day: date
    out_day: date
    stages: tuple[StageDays, ...]

    def without_hours(self) -> "Placement":
        """Return the slot alone: bay and days, whatever week its man-hours lie in."""
        return replace(self, stages=tuple(replace(stage, hours=()) for stage in self.stages))


@dataclass(frozen=True, slots=True)
class Plan:
    """All placements, the fixed and booked checks without one, and the options refused."""

    placements: tuple[Placement, ...]
    not_placed: tuple[str, ...] = ()
    refused: tuple[str, ...] = ()

    def by_check(self) -> dict[str, list[Placement]]:
        """Return the placements of each check in order of in day, the first to come in first."""
        found: dict[str, list[Placement]] = {}
        for placement in sorted(self.placements, key=lambda placement: placement.in_day):
            found.setdefault(placement.check, []).append(placement)
        return found

    def slots_by_check(self) -> dict[str, tuple[Placement, ...]]:
        """Return the same without hours: two plans differ in a check's slot where these do."""
        return {
            name: tuple(placement.without_hours() for placement in placements)
            for name, placements in self.by_check().items()
        }


@dataclass(frozen=True, slots=True)
class Goals:
    """What a plan is judged by, in this order; money in the base's currency.

    ``overload_hours`` are part of the money and shown beside it because they matter so much.
    """

    days_past_latest_in: int
    overload_hours: float
    money: float


@dataclass(frozen=True, slots=True)
class WeekLoad:
    """Man-hours of one skill in one ISO week such as ``2027-W01``.

    ``demand`` is what the checks ask, ``regular`` what employed crews give to the skill once
    the multi-skilled are shared out, with the idle hours of those whose own skill it is;
    ``overtime``, ``contract`` and ``overload`` are the hours bought on top. ``overtime_cap``
    and ``contract_cap`` are the most that could be bought. ``guaranteed`` is the part of
    ``contract`` that contract crews are paid for whether or not it is used.
    """

    week: str
    skill: str
    demand: float
    regular: float
    overtime: float
    contract: float
    overload: float
    overtime_cap: float
    contract_cap: float
    guaranteed: float = 0.0

    @property
    def contract_paid(self) -> float:
        """Contract hours that are paid by the hour: those beyond what crews are guaranteed."""
        return max(0.0, self.contract - self.guaranteed)


@dataclass(frozen=True, slots=True)
class CrewHours:
    """Man-hours, above 0, that a crew gives to one skill in one ISO week.

    Contract crews are included. Contract hours of a skill are taken from contract crews
    first; those that no crew gives are from the contract cap.
    """

    week: str
    crew: str
    skill: str
    hours: float
