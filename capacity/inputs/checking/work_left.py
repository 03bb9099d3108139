"""What a check still has to do: its stages in network order, and the kinds of bay they need."""

import math
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from graphlib import TopologicalSorter
from itertools import groupby

from capacity.facts import Package, Stage, WorkProgress, latest_by_stage, leaves_on, with_extra
from capacity.inputs.checking.extra_stages import extra_by_check, unsound_extra
from capacity.inputs.checking.packages import sound_networks
from capacity.inputs.reading.facts_from_rows import packages_from, progress_from
from capacity.inputs.reading.rows import Sheets
from capacity.inputs.reading.sheets import CheckRow, HoursRow, ProgressRow
from capacity.plans.progress_left import Planned, left_by_stage

MOST_GROWTH = 10.0
"""Hours to go of more than so many times the planned ones are a slip; a judgement, no source."""

TOLERANCE = 1e-9  # man-hours and days, against the dust of divisions


@dataclass(frozen=True, slots=True)
class WorkLeft:
    """The stages still to do, in network order; a part of the stages ``begun`` is done.

    ``over_on`` says of stages that are done by which day, as far as progress tells it, and
    ``leaves_on`` on which day a check that is finished as a whole leaves. ``kinds_done`` are the
    kinds of work of the stages that are done.
    """

    stages: tuple[Stage, ...]
    begun: frozenset[str] = frozenset()
    over_on: Mapping[str, date] = field(default_factory=dict)
    leaves_on: date | None = None
    kinds_done: frozenset[str] = frozenset()

    def moves_first(self, bay_work: Collection[str]) -> bool:
        """Return whether a fixed bay of this work did what is done, and does nothing next.

        Then the aircraft stands there until it moves. A stage in work is where it is done.
        """
        if not self.stages or self.kinds_done.isdisjoint(bay_work):
            return False
        first = self.stages[0]
        return first.work not in bay_work and first.name not in self.begun

    def kinds_by_leg(self) -> tuple[str, ...]:
        """Return the kind of work of each leg: a run of stages that need the same kind."""
        return tuple(kind for kind, _ in groupby(stage.work for stage in self.stages))

    def skills(self) -> tuple[str, ...]:
        """Return the skills that are asked for."""
        asked = ((skill, n) for s in self.stages for skill, n in s.asked_hours(1.0).items())
        return tuple(dict.fromkeys(skill for skill, hours in asked if hours))


def work_left(sheets: Sheets) -> dict[int, WorkLeft]:
    """Return what is left of each check, by its row, if everything needed could be read."""
    sound = sound_networks(sheets)
    packages = {package.name: package for package in packages_from(sheets)}
    told, extra = progress_by_check(sheets), extra_by_check(sheets)
    unsound = unsound_extra(sheets)
    found: dict[int, WorkLeft] = {}
    alike: dict[tuple[object, ...], WorkLeft] = {}
    for check in sheets[CheckRow].rows:
        if check.package not in sound:
            continue
        if check.check in unsound:
            continue
        more = extra.get(check.check, ())
        package = packages[check.package]
        package = with_extra(package, more) if more else package
        rows = told.get(check.check, ())
        is_in = check.remaining is not None or bool(rows)
        if is_in and not sheets[HoursRow].whole_for(check.package):
            continue
        if rows and not sheets[ProgressRow].whole:
            continue
        key = (check.package, check.remaining, check.findings_factor, rows, more)
        if rows and _has_grown_too_much(package, check.findings_factor, rows):
            continue
        if key not in alike:
            alike[key] = left_of(package, check.remaining, check.findings_factor, rows)
        found[check.row] = alike[key]
    return found


def progress_by_check(sheets: Sheets) -> dict[str, tuple[WorkProgress, ...]]:
    """Return the progress stated for each check, by its name."""
    found: dict[str, tuple[WorkProgress, ...]] = {}
    for row in progress_from(sheets):
        found[row.check] = (*found.get(row.check, ()), row)
    return found


def planned_of(package: Package, findings_factor: float) -> tuple[Planned, ...]:
    """Return the stages in network order with their man-hours, findings among them."""
    stages, _ = _by_earliest_start(package.stages)
    return tuple(
        Planned(stage.name, _man_hours(stage, findings_factor), stage.after, stage.is_extra)
        for stage in stages
    )


def _has_grown_too_much(
    package: Package, findings_factor: float, rows: tuple[WorkProgress, ...]
) -> bool:
    shares = left_by_stage(planned_of(package, findings_factor), rows).shares
    return any(share > MOST_GROWTH for share in shares.values())


def left_of(
    package: Package,
    remaining: float | None = None,
    findings_factor: float = 1.0,
    progress: tuple[WorkProgress, ...] = (),
) -> WorkLeft:
    """Return what is left when a share of the man-hours is still to do; all without a share.

    With ``progress`` what that leaves of each stage. Otherwise the work done is taken off the
    stages in network order; the stage that it ends in keeps the days in proportion. The stages
    must not wait for each other in a circle.
    """
    stages, _ = _by_earliest_start(package.stages)
    if progress:
        left_now = left_by_stage(planned_of(package, findings_factor), progress)
        shares = left_now.shares
        kept = (_partly_done(s, shares[s.name]) for s in stages if s.name in shares)
        latest = latest_by_stage(progress).items()
        over = {name: row.over_on for name, row in latest if name and row.over_on}
        out_day = leaves_on(progress, [stage.name for stage in stages])
        done_kinds = frozenset(stage.work for stage in stages if stage.name not in shares)
        return WorkLeft(tuple(kept), left_now.begun, over, out_day, done_kinds)
    asked = {stage.name: _man_hours(stage, findings_factor) for stage in stages}
    done = 0.0 if remaining is None else (1 - remaining) * sum(asked.values())
    if done <= TOLERANCE:
        return WorkLeft(stages)
    gone = 0.0
    left: list[Stage] = []
    begun: frozenset[str] = frozenset()
    for stage in stages:
        before, gone = gone, gone + asked[stage.name]
        if gone <= done + TOLERANCE:
            continue
        if before < done:
            share = (gone - done) / asked[stage.name]
            left.append(_partly_done(stage, share))
            begun = frozenset({stage.name})
        else:
            left.append(stage)
    names = {stage.name for stage in left}
    done_kinds = frozenset(stage.work for stage in stages if stage.name not in names)
    return WorkLeft(tuple(left), begun, kinds_done=done_kinds)


def worked_days_of(package: Package) -> int:
    """Return the worked days of the package's longest way through its stages."""
    stages, starts = _by_earliest_start(package.stages)
    return max(starts[stage.name] + stage.days for stage in stages)


def _partly_done(stage: Stage, share: float) -> Stage:
    """Keep a share of a stage's days, rounded up: normal, shortest and longest ones."""
    return replace(
        stage,
        days=_share_of(stage.days, share),
        shortest_days=stage.shortest_days and _share_of(stage.shortest_days, share),
        longest_days=stage.longest_days and _share_of(stage.longest_days, share),
    )


def _share_of(days: int, share: float) -> int:
    return max(1, math.ceil(days * share - TOLERANCE))


def _man_hours(stage: Stage, findings_factor: float) -> float:
    return sum(stage.asked_hours(findings_factor).values())


def _by_earliest_start(
    stages: tuple[Stage, ...],
) -> tuple[tuple[Stage, ...], Mapping[str, int]]:
    """Return the stages by earliest start in worked days, ties in the sheet's order; and those."""
    by_name = {stage.name: stage for stage in stages}
    starts: dict[str, int] = {}
    for name in TopologicalSorter({s.name: s.after for s in stages}).static_order():
        before = [by_name[other] for other in by_name[name].after]
        starts[name] = max((starts[other.name] + other.days for other in before), default=0)
    return tuple(sorted(stages, key=lambda stage: starts[stage.name])), starts
