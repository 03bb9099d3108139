"""What a stage had done before its plan was made again, as far as it still counts."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from datetime import date
from math import fsum

from capacity.facts import WorkDone
from capacity.plans.week_hours import TOLERANCE
from capacity.plans.weeks import monday_of
from capacity.plans.work_left import Work


def hours_done(
    work: Work,
    worked: Sequence[date],
    float_days: Sequence[date],
    done: WorkDone,
    first_day: date,
) -> Mapping[tuple[date, str], float]:
    """Return the man-hours that are done, by the Monday of the week and the skill.

    They count as they are told. Where the stage takes fewer in all, or has no day left for more,
    they count in proportion as what it takes; where none are stated of a skill and no day is left,
    it lies evenly over its worked days. Days before ``first_day`` take nothing.
    """
    planned = [day for day in worked if day >= first_day]
    is_left = any(day >= max(done.before, first_day) for day in (*worked, *float_days))
    told: defaultdict[str, list[float]] = defaultdict(list)
    for one in done.hours:
        told[one.skill].append(one.hours)
    parts: defaultdict[tuple[date, str], list[float]] = defaultdict(list)
    for skill, hours in work.man_hours.items():
        total, in_all = hours * len(planned) / len(worked), fsum(told[skill])
        if in_all > TOLERANCE:
            counts = min(1.0, total / in_all) if is_left else total / in_all
            for one in done.hours:
                if one.skill == skill:
                    parts[one.monday, skill].append(one.hours * counts)
        elif not is_left:
            for day in planned:
                parts[monday_of(day), skill].append(hours / len(worked))
    return {key: fsum(hours) for key, hours in parts.items()}
