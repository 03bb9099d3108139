"""The view of a plan with what it gives cause to say, made once a run."""

from dataclasses import dataclass

from capacity.messages import Message
from capacity.plans.outcome import Planned
from capacity.reports.plan.view import View, view_of
from ui.desk.once_a_run import once_a_run
from ui.desk.plan_job import Result


@dataclass(frozen=True, slots=True)
class ResultView:
    """A view, and those of its messages that speak of the plan and not of the workbook."""

    view: View
    of_plan: tuple[Message, ...]


def result_view(result: Result) -> ResultView:
    """Return the view of a result that has a plan."""
    return once_a_run("view", result.number, lambda: _view(result))


def _view(result: Result) -> ResultView:
    outcome, book = result.outcome, result.opened.book
    assert isinstance(outcome, Planned)
    assert book.base is not None
    view = view_of(book.base, outcome, book.messages, book.where)
    return ResultView(view, view.messages[len(book.messages) :])
