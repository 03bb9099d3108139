"""The job that plays the plan through with findings drawn at random, and its answer on a desk."""

from dataclasses import dataclass
from threading import Event

from capacity.errors import CapacityError, StoppedError
from capacity.facts import Base
from capacity.planning import plan as make_plan
from capacity.plans.outcome import Planned
from capacity.plans.plan import Plan
from capacity.questions.risk.compared import Comparison, compare
from capacity.questions.risk.settings import RiskSettings
from capacity.questions.risk.simulated import risk_of
from capacity.questions.risk.values import SAFE, Risk
from capacity.questions.risk.what_if import base_at, base_with_buffers
from capacity.reports.risk.text import WhatIf
from ui.desk.desk import Desk
from ui.desk.job import Job, Tell
from ui.desk.plan_job import Result, result_of
from ui.desk.plan_question import ask_of_plan
from ui.desk.search_settings import search_settings

RISK = "risk"


@dataclass(frozen=True, slots=True)
class Simulated:
    """How many simulations of ``all_of_them`` are done."""

    done: int
    all_of_them: int


@dataclass(frozen=True, slots=True)
class RiskTold:
    """The risk of a plan; ``compared`` with a more careful plan where ``what_if`` asks for it."""

    risk: Risk
    what_if: WhatIf | None = None
    compared: Comparison | None = None


@dataclass(frozen=True, slots=True)
class RiskAnswer:
    """What the last simulations came to; ``number`` counts jobs.

    ``result`` is the plan that was played through, which ``is_outdated`` once there is another.
    """

    number: int
    result: Result
    told: RiskTold
    is_outdated: bool

    @property
    def plan(self) -> Plan:
        """The plan that was played through."""
        assert isinstance(self.result.outcome, Planned)
        return self.result.outcome.plan


def start_risk(
    desk: Desk, settings: RiskSettings, seconds: float, what_if: WhatIf | None = None
) -> Job | None:
    """Begin to play the plan through; None without one or while a job is going on.

    There are as many simulations as ``seconds`` allow; a more careful plan has as long again.
    """

    def work(base: Base, plan: Plan, tell: Tell, stop: Event) -> object:
        def on_draws(done: int) -> None:
            tell(Simulated(done, settings.draws))

        try:
            risk = risk_of(base, plan, settings, seconds=seconds, stop=stop, on_draws=on_draws)
        except StoppedError:
            return None
        if what_if is None or stop.is_set():
            return RiskTold(risk)
        careful = base_at(base, SAFE, risk.settings)
        if what_if is WhatIf.BUFFERS:
            careful = base_with_buffers(base, risk)
        outcome = make_plan(careful, search_settings(seconds), None, stop)
        if not isinstance(outcome, Planned):
            raise CapacityError("There is no more careful plan to compare with.")
        compared = compare(base, plan, outcome.plan, risk.settings, b_made_on=careful)
        return RiskTold(risk, what_if, compared)

    limit = seconds if what_if is None else 2 * seconds
    return ask_of_plan(desk, RISK, work, limit)


def risk_on(desk: Desk) -> RiskAnswer | None:
    """Return what the last simulations of any plan of this desk came to."""
    answer, now = desk.answer(RISK), result_of(desk)
    if answer is None or now is None:
        return None
    assert isinstance(answer.made_from, tuple)
    assert isinstance(answer.value, RiskTold)
    result = answer.made_from[0]
    assert isinstance(result, Result)
    return RiskAnswer(answer.number, result, answer.value, result.number != now.number)


def risk_of_plan_shown(desk: Desk) -> RiskAnswer | None:
    """Return the risk of the plan that is shown; None where that is not known."""
    answer = risk_on(desk)
    return None if answer is None or answer.is_outdated else answer


def simulated_so_far(job: Job) -> Simulated | None:
    """Return how far the simulations of a job are."""
    words = [word for word in job.words if isinstance(word, Simulated)]
    return words[-1] if words else None
