"""What extra work adds to the checks of a plan, in a planner's sentences."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date
from math import fsum

from capacity.facts import Base, ExtraWork
from capacity.messages import Level, Message
from capacity.plans.plan import Plan
from capacity.words import hours, listed

Where = Callable[[str, str, str], str]


@dataclass(frozen=True, slots=True)
class ExtraLine:
    """Extra work of a check with a slot, and the days of its stage; ``first`` None: it is done."""

    work: ExtraWork
    is_new_stage: bool
    first: date | None
    until: date | None


def extra_lines(plan: Plan, base: Base) -> tuple[ExtraLine, ...]:
    """Return the extra work of the checks with a slot, in the order of the base."""
    days = {
        (placement.check, stage.stage): stage
        for placement in plan.placements
        for stage in placement.stages
    }
    placed = {placement.check for placement in plan.placements if base.has_check(placement.check)}
    found = []
    for row in base.extra_work:
        if row.check in placed:
            own = {stage.name for stage in base.package(base.check(row.check).package).stages}
            span = days.get((row.check, row.stage))
            found.append(
                ExtraLine(
                    row,
                    row.stage not in own,
                    None if span is None else span.first,
                    None if span is None else span.until,
                )
            )
    return tuple(found)


def extra_messages(plan: Plan, base: Base, where: Where) -> Iterator[Message]:
    """Yield a note for each check with extra work in the plan: hours by reason."""
    lines = [line for line in extra_lines(plan, base) if line.first is not None]
    row_of: dict[str, int] = {}
    for number, row in enumerate(base.extra_work, start=1):
        row_of.setdefault(row.check, number)
    for check in dict.fromkeys(line.work.check for line in lines):
        mine = [line.work for line in lines if line.work.check == check]
        place = where("Extra work", f"#{row_of[check]}", "Man-hours")
        yield Message(Level.NOTE, place, _of_check(check, mine))


def _of_check(check: str, mine: list[ExtraWork]) -> str:
    reasons = dict.fromkeys(row.reason for row in mine)
    told = [
        f"{hours(fsum(row.man_hours for row in mine if row.reason is reason))} {reason}"
        for reason in reasons
    ]
    whole = fsum(row.man_hours for row in mine)
    return f"{check} has {hours(whole)} beyond its package: {listed(told)}."
