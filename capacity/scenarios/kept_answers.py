"""A batch that goes on from the answers in a store, and keeps each answer there as it comes."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from capacity.reports.plan_files.made import tool_version
from capacity.scenarios.values import Ended, ScenarioAnswer, Standing, Task
from capacity.store.store import PlanStore


def kept_answers(
    tasks: Sequence[Task], standing: Standing, store: PlanStore
) -> tuple[list[ScenarioAnswer], list[Task]]:
    """Return the answers that a store has, under the names asked for, and the tasks without one."""
    found: list[ScenarioAnswer] = []
    left: list[Task] = []
    for task in tasks:
        text = store.answer(task.key(standing, tool_version()))
        if text is None:
            left.append(task)
        else:
            kept = ScenarioAnswer.from_json(text)
            found.append(replace(kept, name=task.name, words=task.words))
    return found, left


def keeping(
    answers: Iterable[ScenarioAnswer], tasks: Sequence[Task], standing: Standing, store: PlanStore
) -> Iterator[ScenarioAnswer]:
    """Yield each answer once it is kept; what failed is not, so that it is tried again."""
    by_name = {task.name: task for task in tasks}
    for answer in answers:
        if answer.ended is not Ended.FAILED:
            key = by_name[answer.name].key(standing, tool_version())
            store.keep_answer(key, answer.as_json())
        yield answer
