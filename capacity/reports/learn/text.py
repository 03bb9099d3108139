"""What was learnt in lines for a terminal."""

from collections.abc import Iterator

from capacity.facts import Base
from capacity.questions.learn.values import Learnt
from capacity.reports.kit.cell_text import printable
from capacity.reports.learn.wording import (
    HOW,
    NOTHING_IS_CHANGED,
    Where,
    days_in_words,
    findings_in_words,
    learnt_in_one_line,
    package_in_words,
    proposals,
    silent_in_words,
)


def learnt_in_words(learnt: Learnt, base: Base, where: Where) -> str:
    """Return all that was learnt in plain text; ``where`` names the cells of proposals."""
    return "\n".join(printable(line).rstrip() for line in _lines(learnt, base, where))


def _lines(learnt: Learnt, base: Base, where: Where) -> Iterator[str]:
    yield learnt_in_one_line(learnt, base.name)
    for package in learnt.packages:
        yield f"{package.package}: {package_in_words(package)}"
        for stage in package.stages:
            gone = "" if stage.planned_days is not None else " (no longer in the workbook)"
            yield f"  {stage.stage}{gone}"
            yield f"    {findings_in_words(stage)}"
            yield f"    {days_in_words(stage)}"
            for proposal in proposals(stage, where):
                yield f"    proposed: {proposal}"
    if silent := silent_in_words(learnt):
        yield silent
    if learnt.visits:
        yield HOW
        yield NOTHING_IS_CHANGED
