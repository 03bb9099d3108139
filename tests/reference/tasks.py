"""What a check has still to do, from the facts alone: its stages, legs and paces."""

from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import groupby, product
from math import ceil

from capacity.facts import Base, Check, Package, Stage, WorkProgress

ROUNDING = 1e-9


@dataclass(frozen=True)
class Errand:
    """Items for a shop; ``leave_at`` is None when they leave as the work that is left begins."""

    shop: str
    items: int
    leave_at: str | None
    left: date | None = None


@dataclass(frozen=True)
class Task:
    """A stage still to do; ``days`` are its least, normal and most worked days."""

    name: str
    kind: str
    days: tuple[int, int, int]
    man_hours: dict[str, float]
    after: tuple[str, ...]
    equipment: tuple[str, ...]
    alone: bool
    errands: tuple[Errand, ...]
    in_work: bool = False
    ready: date | None = None
    is_extra: bool = False


def goes_on(base: Base, check: Check, in_day: date) -> date:
    """Return the day from which the work that is left is done."""
    told = [row for row in base.progress if row.check == check.name]
    if told and not tasks_of(base, check):
        newest = {row.stage: row.finished for row in sorted(told, key=lambda row: row.as_of)}
        names = [row.stage for row in base.extra_work if row.check == check.name]
        package = next(package for package in base.packages if package.name == check.package)
        names += [stage.name for stage in package.stages]
        if newest.get(None) or all(newest.get(name) for name in names):
            last = max(day for day in newest.values() if day)
            return max(in_day, last + timedelta(days=1))
    if told:
        return max(in_day, base.first_day, *(row.as_of for row in told))
    return (
        in_day if check.remaining is None else max(in_day, base.work_counts_from or base.first_day)
    )


def tasks_of(base: Base, check: Check) -> list[Task]:
    """Return what is left by earliest start at normal days, ties as in the package."""
    package = next(package for package in base.packages if package.name == check.package)
    package = replace(package, stages=_with_extra(base, check, list(package.stages)))
    stages = {stage.name: stage for stage in package.stages}

    def earliest(stage: Stage) -> int:
        return max((earliest(stages[a]) + stages[a].days for a in stage.after), default=0)

    in_order = sorted(package.stages, key=earliest)
    whole = [_whole(base, check, package, stage) for stage in in_order]
    told = [row for row in base.progress if row.check == check.name]
    if told:
        return _told(whole, told)
    return whole if check.remaining is None else _left(whole, 1 - check.remaining)


def legs_of(tasks: list[Task]) -> list[list[Task]]:
    """Cut the tasks wherever the next one needs another kind of bay."""
    return [list(run) for _, run in groupby(tasks, key=lambda task: task.kind)] or [[]]


def only_stands(base: Base, check: Check, tasks: list[Task]) -> bool:
    """Return whether a fixed check is in a bay that did what is done and does nothing next."""
    if check.fixed_bay is None or check.fixed_in is None or not tasks:
        return False
    does = next(bay.work for bay in base.bays if bay.name == check.fixed_bay)
    package = next(package for package in base.packages if package.name == check.package)
    stages = _with_extra(base, check, list(package.stages))
    names = [task.name for task in tasks]
    did = [stage for stage in stages if stage.name not in names and stage.work in does]
    whole = next(
        task for task in (_whole(base, check, package, s) for s in stages) if task.name == names[0]
    )
    asked, left = (sum(task.man_hours.values()) for task in (whole, tasks[0]))
    is_begun = tasks[0].in_work or left < asked - ROUNDING
    return bool(did) and tasks[0].kind not in does and not is_begun


def paces_of(tasks: list[Task]) -> list[dict[str, int]]:
    """Return worked days by task for every pace, each task anywhere within its days."""
    ranges = [range(task.days[0], task.days[2] + 1) for task in tasks]
    names = [task.name for task in tasks]
    return [dict(zip(names, days, strict=True)) for days in product(*ranges)]


def _with_extra(base: Base, check: Check, stages: list[Stage]) -> tuple[Stage, ...]:
    """Put the check's extra rows on its stages, and new stages behind or before the last one."""
    last = stages[-1].name
    for row in base.extra_work:
        if row.check != check.name:
            continue
        mine = [n for n, stage in enumerate(stages) if stage.name == row.stage]
        if mine:
            stage = stages[mine[0]]
            more = {**stage.extra_hours}
            more[row.skill] = more.get(row.skill, 0.0) + row.man_hours
            stages[mine[0]] = replace(stage, extra_hours=more)
        else:
            after = (last,) if row.after is None else row.after
            asked = {row.skill: row.man_hours}
            assert row.work is not None
            assert row.days is not None
            new = Stage(row.stage, row.work, row.days, {}, after, extra_hours=asked, is_extra=True)
            stages.append(new)
    names = {stage.name: stage for stage in stages}

    def is_behind_last(stage: Stage) -> bool:
        return any(name == last or is_behind_last(names[name]) for name in stage.after)

    wanted = tuple(s.name for s in stages if s.is_extra and not is_behind_last(s))
    return tuple(
        replace(stage, after=(*stage.after, *wanted)) if stage.name == last else stage
        for stage in stages
    )


def _whole(base: Base, check: Check, package: Package, stage: Stage) -> Task:
    """Take a stage with its findings and errands."""
    days = stage.shortest_days or stage.days, stage.days, stage.longest_days or stage.days
    growth = 1 + stage.findings * check.findings_factor
    return Task(
        name=stage.name,
        kind=stage.work,
        days=days,
        man_hours={
            skill: stage.man_hours.get(skill, 0.0) * growth + stage.extra_hours.get(skill, 0.0)
            for skill in (*stage.man_hours, *stage.extra_hours)
        },
        after=stage.after,
        equipment=stage.equipment,
        alone=stage.alone,
        is_extra=stage.is_extra,
        ready=max(
            (
                row.not_before
                for row in base.ready_dates
                if (row.check, row.stage) == (check.name, stage.name)
            ),
            default=None,
        ),
        errands=tuple(
            Errand(loop.shop, loop.items, loop.leave_at)
            for loop in base.shop_loops
            if (loop.package, loop.back_for) == (package.name, stage.name)
        ),
    )


def _left(tasks: list[Task], share_done: float) -> list[Task]:
    """Walk along the tasks and take off the share of all man-hours that is done.

    A task that is begun has its items back; items of a task that is done leave as what is
    left begins.
    """
    done = share_done * sum(sum(task.man_hours.values()) for task in tasks)
    if done <= ROUNDING:
        return tasks
    left: list[Task] = []
    for task in tasks:
        hours = sum(task.man_hours.values())
        if left or done <= ROUNDING < hours:
            left.append(task)
        elif hours > done + ROUNDING:
            share = (hours - done) / hours
            least, normal, most = (max(1, ceil(n * share - ROUNDING)) for n in task.days)
            asked = {skill: share * part for skill, part in task.man_hours.items()}
            begun = replace(
                task, days=(least, normal, most), man_hours=asked, errands=(), ready=None
            )
            left.append(begun)
        else:
            done -= hours
    names = {task.name for task in left}
    return [_without_done(task, names) for task in left]


def _told(tasks: list[Task], told: list[WorkProgress]) -> list[Task]:
    """Take of each task what its newest row, its followers or the row of the whole say is left."""
    newest = {row.stage: row for row in sorted(told, key=lambda row: row.as_of)}
    by_name = {task.name: task for task in tasks}
    hours = {task.name: sum(task.man_hours.values()) for task in tasks}

    def share(row: WorkProgress, planned: float) -> float:
        if row.finished:
            return 0.0
        if row.hours_to_go is not None:
            return row.hours_to_go / planned if planned else float(row.hours_to_go > 0)
        return 1 - (row.done or 0)

    def moved_on(name: str) -> bool:
        """Say whether a task is in work or done by its own row."""
        row = newest.get(name)
        return row is not None and (share(row, hours[name]) < 1 or bool(row.hours_booked))

    def followed(name: str) -> bool:
        """Say whether a task that waits for this one, or one behind it, has moved on."""
        behind = [task.name for task in tasks if name in task.after]
        return any(moved_on(other) or followed(other) for other in behind)

    total, whole = sum(hours.values()), newest.get(None)
    of_whole = 1.0 if whole is None else share(whole, total)
    done = max(0.0, (1 - of_whole) * total)
    left = []
    for task in tasks:
        name, mine = task.name, hours[task.name]
        used = min(done, mine)
        if name in newest:
            part, in_work = share(newest[name], mine), moved_on(name)
        elif (followed(name) and not task.is_extra) or of_whole <= ROUNDING:
            part, in_work = 0.0, False
        elif of_whole > 1:
            part, in_work = of_whole, False
        elif mine:
            part, in_work = 1 - used / mine, ROUNDING < used < mine - ROUNDING
        else:
            part, in_work = float(done <= ROUNDING), False
        done -= used
        if part > ROUNDING:
            least, normal, most = (max(1, ceil(n * part - ROUNDING)) for n in task.days)
            asked = {skill: part * one for skill, one in task.man_hours.items()}
            errands = () if in_work else task.errands
            left.append(
                replace(
                    by_name[name],
                    days=(least, normal, most),
                    man_hours=asked,
                    errands=errands,
                    in_work=in_work,
                    ready=None if in_work else task.ready,
                )
            )
    gone_on = {
        name: row.finished + timedelta(days=1) if row.finished else row.as_of
        for name, row in newest.items()
        if name and share(row, hours[name]) <= 0
    }
    names = {task.name for task in left}
    return [_without_done(_with_gone(task, gone_on), names) for task in left]


def _with_gone(task: Task, gone_on: dict[str, date]) -> Task:
    """Say of items whose task is told to be done when they left."""
    return replace(
        task,
        errands=tuple(replace(one, left=gone_on.get(one.leave_at or "")) for one in task.errands),
    )


def _without_done(task: Task, left: set[str]) -> Task:
    errands = tuple(
        errand if errand.leave_at in left else replace(errand, leave_at=None)
        for errand in task.errands
    )
    after = tuple(name for name in task.after if name in left)
    return replace(task, after=after, errands=errands)
