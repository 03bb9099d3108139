"""The job that asks what aircraft asked about would cost beside the plan of a desk."""

import time
from dataclasses import dataclass
from threading import Event

from capacity.facts import Base, Check
from capacity.plans.outcome import Planned
from capacity.plans.plan import Plan
from capacity.questions.enquiries.combinations import alone_and_together
from capacity.questions.enquiries.values import CombinationAnswer, EnquiryAnswer
from ui.desk.desk import Desk
from ui.desk.job import Job, Tell
from ui.desk.plan_job import Result
from ui.desk.plan_question import answer_of_plan, ask_of_plan, base_of
from ui.desk.search_settings import search_settings

ENQUIRIES = "enquiries"


@dataclass(frozen=True, slots=True)
class Question:
    """What is asked about some enquiries.

    ``may_move`` names the checks that may move for them, None stands for all. ``seconds`` is
    wall time for each enquiry when others may move, and as much again for the best combination.
    """

    enquiries: tuple[Check, ...]
    may_move: tuple[str, ...] | None
    on_time_only: bool
    seconds: float

    @property
    def seconds_in_all(self) -> float:
        """About how long the searches may take."""
        searches = len(self.enquiries) if self.may_move is None or self.may_move else 0
        return self.seconds * (searches + 1)


@dataclass(frozen=True, slots=True)
class Told:
    """The answer to a question about the plan of ``result``; ``number`` counts jobs."""

    number: int
    result: Result
    question: Question
    answers: tuple[EnquiryAnswer, ...]
    combinations: CombinationAnswer
    seconds: float
    was_stopped: bool

    @property
    def base(self) -> Base:
        """The base that was asked, without the enquiries."""
        return base_of(self.result)

    @property
    def planned(self) -> Planned:
        """The plan that was asked, which every answer leaves as it is."""
        return planned_of(self.result)


@dataclass(frozen=True, slots=True)
class _Found:
    answers: tuple[EnquiryAnswer, ...]
    combinations: CombinationAnswer
    seconds: float
    was_stopped: bool


def start_enquiries(desk: Desk, question: Question) -> Job | None:
    """Begin to ask; None without a plan, or while a job is going on."""

    def work(base: Base, plan: Plan, tell: Tell, stop: Event) -> object:
        began = time.monotonic()
        settings = search_settings(question.seconds)
        answers, combinations = alone_and_together(
            base,
            plan,
            question.enquiries,
            settings,
            may_move=question.may_move,
            on_time_only=question.on_time_only,
            stop=stop,
        )
        return _Found(answers, combinations, time.monotonic() - began, stop.is_set())

    return ask_of_plan(desk, ENQUIRIES, work, question.seconds_in_all, question)


def told_of(desk: Desk) -> Told | None:
    """Return what is known of enquiries about the plan that is shown; None when nothing is."""
    answer = answer_of_plan(desk, ENQUIRIES)
    if answer is None:
        return None
    question, found = answer.question, answer.value
    assert isinstance(question, Question)
    assert isinstance(found, _Found)
    return Told(
        number=answer.number,
        result=answer.result,
        question=question,
        answers=found.answers,
        combinations=found.combinations,
        seconds=found.seconds,
        was_stopped=found.was_stopped,
    )


def is_of_an_earlier_plan(desk: Desk) -> bool:
    """Return whether something was asked, but of a plan that has been made again since."""
    return told_of(desk) is None and desk.answer(ENQUIRIES) is not None


def planned_of(result: Result) -> Planned:
    """Return the outcome of a run that came to a plan."""
    assert isinstance(result.outcome, Planned), "only plans are asked"
    return result.outcome
