"""What was learnt in sentences, shared by the terminal and the workbook."""

from collections.abc import Callable, Iterator

from capacity.questions.learn.estimate import FEW, Estimate
from capacity.questions.learn.values import Learnt, LearntPackage, LearntStage
from capacity.words import counted, listed, percent, quoted

Where = Callable[[str, str, str], str]
"""The cell of a sheet, the name of a row, and a heading."""

NOTHING_IS_CHANGED = (
    "Nothing is changed in the workbook: take over what you agree with. A mean of past visits is "
    "no promise for the next aircraft; ask whoever knows why they differed."
)
HOW = (
    "Findings are man-hours booked beyond the routine ones, without extra work, as a share of the "
    "routine ones, at a findings factor of 1. The limits hold the mean of all such visits in 95 % "
    "of cases (Student's t; NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.2), if "
    "findings are roughly normally distributed."
)
MOST_NAMES = 6


def learnt_in_one_line(learnt: Learnt, base_name: str) -> str:
    """Return how much there is to learn from."""
    if not learnt.visits:
        return (
            f"The sheet Delivered of {base_name} has no check: there is nothing to learn from yet. "
            "capacity roll fills it."
        )
    packages = counted(len(learnt.packages), "package")
    return f"Learnt from {counted(learnt.visits, 'delivered check')} of {base_name}, {packages}."


def silent_in_words(learnt: Learnt) -> str | None:
    """Return which checks say nothing, since nobody filled in what was actual."""
    if not learnt.silent:
        return None
    names = quoted(learnt.silent[:MOST_NAMES])
    more = len(learnt.silent) - MOST_NAMES
    names = f"{names} and {more} more" if more > 0 else names
    return f"Without any actual date or man-hours, so nothing is learnt from: {names}."


def visits_in_words(estimate: Estimate | None) -> str:
    """Return the sample size; few visits say so."""
    if estimate is None:
        return "no visits"
    number = counted(estimate.number, "visit")
    return f"{number} only: fewer than {FEW}, this may be chance" if estimate.is_of_few else number


def findings_in_words(stage: LearntStage) -> str:
    """Return the findings of a stage, planned and actual, with limits and sample size."""
    found = stage.findings
    if found is None:
        return "findings: nobody booked man-hours"
    now = "" if stage.planned_findings is None else f" (planned {percent(stage.planned_findings)})"
    parts = [f"findings {percent(found.mean)} of the routine man-hours{now}"]
    if found.low is not None and found.high is not None:
        parts.append(f"mean within {percent(found.low)} to {percent(found.high)}")
    if stage.proposed_spread is not None:
        parts.append(f"spread {percent(stage.proposed_spread)} of the findings")
    return f"{', '.join(parts)}; {visits_in_words(found)}"


def days_in_words(stage: LearntStage) -> str:
    """Return the days of a stage, planned and actual."""
    found = stage.days
    if found is None:
        return "days: nobody reported when it was finished"
    now = "" if stage.planned_days is None else f" (planned {stage.planned_days})"
    within = (
        "" if found.low is None or found.high is None else f", {found.low:.1f} to {found.high:.1f}"
    )
    return f"days {found.mean:.1f}{now}{within}; {visits_in_words(found)}"


def package_in_words(package: LearntPackage) -> str:
    """Return a package as a whole: findings, stay, lateness."""
    parts = [counted(package.visits, "visit")]
    if package.findings:
        parts.append(f"findings of whole visits {percent(package.findings.mean)}")
    if package.stay:
        planned = f" (planned {package.planned_stay.mean:.1f})" if package.planned_stay else ""
        parts.append(f"stay {package.stay.mean:.1f} days{planned}")
    if package.days_late:
        parts.append(f"on average {package.days_late.mean:.1f} days late out")
    return ", ".join(parts)


def proposals(stage: LearntStage, where: Where) -> Iterator[str]:
    """Yield each proposal that differs from the workbook, with its cell."""
    if stage.planned_days is None:
        return
    name = f"{stage.package}: {stage.stage}"
    for heading, now, new in (
        ("Findings %", _rounded(stage.planned_findings), _rounded(stage.proposed_findings)),
        ("Findings spread %", _rounded(stage.planned_spread), _rounded(stage.proposed_spread)),
        ("Days", stage.planned_days, stage.proposed_days),
    ):
        if new is not None and new != now:
            yield f"{heading} {now:g} -> {new:g} ({where('Packages', name, heading)})"


def proposals_in_words(stage: LearntStage, where: Where) -> str:
    """Return all proposals of a stage in one line; blank where the workbook has them already."""
    return listed(list(proposals(stage, where)))


def _rounded(share: float | None) -> float | None:
    """Return a share in per cent, as a person would type it."""
    return None if share is None else round(100 * share, 1)
