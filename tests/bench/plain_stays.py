"""The stays of the plainest bases, from the facts alone, for peers that know no more rules."""

from dataclasses import dataclass
from datetime import date, timedelta
from itertools import accumulate, pairwise

from capacity.facts import EVERY_WEEKDAY, Base, Bay, Check, Employment, Package, Stage, Status
from capacity.plans.plan import Placement, StageDays


def assert_plain(base: Base) -> None:
    """Say so when the base uses a rule that the peers were not taught.

    Raises
    ------
    AssertionError
        Naming the first such rule.
    """
    assert base.working_weekdays == EVERY_WEEKDAY, "days off"
    assert base.holidays is None, "holidays"
    assert not base.equipment, "equipment"
    assert not base.shop_loops, "shops"
    closed = [closure.bay for closure in base.closures]
    assert len(closed) == len(set(closed)), "several closures of one bay"
    for bay in base.bays:
        assert bay.work == {"maintenance"}, "a kind of work"
        assert not bay.docking, "docking"
        assert bay.reached_through is None, "a bay behind a bay"
        assert not bay.shares_floor_with, "shared floor"
        assert bay.changeover_days == 0, "changeover"
    for package in base.packages:
        assert package.stages[0].after == (), "the order of the stages"
        for before, stage in pairwise(package.stages):
            assert stage.after == (before.name,), "stages beside each other"
        for stage in package.stages:
            assert stage.work == "maintenance", "a kind of work"
            assert stage.shortest_days in (None, stage.days), "paces"
            assert stage.longest_days in (None, stage.days), "paces"
    for check in base.checks:
        assert check.status is Status.BOOKED, "a check that is fixed or an option"
        assert check.remaining is None, "work left"
    for crew in base.crews:
        assert len(crew.skills) == 1, "several skills"
        assert not crew.types, "authorisations"
        assert crew.employment is Employment.EMPLOYED, "contract crews"


@dataclass(frozen=True)
class PlainStay:
    """One check: its stages in a row, the bays it fits and its in days.

    Days count from the base's first day; ``last_in`` is the last day allowed, past
    ``latest_in`` by the longest delay. ``offsets`` are the stages' first days and the end.
    """

    check: Check
    stages: tuple[Stage, ...]
    offsets: tuple[int, ...]
    bays: tuple[str, ...]
    first_in: int
    latest_in: int
    last_in: int
    agreed_out: int | None

    @property
    def days(self) -> int:
        """Return the days from the in day to the out day."""
        return self.offsets[-1]

    def past(self, in_day: int) -> int:
        """Return days past ``Latest in``."""
        return max(0, in_day - self.latest_in)

    def money(self, in_day: int) -> float:
        """Return what early and late days cost."""
        early = max(0, self.latest_in - in_day) * self.check.early_cost_per_day
        if self.agreed_out is None:
            return early
        late = max(0, in_day + self.days - self.agreed_out)
        return early + late * self.check.late_cost_per_day

    def placement(self, bay: str, in_day: int, first_day: date) -> Placement:
        """Return the check placed in a bay from an in day on."""
        start = first_day + timedelta(days=in_day)
        return Placement(
            check=self.check.name,
            bay=bay,
            stage_from=self.stages[0].name,
            in_day=start,
            out_day=start + timedelta(days=self.days),
            stages=tuple(
                StageDays(stage.name, start + timedelta(days=first), start + timedelta(days=until))
                for stage, (first, until) in zip(self.stages, pairwise(self.offsets), strict=True)
            ),
        )


def plain_stays(base: Base) -> tuple[PlainStay, ...]:
    """Return the stays of all checks of a plain base, in its order."""
    packages = {package.name: package for package in base.packages}
    return tuple(_stay(check, packages[check.package], base) for check in base.checks)


def _stay(check: Check, package: Package, base: Base) -> PlainStay:
    def number(day: date) -> int:
        return (day - base.first_day).days

    latest = number(check.latest_in)
    return PlainStay(
        check=check,
        stages=package.stages,
        offsets=tuple(accumulate((stage.days for stage in package.stages), initial=0)),
        bays=tuple(bay.name for bay in base.bays if _fits(check, bay, base)),
        first_in=max(0, number(check.earliest_in)),
        latest_in=latest,
        last_in=min(latest + base.longest_delay_days, number(base.last_in_day)),
        agreed_out=None if check.agreed_out is None else number(check.agreed_out),
    )


def _fits(check: Check, bay: Bay, base: Base) -> bool:
    aircraft = next(kind for kind in base.types if kind.name == check.type)
    return (
        aircraft.span_m <= bay.max_span_m
        and aircraft.length_m <= bay.max_length_m
        and aircraft.tail_m <= bay.max_tail_m
    )
