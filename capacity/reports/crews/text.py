"""A crew plan in lines for a terminal."""

from collections.abc import Iterator
from datetime import timedelta

from capacity.crews.assign import Staffed
from capacity.crews.model.solve import GoalReached
from capacity.crews.problem import HUNDREDTHS
from capacity.facts import Base
from capacity.reports.crews.wording import bought_in_words
from capacity.reports.kit.cell_text import printable
from capacity.reports.kit.left_out import left_out
from capacity.reports.plan.wording import CAUTION
from capacity.words import counted, hours
from capacity.words import day as as_day

MOST_WARNINGS, MOST_SHORT = 8, 8


def crews_in_words(staffed: Staffed, base: Base) -> str:
    """Return what came out, in plain text."""
    return "\n".join(printable(line).rstrip() for line in _lines(staffed, base))


def goal_lines(staffed: Staffed) -> tuple[str, ...]:
    """Return what was reached of each goal, beside its proven bound."""
    return tuple(_goal(reached) for reached in staffed.goals)


def _lines(staffed: Staffed, base: Base) -> Iterator[str]:
    made, audit = staffed.plan, staffed.audit
    yield (
        f"Crews of {base.name} from {as_day(made.first_day)} to {as_day(made.until - timedelta(1))}"
    )
    overtime = hours(audit.overtime)
    yield f"Demand {hours(audit.asked)}; assigned {hours(audit.given)}, of that overtime {overtime}"
    hired, short = hours(audit.bought), hours(audit.short)
    yield f"Contract labour to be hired {hired}; overload {short}"
    yield bought_in_words(staffed.bought)
    yield from goal_lines(staffed)
    moved = sum(stage.first != stage.planned for stage in made.stages)
    if moved:
        yield f"{counted(moved, 'stage')} moved within the float."
    worst = sorted(made.short, key=lambda short: -short.hours)
    for amount in worst[:MOST_SHORT]:
        what = f"{amount.check}, {amount.stage}, {amount.skill}"
        yield f"  overload: {what}: {hours(amount.hours)}"
    yield from left_out(worst, MOST_SHORT)
    for warning in audit.warnings[:MOST_WARNINGS]:
        yield f"  caution: {warning}"
    yield from left_out(audit.warnings, MOST_WARNINGS, "caution")
    yield CAUTION


def _goal(reached: GoalReached) -> str:
    if reached.goal in ("overload", "overtime"):
        value, bound = reached.value / HUNDREDTHS, reached.bound / HUNDREDTHS
        figure, least = hours(value), hours(bound)
    else:
        figure, least = f"{reached.value:,}", f"{reached.bound:,}"
    if reached.value == reached.bound:
        return f"{reached.goal}: {figure} (proven minimum)"
    return f"{reached.goal}: {figure} (at least {least}, proven)"
