"""Play a plan through in every draw at once, or part by part."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from capacity.errors import AuditError
from capacity.facts import Base
from capacity.labour.calendar import Calendar, calendar_of
from capacity.plans.audit import Audit, Auditor
from capacity.plans.plan import Plan, WeekLoad
from capacity.questions.risk.bays import play_through
from capacity.questions.risk.days import DrawnCheck, draw
from capacity.questions.risk.levelled import levelled_demand
from capacity.questions.risk.settings import RiskSettings
from capacity.questions.risk.simulated_plan import PlannedCheck, PlanReader
from capacity.questions.risk.weeks import demand_of, hours_by_check, loads_until, most_to_be_had

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

MOST_WEEKS_BEYOND = 52 * 20
"""Weeks beyond the plan that a simulation has days for, at the most."""

MOST_HOLIDAYS_A_YEAR = 60


@dataclass(frozen=True)
class Played:
    """A plan and what became of it, draw by draw.

    ``ins`` and ``outs`` (checks, draws) are day numbers of the calendar: into the first bay, and
    home. ``man_hours`` (checks, draws) count from the first day on. ``demand`` and ``overload``
    (weeks and skills, draws) belong to ``loads``; ``most`` is the most that can be had in each.
    """

    calendar: Calendar
    audit: Audit
    checks: tuple[PlannedCheck, ...]
    ins: Ints
    outs: Ints
    man_hours: Floats
    loads: tuple[WeekLoad, ...]
    most: Floats
    demand: Floats

    @property
    def overload(self) -> Floats:
        """Return ``max(0, demand - most)``, shape (weeks and skills, draws)."""
        return np.maximum(self.demand - self.most[:, None], 0.0)


@dataclass(frozen=True)
class Drawn:
    """A plan with all draws of its findings, before anything is played through."""

    made_on: Base
    audit: Audit
    checks: tuple[PlannedCheck, ...]
    drawn: tuple[DrawnCheck, ...]
    calendar: Calendar
    draws: int

    def played(self, draws: slice = slice(None)) -> Played:
        """Return what becomes of the plan in some of its draws, all unless ``draws`` names some.

        Each draw is by itself: what comes of it is the same whichever others are played with it.
        """
        checks, calendar = self.checks, self.calendar
        drawn = [DrawnCheck(one.growth[:, draws], one.days[:, draws]) for one in self.drawn]
        number = len(range(self.draws)[draws])
        laid = play_through(checks, drawn, self.made_on, calendar)
        nobody = np.zeros((0, number), dtype=np.int64)
        outs = np.stack([one.out for one in laid]) if laid else nobody
        ins = np.stack([one.ins[0] for one in laid]) if laid else outs
        last_day = min(int(outs.max(initial=calendar.first + 1)) - 1, len(calendar.week) - 1)
        loads = loads_until(self.audit.weeks, self.made_on, calendar, last_day)
        rows = {(load.week, load.skill): row for row, load in enumerate(loads)}
        most = np.array([most_to_be_had(load) for load in loads])
        return Played(
            calendar=calendar,
            audit=self.audit,
            checks=checks,
            ins=ins,
            outs=outs,
            man_hours=np.array(
                [
                    hours_by_check(*of_check, calendar)
                    for of_check in zip(checks, drawn, laid, strict=True)
                ]
            ).reshape(len(checks), number),
            loads=loads,
            most=most,
            demand=levelled_demand(
                demand_of(checks, drawn, laid, rows, calendar, number),
                most,
                checks,
                drawn,
                laid,
                tuple(dict.fromkeys(load.week for load in loads)),
                tuple(skill.name for skill in self.made_on.skills),
                calendar,
            ),
        )


def drawn_of(
    plan: Plan,
    base: Base,
    settings: RiskSettings,
    made_on: Base,
    standing: Audit | None = None,
) -> Drawn:
    """Return a plan ``made_on`` one base with findings drawn as those of ``base``.

    Man-hours that cost the same are shared out as in the ``standing`` plan, if any.

    Raises
    ------
    AuditError
        When the plan breaks a rule of the base that it was made on.
    """
    audited = Auditor(made_on).audit(plan, standing)
    if audited.broken:
        raise AuditError(audited.broken)
    checks = PlanReader(base, made_on, settings).read(plan, calendar_of(made_on))
    drawn = tuple(draw(check, settings) for check in checks)
    calendar = _calendar(made_on, checks, drawn)
    return Drawn(made_on, audited, checks, drawn, calendar, settings.draws)


def play(
    plan: Plan,
    base: Base,
    settings: RiskSettings,
    made_on: Base,
    standing: Audit | None = None,
) -> Played:
    """Return what becomes of a plan in all draws at once; see ``drawn_of``."""
    return drawn_of(plan, base, settings, made_on, standing).played()


def joined(parts: Sequence[Played]) -> Played:
    """Return several parts of the draws of one plan, one after the other, as one."""
    longest = max(parts, key=lambda part: len(part.loads))
    rows = len(longest.loads)
    return replace(
        longest,
        ins=np.hstack([part.ins for part in parts]),
        outs=np.hstack([part.outs for part in parts]),
        man_hours=np.hstack([part.man_hours for part in parts]),
        demand=np.hstack(
            [np.pad(part.demand, ((0, rows - len(part.loads)), (0, 0))) for part in parts]
        ),
    )


def _calendar(base: Base, checks: Sequence[PlannedCheck], drawn: Sequence[DrawnCheck]) -> Calendar:
    """Return the base's calendar, long enough for the worst draw; it begins on the same day.

    No check is later than all stages together are longer.
    """
    longer = sum(
        np.maximum(of_check.days - [[stage.days] for stage in check.stages], 0).sum(axis=0)
        for check, of_check in zip(checks, drawn, strict=True)
        if check.stages
    )
    days = int(np.max(longer, initial=0))
    days += MOST_HOLIDAYS_A_YEAR * (1 + days // 300)
    weeks = days // max(1, len(base.working_weekdays)) + 2
    return calendar_of(base.replace(weeks=base.weeks + min(weeks, MOST_WEEKS_BEYOND)))
