"""The risk of a plan in lines for a terminal."""

from collections.abc import Iterator
from enum import StrEnum

from capacity.facts import Base
from capacity.questions.risk.compared import Comparison, Difference
from capacity.questions.risk.values import CheckRisk, Risk, WeekRisk
from capacity.reports.kit.cell_text import printable
from capacity.reports.kit.left_out import left_out
from capacity.reports.plan.wording import CAUTION
from capacity.reports.risk.sheet_risk import in_words
from capacity.words import day as as_day
from capacity.words import days, hours, percent

MOST_CHECKS, MOST_WEEKS = 10, 6
LEAST_RISK = 0.05
"""A probability of overload below this is left to the workbook."""


def risk_in_words(risk: Risk, base: Base) -> str:
    """Return the whole plan's risk, then the checks and weeks that are most at risk."""
    return "\n".join(printable(line).rstrip() for line in _lines(risk, base))


class WhatIf(StrEnum):
    """What the other plan was made on."""

    SAFE_FINDINGS = "findings-80"
    BUFFERS = "buffers"


MADE_WITH = {
    WhatIf.SAFE_FINDINGS: "the findings that 80 % of the cases keep to",
    WhatIf.BUFFERS: "buffers",
}


def two_risks_in_words(compared: Comparison, what_if: WhatIf) -> str:
    """Return how a more careful plan does on the same draws, figure by figure."""
    lines = [f"The same simulations, this plan -> a plan made with {MADE_WITH[what_if]}:"]
    lines += [f"  {_difference(figure)}" for figure in compared.figures]
    for names, plan in (
        (compared.placed_only_by_a, "this plan"),
        (compared.placed_only_by_b, "the other plan"),
    ):
        if names:
            lines.append(f"  only {plan} has a slot for {', '.join(names)}")
    return "\n".join(printable(line) for line in lines)


def _difference(figure: Difference) -> str:
    return (
        f"{figure.what}: {figure.a:,.1f} -> {figure.b:,.1f} on average "
        f"(difference {figure.difference:+,.1f}, standard error {figure.standard_error:,.1f}); "
        f"the other one is better in {percent(figure.b_better)} of the simulations, worse in "
        f"{percent(figure.a_better)}"
    )


def _lines(risk: Risk, base: Base) -> Iterator[str]:
    yield from in_words(risk, base)
    checks = sorted(risk.checks, key=lambda check: check.on_day)
    yield "Checks least likely to be out by their day:"
    yield from (_check(check) for check in checks[:MOST_CHECKS])
    yield from left_out(checks, MOST_CHECKS)
    weeks = [week for week in risk.weeks if week.overload >= LEAST_RISK]
    weeks.sort(key=lambda week: (-week.overload, -week.expected_overload))
    if weeks:
        yield "Weeks and skills most likely to have overload:"
    yield from (_week(week) for week in weeks[:MOST_WEEKS])
    yield from left_out(weeks, MOST_WEEKS)
    yield CAUTION


def _check(check: CheckRisk) -> str:
    by = "agreed" if check.agreed else "planned"
    buffer = (
        f"; a buffer of {days(check.buffer_days)} is enough in 80 %" if check.buffer_days else ""
    )
    return (
        f"  {check.check:<14} {percent(check.on_day):>8} by {as_day(check.home_by)} ({by}); "
        f"in 50 % of the simulations by {as_day(check.out_likely)}, "
        f"in 80 % by {as_day(check.out_safe)}{buffer}"
    )


def _week(week: WeekRisk) -> str:
    return (
        f"  {week.week}  {week.skill:<14} {percent(week.overload):>8}, on average "
        f"{hours(week.expected_overload)} of overload"
    )
