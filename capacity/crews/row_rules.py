"""Rows of a crew plan that cannot be, whatever the others say."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date
from typing import TypeVar

from capacity.crews.crew_plan import Attendance, CrewPlan, Short, StageHours
from capacity.facts import Base
from capacity.plans.plan import Plan
from capacity.words import day as as_day

Row = TypeVar("Row", Attendance, StageHours, Short)


class RowRules:
    """Each row names what the base and the slot plan know, in the days staffed, no less than 0."""

    def __init__(self, made: CrewPlan, plan: Plan, base: Base) -> None:
        """Collect the names that a row may use."""
        self.made = made
        self.names = {
            "crew": {crew.name for crew in base.crews},
            "shift": {shift.name for shift in base.shifts},
            "skill": {skill.name for skill in base.skills},
        }
        self.stages = {(p.check, s.stage) for p in plan.placements for s in p.stages}
        self.checks = {placement.check for placement in plan.placements}
        self.sentences: list[str] = []

    def known(self) -> CrewPlan:
        """Return the crew plan without such rows, which count in no figure; tell each of them."""
        stages = {}
        for stage in self.made.stages:
            key = (stage.check, stage.stage)
            if key not in self.stages:
                self.sentences.append(f"{key[0]}: {key[1]} is not in the slot plan.")
            elif key in stages:
                self.sentences.append(f"{key[0]}: {key[1]} is listed twice.")
            stages[key] = stage
        return replace(
            self.made,
            attendance=self._able(self.made.attendance),
            work=self._able(self.made.work),
            stages=tuple(stage for key, stage in stages.items() if key in self.stages),
            bought=self._able(self.made.bought),
            short=self._able(self.made.short),
        )

    def _able(self, rows: Iterable[Row]) -> tuple[Row, ...]:
        able = []
        for row in rows:
            found = list(self._broken(row))
            self.sentences += found
            if not found:
                able.append(row)
        return tuple(able)

    def _broken(self, row: Attendance | StageHours | Short) -> Iterator[str]:
        who = row.check if isinstance(row, Short) else f"{row.crew} on {as_day(row.day)}"
        for kind, names in self.names.items():
            name = getattr(row, kind, None)
            if name is not None and name not in names:
                yield f"{who}: the base has no {kind} {name}."
        if isinstance(row, Attendance):
            if row.check not in self.checks:
                yield f"{who}: {row.check} is not in the slot plan."
            if row.heads < 0 or row.overtime_hours < 0:
                yield f"{who}: {row.heads:g} people, {row.overtime_hours:.2f} h overtime: below 0."
        else:
            if (row.check, row.stage) not in self.stages:
                yield f"{who}: {row.stage} of {row.check} is not in the slot plan."
            if row.hours < 0:
                yield f"{who}: {row.hours:.2f} h of {row.skill} for {row.stage}: below 0."
        if not isinstance(row, Short) and not self._is_staffed(row.day):
            yield f"{who}: the day is not in the weeks staffed."

    def _is_staffed(self, day: date) -> bool:
        return self.made.first_day <= day < self.made.until
