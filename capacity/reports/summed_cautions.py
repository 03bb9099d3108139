"""The cautions of a plan, each told once with how much of the plan it concerns."""

from dataclasses import dataclass

from capacity.cautions.applying import cautions_of_plan
from capacity.cautions.caution import AppliedCaution
from capacity.reports.view import View
from capacity.reports.wording import counted


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
    of_id: dict[str, list[AppliedCaution]] = {}
    for applied in cautions_of_plan(view.outcome.plan, view.base):
        of_id.setdefault(applied.caution.id, []).append(applied)
    return tuple(_summed(applied) for applied in of_id.values())


def _summed(applied: list[AppliedCaution]) -> SummedCaution:
    caution, reasons = applied[0].caution, dict.fromkeys(map(_why, applied))
    return SummedCaution(
        when=caution.when,
        text=caution.text,
        concerns=_concerns(applied),
        why="; ".join(reasons),
        source=f"{caution.source} ({caution.status})",
    )


def _why(applied: AppliedCaution) -> str:
    return f"{applied.why}{' (a guess)' * applied.is_guess}"


def _concerns(applied: list[AppliedCaution]) -> str:
    checks = {one.check for one in applied if one.check is not None}
    if not checks:
        return "the base"
    stages = {(one.check, one.stage) for one in applied}
    return f"{counted(len(checks), 'check')}, {counted(len(stages), 'stage')}"
