"""The cautions of a plan, each named once, with how much of the plan it concerns."""

from collections.abc import Sequence
from dataclasses import dataclass

from capacity.cautions.applying import by_caution, cautions_of_plan
from capacity.cautions.caution import AppliedCaution
from capacity.reports.plan.caution_words import source_told, why_told
from capacity.reports.plan.view import View
from capacity.words import counted


@dataclass(frozen=True, slots=True)
class SummedCaution:
    """A caution in words; ``concerns`` is the base, or how many checks and stages."""

    when: str
    text: str
    concerns: str
    why: str
    source: str


def summed_cautions(view: View) -> tuple[SummedCaution, ...]:
    """Return the cautions of a plan, those of the base first, then in the plan's turn."""
    applied = cautions_of_plan(view.outcome.plan, view.base)
    return tuple(_summed(alike) for alike in by_caution(applied))


def _summed(alike: Sequence[AppliedCaution]) -> SummedCaution:
    caution = alike[0].caution
    return SummedCaution(
        when=caution.when,
        text=caution.text,
        concerns=_concerns(alike),
        why="; ".join(dict.fromkeys(map(why_told, alike))),
        source=source_told(caution),
    )


def _concerns(alike: Sequence[AppliedCaution]) -> str:
    checks = {one.check for one in alike if one.check is not None}
    if not checks:
        return "the base"
    stages = {(one.check, one.stage) for one in alike}
    return f"{counted(len(checks), 'check')}, {counted(len(stages), 'stage')}"
