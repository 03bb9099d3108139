"""The stages of a check with the work that it has beyond its package."""

from collections import defaultdict
from dataclasses import replace

from capacity.facts import Base, Check, Stage


def stages_of(base: Base, check: Check) -> tuple[Stage, ...]:
    """Return the stages of its package with extra hours on them, and the new ones behind.

    A new stage comes after the last stage of the package where its rows name none. Otherwise,
    unless it comes after that anyhow, the last stage waits for it.
    """
    own = base.package(check.package).stages
    rows = [row for row in base.extra_work if row.check == check.name]
    if not rows:
        return own
    hours: defaultdict[str, defaultdict[str, float]] = defaultdict(lambda: defaultdict(float))
    for row in rows:
        hours[row.stage][row.skill] += row.man_hours
    stages = {stage.name: replace(stage, extra_hours=dict(hours[stage.name])) for stage in own}
    last = own[-1].name
    for row in rows:
        if row.stage not in stages:
            stages[row.stage] = Stage(
                row.stage, "", 1, dict(hours[row.stage]), (last,), is_extra=True
            )
    for row in rows:
        stage = stages[row.stage]
        if stage.is_extra:
            stages[row.stage] = replace(
                stage,
                work=stage.work or row.work or "",
                days=stage.days if row.days is None else row.days,
                after=stage.after if row.after is None else row.after,
            )
    behind = {last}
    for _ in stages:
        behind |= {stage.name for stage in stages.values() if behind & {*stage.after}}
    first = tuple(s.name for s in stages.values() if s.is_extra and s.name not in behind)
    stages[last] = replace(stages[last], after=(*stages[last].after, *first))
    return tuple(stages.values())
