"""One draw of a plan played through in plain dates, a second time and by other means."""

from collections import defaultdict
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby
from math import ceil

import numpy as np

from capacity.facts import Base, Check
from capacity.plans.alone import clear_start
from capacity.plans.plan import Placement, Plan
from capacity.plans.stays import StayLayout
from capacity.plans.weeks import monday_of, week_name
from capacity.plans.work_left import Work, work_left
from capacity.plans.worked_days import WorkedDays, day_after
from capacity.questions.risk.draws import scores_of
from capacity.questions.risk.findings import factor_at, spread_of
from capacity.questions.risk.settings import RiskSettings


@dataclass
class Replayed:
    """In days and out days of every visit; man-hours by check and by week and skill."""

    ins: dict[tuple[str, int], date]
    outs: dict[tuple[str, int], date]
    man_hours: dict[str, float]
    demand: dict[tuple[str, str], float]


class PlainReplay:
    def __init__(self, plan: Plan, base: Base, settings: RiskSettings) -> None:
        """Sort what is looked up by name."""
        self.base, self.settings = base, settings
        self.worked_days = WorkedDays(base)
        self.layout = StayLayout(base, self.worked_days)
        self.checks = {check.name: check for check in base.checks}
        self.placements: dict[str, list[Placement]] = defaultdict(list)
        for placement in sorted(plan.placements, key=lambda p: p.in_day):
            self.placements[placement.check].append(placement)
        self.factors: dict[tuple[str, str], np.ndarray] = {}

    def draw(self, number: int) -> Replayed:
        """Push checks out of each other's way until every one has its bays for itself."""
        ins = {
            (name, place): placement.in_day
            for name, placements in self.placements.items()
            for place, placement in enumerate(placements)
        }
        while True:
            laid = {name: self._lay(self.checks[name], number, ins) for name in self.placements}
            outs = {key: out for one in laid.values() for key, out in one.outs.items()}
            later = {key: self._free(*key, outs) for key in ins}
            moved = {key: max(ins[key], laid[key[0]].ins[key], later[key]) for key in ins}
            if moved == ins:
                break
            ins = moved
        demand: defaultdict[tuple[str, str], float] = defaultdict(float)
        for one in laid.values():
            for key, hours in one.demand.items():
                demand[key] += hours
        return Replayed(
            ins, outs, {name: sum(one.demand.values()) for name, one in laid.items()}, demand
        )

    def _free(self, name: str, place: int, outs: dict[tuple[str, int], date]) -> date:
        """Everybody planned before it in its bay, or on its floor, has gone."""
        own = self.placements[name][place]
        bays = {bay.name: bay for bay in self.base.bays}
        free = own.in_day
        for other, placements in self.placements.items():
            for number, before in enumerate(placements):
                if other == name or before.out_day > own.in_day:
                    continue
                same = before.bay == own.bay
                shared = (
                    before.bay in bays[own.bay].shares_floor_with
                    or own.bay in bays[before.bay].shares_floor_with
                )
                if same or shared:
                    days = bays[own.bay].changeover_days if same else 0
                    free = max(free, outs[other, number] + timedelta(days=days))
        return free

    def _lay(self, check: Check, number: int, ins: dict[tuple[str, int], date]) -> Replayed:
        waits = self._walk(check, None, {}, {})[2]
        visits = {
            place: ins[check.name, place] for place in range(len(ins)) if (check.name, place) in ins
        }
        began, ended, _, demand = self._walk(check, number, waits, visits)
        keys = [(check.name, place) for place in range(len(began))]
        return Replayed(
            dict(zip(keys, began, strict=True)),
            dict(zip(keys, ended, strict=True)),
            {},
            demand,
        )

    def _fewest_waited(self, ready: date, first: date) -> int:
        """Try one day after the other until work would not begin before the stated day."""
        for days in range(self.base.longest_wait_days):
            day = ready + timedelta(days=days)
            if all(d not in self.worked_days for d in _days(day, first)):
                return days
        return self.base.longest_wait_days

    def _walk(
        self,
        check: Check,
        number: int | None,
        waits: dict[object, int],
        visits: dict[int, date],
    ) -> tuple[list[date], list[date], dict[object, int], dict[tuple[str, str], float]]:
        """Lay a check out; without a draw as planned, and note its waits."""
        placements = self.placements[check.name]
        stated = {s.stage: s for placement in placements for s in placement.stages}
        works = work_left(self.base, check)
        in_bay = {s.stage: n for n, p in enumerate(placements) for s in p.stages}
        learned: dict[object, int] = {}
        in_day = max(visits.get(0, placements[0].in_day), placements[0].in_day)
        start = max(in_day, self.base.goes_on_from(check) or in_day)
        began, ended = [in_day], []
        spans: dict[str, tuple[Work, date, date]] = {}
        demand: defaultdict[tuple[str, str], float] = defaultdict(float)
        for _, leg in groupby(works, lambda work: work.kind):
            leg = list(leg)
            leg_starts = max([start, *(until for _, _, until in spans.values())])
            place = in_bay[leg[0].stage]
            if place and not spans:  # nothing was left to do in the bay before
                leg_starts = max(leg_starts, in_day + timedelta(days=1))
            if place == len(began):
                learned[place] = (placements[place].in_day - leg_starts).days
                leg_starts += timedelta(days=waits.get(place, learned[place]))
                leg_starts = max(leg_starts, visits.get(place, placements[place].in_day))
                began.append(leg_starts)
                ended.append(leg_starts)
            for work in leg:
                until = {name: span[2] for name, span in spans.items()}
                ready = self.layout.ready(work, leg_starts, until, start)
                if work.errands:
                    learned[work.stage] = self._fewest_waited(ready, stated[work.stage].first)
                    ready += timedelta(days=waits.get(work.stage, learned[work.stage]))
                planned = self.worked_days.count(stated[work.stage].first, stated[work.stage].until)
                over = stated[work.stage].until <= self.base.first_day
                growth = 1.0 if number is None or over else self._growth(check, work, number)
                days = planned if over else max(work.shortest, ceil(growth * planned - 1e-9))
                apart = [
                    Span(first, last)
                    for other, first, last in spans.values()
                    if other.alone or work.alone
                ]
                first = clear_start(ready, days, apart, self.worked_days)
                worked = self.worked_days.stretch(first, days)
                spans[work.stage] = work, first, day_after(worked, first)
                for one in worked:
                    if one >= self.base.first_day:
                        for skill, hours in work.man_hours.items():
                            week = week_name(monday_of(one))
                            demand[week, skill] += hours * growth / days
        ended.append(max([start, *(until for _, _, until in spans.values())]))
        return began, ended, learned, demand

    def _growth(self, check: Check, work: Work, number: int) -> float:
        stages = {stage.name: stage for stage in self.base.package_of(check).stages}
        stage = stages[work.stage]
        key = check.name, stage.name
        if key not in self.factors:
            spread, _ = spread_of(stage, self.settings)
            scores = scores_of(check.name, stage.name, self.settings)
            self.factors[key] = factor_at(scores, spread, self.settings.shape)
        mean = stage.findings * check.findings_factor
        routine, extra = sum(stage.man_hours.values()), sum(stage.extra_hours.values())
        if not routine:
            return 1.0
        drawn = routine * (1 + mean * self.factors[key][number]) + extra
        return float(drawn / (routine * (1 + mean) + extra))


@dataclass
class Span:
    first: date
    until: date


def _days(first: date, until: date) -> list[date]:
    return [first + timedelta(days=n) for n in range((until - first).days)]
