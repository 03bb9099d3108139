"""A quarter rolled week by week while true findings come out, beside a plan that knew them all.

``python -m tests.bench.simulated_quarter [--seeds 1 2 3] [--seconds 2]`` prints both costs. Each
week the planner reports progress as it truly is, rolls the workbook on and plans again. All of it
is invented; a stage that grows takes longer in proportion, at the pace at which it was planned.
"""

import argparse
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from math import ceil, fsum
from pathlib import Path
from random import Random

import openpyxl

import capacity
from capacity.facts import Base, Check, Package, Stage
from capacity.plans.audit import audit
from capacity.plans.plan import Goals, Placement, Plan, StageDays
from capacity.plans.worked_days import WorkedDays
from capacity.questions.roll.values import Delivered
from tests.inputs.books import write_workbook
from tests.questions.roll.weekly_books import plan_of, weekly_book

ONE_DAY, WEEK = timedelta(days=1), timedelta(days=7)
TINY = 1e-6


@dataclass
class TrueStage:
    """A stage as it truly is: ``hours`` in all, ``booked`` so far, ``finished`` on its last day.

    ``told`` are the man-hours that the plan of the week has for it.
    """

    stage: Stage
    hours: float
    planned: float
    told: float = 0.0
    began: date | None = None
    booked: float = 0.0
    finished: date | None = None

    @property
    def to_go(self) -> float:
        """Man-hours that are truly left."""
        return max(0.0, self.hours - self.booked)


@dataclass
class TrueCheck:
    """A check as it truly goes: ``bay`` and ``in_day`` once it has come."""

    check: Check
    stages: dict[str, TrueStage]
    bay: str | None = None
    in_day: date | None = None

    @property
    def is_out(self) -> bool:
        """Whether all of its work is done."""
        return all(one.finished is not None for one in self.stages.values())

    @property
    def out_day(self) -> date | None:
        """The day after its last, once all is done."""
        days = [one.finished for one in self.stages.values()]
        known = [day for day in days if day is not None]
        return max(known) + ONE_DAY if len(known) == len(days) else None


@dataclass
class Quarter:
    """What came of a quarter: goals as it went and as a plan that knew all would have had them.

    ``weeks`` are the bases from week to week, each before its news; ``delivered`` the records of
    checks in turn, ``dropped`` the options that went, by name; ``hours_left`` are those of checks
    in work at the end of each week, findings as far as they have come out.
    """

    truth: dict[str, TrueCheck]
    first: Base
    weeks: list[Base] = field(default_factory=list)
    hours_left: list[dict[str, float]] = field(default_factory=list)
    delivered: list[Delivered] = field(default_factory=list)
    dropped: set[str] = field(default_factory=set)
    rolled: Goals | None = None
    perfect: Goals | None = None


def simulated(
    folder: Path, seed: int, *, checks: int = 10, weeks: int = 13, seconds: float = 1.0
) -> Quarter:
    """Roll a small base through a quarter, and plan it once more knowing all findings."""
    book = weekly_book(seed, checks=checks, weeks=weeks, paint=False)
    del book["Shops"], book["Shop loops"]
    book["Bay closures"] = book["Bay closures"][:2]
    path = write_workbook(book, folder / "week-00.xlsx")
    base = capacity.read(path)
    quarter = Quarter(_truth(base, Random(seed)), base)
    worked = WorkedDays(base)
    plan = plan_of(base, seconds)
    for number in range(1, 2 * weeks):
        quarter.weeks.append(base)
        monday = base.first_day + WEEK
        late = _week(quarter.truth, plan, base, monday, worked)
        quarter.hours_left.append(
            {
                name: fsum(s.planned if s.began is None else s.to_go for s in one.stages.values())
                for name, one in quarter.truth.items()
                if one.in_day is not None and not one.is_out
            }
        )
        _report(path, quarter.truth, base, monday)
        told = capacity.roll_forward(path, plan, monday, not_in=sorted(late))
        quarter.delivered += [one for one in told.rolled.delivered]
        quarter.dropped |= {one.check for one in told.rolled.dropped}
        if len(quarter.delivered) + len(quarter.dropped) == len(quarter.truth):
            break  # a workbook has a check at least
        assert told.base is not None, told.messages
        base, path = told.base, folder / f"week-{number:02d}.xlsx"
        capacity.write_rolled(told, path)
        plan = plan_of(base, seconds, begin=capacity.rolled_plan(plan, base))
    quarter.rolled = _as_it_went(quarter)
    quarter.perfect = _with_perfect_knowledge(quarter, 5 * seconds)
    return quarter


def _truth(base: Base, random: Random) -> dict[str, TrueCheck]:
    """Draw the findings of every stage of every check: normal, never below 0."""
    found = {}
    for check in base.checks:
        stages = {}
        for stage in base.package(check.package).stages:
            routine = fsum(stage.man_hours.values())
            spread = stage.findings * stage.findings_spread
            share = max(0.0, random.gauss(stage.findings, spread)) if stage.findings else 0.0
            planned = routine * (1 + stage.findings * check.findings_factor)
            stages[stage.name] = TrueStage(stage, routine * (1 + share), planned)
        found[check.name] = TrueCheck(check, stages)
    return found


def _week(
    truth: dict[str, TrueCheck], plan: Plan, base: Base, monday: date, worked: WorkedDays
) -> set[str]:
    """Let a week pass; return the checks that could not come in, their bay not being free."""
    by_check, late = plan.by_check(), set()
    changeover = {bay.name: timedelta(days=bay.changeover_days) for bay in base.bays}
    for stage in (stage for one in truth.values() for stage in one.stages.values()):
        stage.told = stage.planned if stage.began is None else stage.to_go
    day = base.first_day
    while day < monday:
        for name, placements in by_check.items():
            one = truth[name]
            if one.in_day is not None or placements[0].in_day != day:
                continue
            bay = placements[0].bay
            if any(_is_there(o, bay, day - changeover[bay]) for o in truth.values()):
                late.add(name)
            else:
                one.bay, one.in_day = bay, day
        if day in worked:
            for name, one in truth.items():
                if one.in_day is not None and not one.is_out:
                    _work(one, by_check[name], day, worked)
        day += ONE_DAY
    return late


def _is_there(one: TrueCheck, bay: str, day: date) -> bool:
    if one.bay != bay:
        return False
    return one.out_day is None or one.out_day > day


def _work(one: TrueCheck, placements: list[Placement], day: date, worked: WorkedDays) -> None:
    """Do a day's work: every stage whose stages before ended earlier, at its planned pace."""
    days = {stage.stage: stage for placement in placements for stage in placement.stages}
    for stage in one.stages.values():
        before = [one.stages[name].finished for name in stage.stage.after]
        if stage.finished is not None or any(end is None or end >= day for end in before):
            continue
        stage.began = stage.began or day
        span = days.get(stage.stage.name)
        in_all = worked.count(span.first, span.until) if span else 1
        stage.booked += min(stage.told / max(1, in_all), stage.to_go)
        if stage.to_go <= TINY:
            stage.booked, stage.finished = stage.hours, day


def _report(path: Path, truth: dict[str, TrueCheck], base: Base, monday: date) -> None:
    """Type the news of a week into the workbook, as its planner would on Monday."""
    book = openpyxl.load_workbook(path)
    titles = ["Check", "Stage", "As of", "Done %", "Hours booked", "Hours to go", "Finished"]
    if "Progress" not in book.sheetnames:
        book.create_sheet("Progress").append(titles)
    sheet = book["Progress"]
    columns = {cell.value: cell.column for cell in sheet[1]}
    for title in titles:
        columns.setdefault(title, len(columns) + 1)
        sheet.cell(1, columns[title]).value = title
    rows = {
        (cells[columns["Check"] - 1].value, cells[columns["Stage"] - 1].value): cells[0].row
        for cells in sheet.iter_rows(min_row=2)
        if cells[columns["Check"] - 1].value
    }
    here = {check.name for check in base.checks}
    for name, one in truth.items():
        for stage in one.stages.values() if name in here and one.in_day else ():
            if stage.began is None:
                continue
            row = rows.get((name, stage.stage.name), sheet.max_row + 1)
            to_go = None if stage.finished else stage.to_go
            told = (name, stage.stage.name, monday, None, stage.booked, to_go, stage.finished)
            for title, value in zip(titles, told, strict=True):
                sheet.cell(row, columns[title]).value = value
    book.save(path)


def _as_it_went(quarter: Quarter) -> Goals:
    """Return the goals of what happened, as the audit has them of a plan of just that."""
    worked = WorkedDays(quarter.first)
    packages, checks, placements = [], [], []
    for name, one in quarter.truth.items():
        if one.in_day is None or one.bay is None or not one.is_out:
            continue
        stages, spans = [], []
        for stage in one.stages.values():
            assert stage.began is not None
            assert stage.finished is not None
            until = stage.finished + ONE_DAY
            stages.append(_true_stage(stage, worked.count(stage.began, until), None, None))
            spans.append(StageDays(stage.stage.name, stage.began, until))
        packages.append(Package(name, tuple(stages)))
        checks.append(replace(one.check, package=name))
        assert one.out_day is not None
        placements.append(
            Placement(name, one.bay, spans[0].stage, one.in_day, one.out_day, tuple(spans))
        )
    base = quarter.first.replace(packages=tuple(packages), checks=tuple(checks))
    return audit(base, Plan(tuple(placements))).goals


def _with_perfect_knowledge(quarter: Quarter, seconds: float) -> Goals:
    """Return the goals of a plan made on the first day with the true man-hours and days."""
    packages, checks = [], []
    for name, one in quarter.truth.items():
        stages = tuple(
            _true_stage(
                stage,
                _grown(stage.stage.days, stage),
                _grown(stage.stage.shortest_days, stage),
                _grown(stage.stage.longest_days, stage),
            )
            for stage in one.stages.values()
        )
        packages.append(Package(name, stages))
        checks.append(replace(one.check, package=name))
    base = quarter.first.replace(packages=tuple(packages), checks=tuple(checks))
    return audit(base, plan_of(base, seconds)).goals


def _true_stage(
    true: TrueStage, days: int | None, shortest: int | None, longest: int | None
) -> Stage:
    routine = fsum(true.stage.man_hours.values())
    growth = true.hours / routine if routine else 1.0
    return replace(
        true.stage,
        days=days or 1,
        shortest_days=shortest,
        longest_days=longest,
        man_hours={skill: hours * growth for skill, hours in true.stage.man_hours.items()},
        findings=0.0,
    )


def _grown(days: int | None, true: TrueStage) -> int | None:
    return None if days is None else max(1, ceil(days * true.hours / true.planned - TINY))


def lines(seeds: list[int], seconds: float) -> Iterator[str]:
    """Yield a line for each seed: what the quarter cost, and what it need have cost."""
    for seed in seeds:
        with tempfile.TemporaryDirectory() as folder:
            quarter = simulated(Path(folder), seed, seconds=seconds)
        assert quarter.rolled is not None
        assert quarter.perfect is not None
        yield (
            f"seed {seed}: rolled over {len(quarter.weeks)} weeks "
            f"{quarter.rolled.money:,.0f} EUR and {quarter.rolled.days_past_latest_in} days past "
            f"Latest in; with perfect knowledge {quarter.perfect.money:,.0f} EUR and "
            f"{quarter.perfect.days_past_latest_in} days"
        )


def main() -> None:
    """Print both costs for some seeds."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seeds", type=int, nargs="+", default=[1, 2, 3])
    parser.add_argument("--seconds", type=float, default=2.0, help="for each week's search")
    given = parser.parse_args()
    for line in lines(given.seeds, given.seconds):
        sys.stdout.write(f"{line}\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main()
