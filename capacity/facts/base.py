"""The maintenance base: its settings and everything that belongs to it."""

import dataclasses
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property
from typing import Self, TypeVar

from capacity.facts.bays import AircraftType, Bay, Closure
from capacity.facts.checks import Check, Status
from capacity.facts.crews import Absence, Crew, Licence, Pattern, Shift, Skill
from capacity.facts.days import CalendarDays
from capacity.facts.delivered import DeliveredStage
from capacity.facts.equipment import Equipment, EquipmentOutage, Shop, ShopLoop
from capacity.facts.extra_work import ExtraWork, with_extra
from capacity.facts.functions import FunctionAbsence, FunctionStaff
from capacity.facts.packages import Package, Stage
from capacity.facts.progress import WorkProgress, leaves_on
from capacity.facts.ready_dates import ReadyDate
from capacity.facts.work_done import WorkDone

EVERY_WEEKDAY = frozenset(range(7))


@dataclass(frozen=True)
class Base:
    """One base and the checks that want to come in.

    ``first_day`` is the first day that can be planned; a check may come in on any day of
    ``weeks`` weeks of seven days from there. ``working_weekdays`` counts Monday as 0.
    ``holidays`` is an ISO 3166 country, optionally with ``-subdivision``, or None;
    ``calendar_days`` are the base's own days, which go before both.
    ``productivity`` is the share of attended hours that becomes booked man-hours.
    ``longest_delay_days`` bounds the days past ``latest_in``; ``longest_wait_days`` those that an
    aircraft waits for its next bay or a stage for a shop; ``overload_cost`` is per
    man-hour that nobody is there to do. ``working_time_rules`` names a rule set, or None, and
    ``working_time_mode`` says whether it is held, only warned of, or off: ``hold``, ``warn`` or
    ``off``. ``man_hour_plan_name`` is what the man-hour plan is
    called in this base's rules and ``plan_date`` the day from which its review is counted;
    ``own_staff_share_rule`` says whether shifts with too many contract people are told.
    ``labour_rate`` is the cost of a regular man-hour, None where it is not told; it is in no plan's
    cost, since crews are paid whatever the plan.
    ``work_counts_from`` is the day from which the work left on checks already in counts, today
    in a re-plan; None stands for the first day. ``progress`` says more of some of them;
    ``extra_work`` is what single checks have beyond their package and
    ``ready_dates`` are days before which a stage of a check cannot start.
    ``work_done`` is what a re-plan finds worked of the stages whose hours are levelled.
    ``delivered`` is a record: no plan follows from it.
    On days that the base does not work, aircraft come in only if ``comes_in_on_days_off``, and
    move between bays and leave only if ``leaves_on_days_off``; otherwise they keep their bay until
    the next worked day.
    With ``counts_days`` the cost of man-hours is that of days: hours of crews are there on the
    days of their roster only. Otherwise all days of a week are pooled.
    """

    name: str
    first_day: date
    weeks: int
    skills: tuple[Skill, ...]
    bays: tuple[Bay, ...]
    types: tuple[AircraftType, ...]
    packages: tuple[Package, ...]
    checks: tuple[Check, ...]
    crews: tuple[Crew, ...]
    patterns: tuple[Pattern, ...]
    shifts: tuple[Shift, ...]
    closures: tuple[Closure, ...] = ()
    absences: tuple[Absence, ...] = ()
    equipment: tuple[Equipment, ...] = ()
    equipment_outages: tuple[EquipmentOutage, ...] = ()
    shops: tuple[Shop, ...] = ()
    shop_loops: tuple[ShopLoop, ...] = ()
    progress: tuple[WorkProgress, ...] = ()
    extra_work: tuple[ExtraWork, ...] = ()
    ready_dates: tuple[ReadyDate, ...] = ()
    currency: str = "EUR"
    working_weekdays: frozenset[int] = EVERY_WEEKDAY
    holidays: str | None = None
    productivity: float = 0.75
    longest_delay_days: int = 28
    longest_wait_days: int = 3
    overload_cost: float = 500.0
    working_time_rules: str | None = None
    working_time_mode: str = "warn"
    functions: tuple[FunctionStaff, ...] = ()
    function_absences: tuple[FunctionAbsence, ...] = ()
    man_hour_plan_name: str = "Man-hour plan"
    plan_date: date | None = None
    own_staff_share_rule: bool = True
    work_counts_from: date | None = None
    calendar_days: tuple[CalendarDays, ...] = ()
    labour_rate: float | None = None
    delivered: tuple[DeliveredStage, ...] = ()
    work_done: tuple[WorkDone, ...] = ()
    licences: tuple[Licence, ...] = ()
    comes_in_on_days_off: bool = True
    leaves_on_days_off: bool = True
    counts_days: bool = False

    @property
    def last_in_day(self) -> date:
        """The last day on which a check may come in."""
        return self.first_day + timedelta(days=7 * self.weeks - 1)

    @property
    def work_left_from(self) -> date:
        """The day from which ``Remaining %`` of a check already in counts."""
        return self.work_counts_from or self.first_day

    def goes_on_from(self, check: Check) -> date | None:
        """Return the day from which what is left of a check counts; None where all of it is left.

        The latest day as of which its progress is stated, but not before the first day; without
        progress, ``work_left_from`` where a share of it remains. A check that is finished as a
        whole has nothing left: the day on which it leaves, after its last finished one.
        """
        told = self.progress_of(check.name)
        if told:
            over = leaves_on(told, [stage.name for stage in self.package_of(check).stages])
            if over is not None:
                return over
            return max(self.first_day, *(row.as_of for row in told))
        return None if check.remaining is None else self.work_left_from

    def progress_of(self, check: str) -> tuple[WorkProgress, ...]:
        """Return what is told of the progress of a check, of its stages and as a whole."""
        return self._progress.get(check, ())

    def has_lapsed(self, check: Check) -> bool:
        """Return whether a check is an option whose ``decide_by`` has passed without a decision."""
        is_option = check.status is Status.OPTION
        return is_option and check.decide_by is not None and check.decide_by < self.work_left_from

    def check(self, name: str) -> Check:
        """Return the check of a name; raises ``KeyError`` where there is none, as all these do."""
        return self._checks[name]

    def bay(self, name: str) -> Bay:
        """Return the bay of a name."""
        return self._bays[name]

    def type(self, name: str) -> AircraftType:
        """Return the aircraft type of a name."""
        return self._types[name]

    def package(self, name: str) -> Package:
        """Return the work package of a name."""
        return self._packages[name]

    def package_of(self, check: Check) -> Package:
        """Return the work package of a check with the extra work that this check has."""
        extra = self._extra.get(check.name)
        package = self.package(check.package)
        return with_extra(package, extra) if extra else package

    @property
    def packages_with_extra(self) -> tuple[Package, ...]:
        """The packages of the checks that have extra work, as these checks have them."""
        return tuple(self.package_of(check) for check in self.checks if check.name in self._extra)

    def stages_of(self, check: str) -> Mapping[str, Stage]:
        """Return the stages of a check by their names, those of its extra work among them."""
        return {stage.name: stage for stage in self.package_of(self.check(check)).stages}

    def skill(self, name: str) -> Skill:
        """Return the skill of a name."""
        return self._skills[name]

    def crew(self, name: str) -> Crew:
        """Return the crew of a name."""
        return self._crews[name]

    def pattern(self, name: str) -> Pattern:
        """Return the shift pattern of a name."""
        return self._patterns[name]

    def shift(self, name: str) -> Shift:
        """Return the shift of a name."""
        return self._shifts[name]

    def has_check(self, name: str) -> bool:
        """Return whether there is a check of a name."""
        return name in self._checks

    def done_of(self, check: str, stage: str) -> WorkDone | None:
        """Return what was worked of a stage before the plan was made again, if it is known."""
        return self._work_done.get((check, stage))

    @cached_property
    def _work_done(self) -> Mapping[tuple[str, str], WorkDone]:
        return {(done.check, done.stage): done for done in self.work_done}

    @cached_property
    def _checks(self) -> Mapping[str, Check]:
        return {check.name: check for check in self.checks}

    @cached_property
    def _bays(self) -> Mapping[str, Bay]:
        return {bay.name: bay for bay in self.bays}

    @cached_property
    def _types(self) -> Mapping[str, AircraftType]:
        return {aircraft.name: aircraft for aircraft in self.types}

    @cached_property
    def _packages(self) -> Mapping[str, Package]:
        return {package.name: package for package in self.packages}

    @cached_property
    def _skills(self) -> Mapping[str, Skill]:
        return {skill.name: skill for skill in self.skills}

    @cached_property
    def _crews(self) -> Mapping[str, Crew]:
        return {crew.name: crew for crew in self.crews}

    @cached_property
    def _patterns(self) -> Mapping[str, Pattern]:
        return {pattern.name: pattern for pattern in self.patterns}

    @cached_property
    def _shifts(self) -> Mapping[str, Shift]:
        return {shift.name: shift for shift in self.shifts}

    def not_before(self, check: str) -> Mapping[str, date]:
        """Return the day on which each stage of a check is ready, the latest of its rows."""
        return self._ready.get(check, {})

    @cached_property
    def _extra(self) -> Mapping[str, tuple[ExtraWork, ...]]:
        return _by_check(self.extra_work)

    @cached_property
    def _ready(self) -> Mapping[str, Mapping[str, date]]:
        found: dict[str, dict[str, date]] = {}
        for row in self.ready_dates:
            of_check = found.setdefault(row.check, {})
            of_check[row.stage] = max(row.not_before, of_check.get(row.stage, row.not_before))
        return found

    @cached_property
    def _progress(self) -> Mapping[str, tuple[WorkProgress, ...]]:
        return _by_check(self.progress)

    def replace(self, **changes: object) -> Self:
        """Return the same base with some facts changed."""
        return dataclasses.replace(self, **changes)  # type: ignore[arg-type]


Told = TypeVar("Told", ExtraWork, WorkProgress)


def _by_check(rows: Iterable[Told]) -> Mapping[str, tuple[Told, ...]]:
    """Return the rows of each check, in their order."""
    found: defaultdict[str, list[Told]] = defaultdict(list)
    for row in rows:
        found[row.check].append(row)
    return {check: tuple(mine) for check, mine in found.items()}
