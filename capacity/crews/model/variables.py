"""The decisions of a crew plan, asked by what they are about."""

from collections import defaultdict
from collections.abc import Iterator
from functools import cached_property
from typing import Any

from ortools.sat.python import cp_model

from capacity.crews.problem import CrewProblem, CrewShift, Task

Expression = Any
"""A linear expression of decisions; ortools ships no types for them."""


class Variables:
    """All decisions of one problem; only those exist that may be other than 0.

    * ``runs(task, span)``: the task is run in that way.
    * ``heads[shift, check, skill]``: people of a crew-shift on an aircraft in a skill,
      counted in parts of a shift.
    * ``hours[shift, task, skill]``: hundredths of man-hours that they give to a stage.
    * ``overtime[shift, check, skill]``: hundredths beyond their shift.
    * ``bought[task, skill]``, ``short[task, skill]``: hundredths that no crew gives.
    * ``used[task, day, shift]``: somebody gives the stage hours in the shift.
    * ``person[shift, check, skills]``: the one person of a crew is there in one of the skills.
    * ``pieces``: people of a day and skill, cut where the square of their number bends.
    """

    def __init__(self, model: cp_model.CpModel, problem: CrewProblem) -> None:
        """Make the variables."""
        self.model, self.problem = model, problem
        self._runs = [self._ways(number, task) for number, task in enumerate(problem.tasks)]
        self.heads: dict[tuple[int, str, str], cp_model.IntVar] = {}
        self.hours: dict[tuple[int, int, str], cp_model.IntVar] = {}
        self.overtime: dict[tuple[int, str, str], cp_model.IntVar] = {}
        for number, shift in enumerate(problem.shifts):
            for task_number in self._tasks_on[shift.day]:
                self._give(number, shift, task_number)
        self.used: dict[tuple[int, int, str], cp_model.IntVar] = {}
        self.person: dict[tuple[int, str, tuple[str, ...]], cp_model.IntVar] = {}
        self.pieces: list[tuple[list[tuple[int, str, str]], list[tuple[cp_model.IntVar, int]]]] = []
        self.bought: dict[tuple[int, str], cp_model.IntVar] = {}
        self.short: dict[tuple[int, str], cp_model.IntVar] = {}
        buyable = {skill for caps in problem.caps if caps.contract for skill in [caps.skill]}
        for number, task in enumerate(problem.tasks):
            for skill, hundredths in task.hundredths.items():
                self.short[number, skill] = model.new_int_var(0, hundredths, "")
                if skill in buyable:
                    self.bought[number, skill] = model.new_int_var(0, hundredths, "")

    @cached_property
    def works(self) -> dict[tuple[str, str], cp_model.IntVar]:
        """Return, for a crew and a check, whether it has people on the aircraft on some day."""
        pairs = dict.fromkeys((self.problem.shifts[s].crew, check) for s, check, _ in self.heads)
        return {pair: self.model.new_bool_var("") for pair in pairs}

    @cached_property
    def _tasks_on(self) -> list[list[int]]:
        """Return the tasks that may be worked on each day."""
        on: list[set[int]] = [set() for _ in range(self.problem.days)]
        for number, task in enumerate(self.problem.tasks):
            for day in (day for span in task.spans for day in span.worked):
                if 0 <= day < self.problem.days:
                    on[day].add(number)
        return [sorted(tasks) for tasks in on]

    def _ways(self, number: int, task: Task) -> list[cp_model.IntVar | int]:
        if not task.moves:
            return [1]
        ways = [self.model.new_bool_var(f"{task.stage} of {task.check}") for _ in task.spans]
        self.model.add_exactly_one(ways)
        return list(ways)

    def _give(self, number: int, shift: CrewShift, task_number: int) -> None:
        task = self.problem.tasks[task_number]
        if shift.night and not task.by_night:
            return
        if shift.crew not in self.problem.crews_of.get(task.check, frozenset()):
            return
        for skill in shift.skills:
            asked = task.hundredths.get(skill, 0)
            aircraft = self.problem.type_of.get(task.check, "")
            heads = max(0, shift.heads - shift.people_without(skill, aircraft))
            most = heads * self.problem.parts * (shift.hundredths + shift.extra)
            if not asked or not most:
                continue
            self.hours[number, task_number, skill] = self.model.new_int_var(0, min(asked, most), "")
            key = (number, task.check, skill)
            if key not in self.heads:
                most_parts = heads * self.problem.parts
                self.heads[key] = self.model.new_int_var(0, most_parts, "")
                if shift.extra:
                    most_extra = most_parts * shift.extra
                    self.overtime[key] = self.model.new_int_var(0, most_extra, "")

    def runs(self, task: int) -> Iterator[tuple[cp_model.IntVar | int, int]]:
        """Return each way to run a task, as a 0/1 decision and the number of its span."""
        return ((way, number) for number, way in enumerate(self._runs[task]))

    def is_worked(self, task: int, day: int) -> list[cp_model.IntVar | int]:
        """Return the ways to run a task that work on it that day; at most one is 1."""
        spans = self.problem.tasks[task].spans
        return [way for way, number in self.runs(task) if day in spans[number].worked]

    def lies_over(self, task: int, day: int) -> list[cp_model.IntVar | int]:
        """Return the ways to run a task that lie over a day, worked or not."""
        spans = self.problem.tasks[task].spans
        return [w for w, n in self.runs(task) if spans[n].first <= day < spans[n].until]

    def start(self, task: int) -> Expression:
        """Return the day on which a task starts."""
        spans = self.problem.tasks[task].spans
        return sum(way * spans[number].first for way, number in self.runs(task))

    def end(self, task: int) -> Expression:
        """Return the day on which a task has ended."""
        spans = self.problem.tasks[task].spans
        return sum(way * spans[number].until for way, number in self.runs(task))

    @cached_property
    def heads_by_shift(self) -> dict[int, list[tuple[str, str]]]:
        """Return the checks and skills that each crew-shift may serve."""
        found: defaultdict[int, list[tuple[str, str]]] = defaultdict(list)
        for shift, check, skill in self.heads:
            found[shift].append((check, skill))
        return dict(found)

    @cached_property
    def teams(self) -> dict[tuple[str, int, str], list[tuple[int, str]]]:
        """Return, for a check, day and shift name, the crew-shifts and skills that may serve."""
        found: defaultdict[tuple[str, int, str], list[tuple[int, str]]] = defaultdict(list)
        for number, check, skill in self.heads:
            shift = self.problem.shifts[number]
            found[check, shift.day, shift.shift].append((number, skill))
        return dict(found)

    @cached_property
    def gifts(self) -> dict[tuple[int, int, str], list[tuple[int, str]]]:
        """Return, for a task, day and shift name, the crew-shifts and skills that may give."""
        found: defaultdict[tuple[int, int, str], list[tuple[int, str]]] = defaultdict(list)
        for number, task, skill in self.hours:
            shift = self.problem.shifts[number]
            found[task, shift.day, shift.shift].append((number, skill))
        return dict(found)
