"""What the progress of checks in work says against their plan, in a planner's sentences."""

from collections.abc import Callable, Iterator

from capacity.facts import Base
from capacity.messages import Level, Message
from capacity.plans.earned_value import Earned, earned_by_check
from capacity.words import LEAST_HOURS, day, hours

Where = Callable[[str, str, str], str]

HOURS_TO_GO = "Give Hours to go, which goes before Done %."

MORE_THAN, FEW_HOURS = 1.1, 8.0
"""The plan counts too little where the factor asks for a tenth more, and for more than a shift of
one person. No source: a judgement."""


def progress_messages(base: Base, where: Where) -> Iterator[Message]:
    """Yield a line for each check in work, and a warning where it asks for more than is planned."""
    row_of = {(row.check, row.stage): number for number, row in enumerate(base.progress, start=1)}
    for check, lines in earned_by_check(base).items():
        for line in lines:
            if not counts_too_little(line):
                continue
            number = row_of.get((line.check, line.stage))
            place = "Progress" if number is None else where("Progress", f"#{number}", "Done %")
            yield Message(
                Level.WARNING,
                place,
                f"{_of(line)}: at the factor of {factor(line)} until now "
                f"{hours(line.to_go_at_factor or 0.0)} are to go, and the plan counts "
                f"{hours(line.to_go)}.",
                HOURS_TO_GO,
            )
        first = next(n for n, row in enumerate(base.progress, start=1) if row.check == check)
        yield Message(
            Level.NOTE, where("Progress", f"#{first}", "Check"), in_one_sentence(lines[-1])
        )


def counts_too_little(line: Earned) -> bool:
    """Return whether a stage or check will take more than the plan counts, at its factor.

    Only where nobody has estimated what is to go. Of a check that adds up its stages, these say it.
    """
    at_factor = line.to_go_at_factor
    if at_factor is None or line.is_estimated or line.is_summed or line.to_go <= 0:
        return False
    return at_factor > MORE_THAN * line.to_go and at_factor - line.to_go > FEW_HOURS


def in_one_sentence(line: Earned) -> str:
    """Return how a check stands: earned, booked, to go, and at its end."""
    as_of = "" if line.as_of is None else f" as of {day(line.as_of)}"
    said = f"{_of(line)}{as_of}: {hours(line.earned)} of {hours(line.planned)} are done"
    if line.booked is not None:
        said += f", with {hours(line.booked)} booked"
        if line.factor is not None:
            said += f" (performance factor {factor(line)})"
    said += f"; {hours(line.to_go)} to go"
    if line.estimate is not None:
        said += f", {hours(line.estimate)} at completion, {against_plan(line)}"
    return f"{said}."


def against_plan(line: Earned) -> str:
    """Return how far the estimate at completion is from the planned hours; blank if unknown."""
    if line.grown is None:
        return ""
    if abs(line.grown) < LEAST_HOURS:
        return "as planned"
    return f"{hours(abs(line.grown))} {'more' if line.grown > 0 else 'fewer'} than planned"


def factor(line: Earned) -> str:
    """Return the performance factor with two decimals; blank where it is not known."""
    return "" if line.factor is None else f"{line.factor:.2f}"


def _of(line: Earned) -> str:
    return line.check if line.stage is None else f"{line.stage} of {line.check}"
