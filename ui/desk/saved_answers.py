"""What was found out of a plan, why and risk, as it is written to disk and read again."""

from collections.abc import Mapping
from dataclasses import dataclass

from pydantic import TypeAdapter, ValidationError

from capacity import __version__
from capacity.plans.outcome import Planned
from capacity.reports.kit.issue import plan_number
from ui.desk.desk import Desk
from ui.desk.plan_job import result_of
from ui.desk.plan_question import answer_of_plan
from ui.manager.risk_job import RISK, RiskTold
from ui.planner.why_job import WHY, WhyAnswers, WhyAsked, answers_of

FORMAT = 1


@dataclass(frozen=True, slots=True)
class SavedWhy:
    """One question, of a ``check``, of the whole plan or of what more is ``worth``, answered."""

    check: str | None
    worth: bool
    said: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SavedAnswers:
    """Answers about the plan of a number, which a ``version`` of this program gave."""

    format: int
    version: str
    plan: str
    why: tuple[SavedWhy, ...]
    risk: RiskTold | None


_ANSWERS = TypeAdapter(SavedAnswers)


def answers_bytes(desk: Desk) -> bytes | None:
    """Return what was found out of the plan that is shown as JSON; None where nothing was."""
    result = result_of(desk)
    why = answers_of(desk).said
    risk = answer_of_plan(desk, RISK)
    told = None if risk is None else risk.value
    if result is None or not isinstance(result.outcome, Planned) or not (why or told):
        return None
    assert told is None or isinstance(told, RiskTold)
    saved = SavedAnswers(
        FORMAT,
        __version__,
        plan_number(result.outcome.plan),
        tuple(SavedWhy(asked.check, asked.worth, said) for asked, said in why.items()),
        told,
    )
    return _ANSWERS.dump_json(saved)


def answers_again(content: bytes | None, desk: Desk) -> Mapping[str, tuple[object, object]]:
    """Return the answers that JSON holds about the plan of a desk, by kind, as a desk takes them.

    Nothing where it holds none, or another version gave them, or they are of another plan.
    """
    result = result_of(desk)
    if content is None or result is None or not isinstance(result.outcome, Planned):
        return {}
    try:
        saved = _ANSWERS.validate_json(content)
    except ValidationError:
        return {}
    its_plan = (saved.format, saved.version, saved.plan)
    if its_plan != (FORMAT, __version__, plan_number(result.outcome.plan)):
        return {}
    found: dict[str, tuple[object, object]] = {}
    if saved.why:
        said = {WhyAsked(one.check, one.worth): one.said for one in saved.why}
        found[WHY] = ((result, None), WhyAnswers(said))
    if saved.risk is not None:
        found[RISK] = ((result, None), saved.risk)
    return found
