"""Where stages lie when each takes an even share of its hours on each of its days.

A crew plan spreads a stage's hours as it likes, which leaves a search for where stages lie
little to hold on to. With even shares a stage is an interval that takes so much on each of its
days: multi-skill project scheduling, for which constraint programming finds days in moments
where there are any. Licences, most heads and whole people are left to whoever staffs what is
found here; people of several skills count as the days need them.
"""

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Iterable, Sequence
from functools import cached_property
from threading import Event

from ortools.sat.python import cp_model

from capacity.crews.problem import CrewProblem, Task

Crews = frozenset[tuple[str, bool]]
"""Crews by name and whether on a night shift."""
Piece = tuple[int, str]
"""A skill of a task: what it asks of one kind of people."""
MOST_SETS = 64
"""Sets of crews that are looked at; with more kinds of people some rows are left out."""


class EvenShares:
    """Lays the stages of a problem; may be ended by another thread."""

    def __init__(self, problem: CrewProblem, seed: int) -> None:
        """Count the days that any stage may be worked on, one after the other."""
        self.problem, self.seed = problem, seed
        worked = {d for task in problem.tasks for span in task.spans for d in span.worked}
        self.days = sorted(day for day in worked if 0 <= day < problem.days)
        self._starts = [self._starts_of(task) for task in problem.tasks]
        here = set(self.days)
        self._length = [len(here.intersection(task.spans[0].worked)) for task in problem.tasks]
        self._ended = Event()
        self._solver = cp_model.CpSolver()

    def end(self) -> None:
        """Let go of what is being searched, and of what would be."""
        self._ended.set()
        self._solver.stop_search()

    def with_all_met(self, seconds: float) -> list[int] | None:
        """Return the span of each task so that regular hours meet every even share.

        None where there are no such spans, or none were found in the time.
        """
        return self._lay(seconds, overtime=False, all_met=True, workers=1)

    def with_most_met(self, seconds: float, workers: int) -> list[int] | None:
        """Return the span of each task so that most hours are met, by overtime too.

        A skill of a stage is met on all days of the stage or counts as not met at all.
        """
        return self._lay(seconds, overtime=True, all_met=False, workers=workers)

    def _starts_of(self, task: Task) -> list[int]:
        """Return where each span begins, as a number of the days."""
        return [bisect_left(self.days, s.worked[0] if s.worked else s.first) for s in task.spans]

    def _lay(
        self, seconds: float, *, overtime: bool, all_met: bool, workers: int
    ) -> list[int] | None:
        if self._ended.is_set() or not self.days or seconds <= 0:
            return None
        model = cp_model.CpModel()
        starts = [
            model.new_int_var_from_domain(cp_model.Domain.from_values(firsts), "")
            if len(firsts) > 1
            else firsts[0]
            for firsts in self._starts
        ]
        stages = [
            model.new_fixed_size_interval_var(start, length, "")
            for start, length in zip(starts, self._length, strict=True)
        ]
        self._in_order(model, starts)
        self._apart(model, stages)
        self._equipment(model, stages)
        pieces: dict[Piece, cp_model.IntervalVar] = {}
        not_met: list[cp_model.LinearExprT] = []
        for number, task in enumerate(self.problem.tasks):
            for skill, asked in task.hundredths.items() if self._length[number] else ():
                pieces[number, skill] = stages[number]
                if not all_met:
                    met = model.new_bool_var("")
                    pieces[number, skill] = model.new_optional_fixed_size_interval_var(
                        starts[number], self._length[number], met, ""
                    )
                    not_met.append(asked * (1 - met))
        self._people(model, pieces, overtime)
        if not_met:
            model.minimize(sum(not_met))
        parameters = self._solver.parameters
        parameters.num_workers = workers
        parameters.random_seed = self.seed
        parameters.max_time_in_seconds = seconds
        parameters.catch_sigint_signal = False
        status = self._solver.solve(model)
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return None
        values = [
            start if isinstance(start, int) else self._solver.value(start) for start in starts
        ]
        return [firsts.index(value) for firsts, value in zip(self._starts, values, strict=True)]

    def _in_order(self, model: cp_model.CpModel, starts: Sequence[cp_model.IntVar | int]) -> None:
        """Begin no task before those it waits for: ``start >= start of it + its days``."""
        for number, task in enumerate(self.problem.tasks):
            for before in task.after:
                ends = starts[before] + self._length[before]
                if not (isinstance(starts[number], int) and isinstance(ends, int)):
                    model.add(starts[number] >= ends)

    def _apart(self, model: cp_model.CpModel, stages: Sequence[cp_model.IntervalVar]) -> None:
        for number, task in enumerate(self.problem.tasks):
            for other in task.apart:
                if self.problem.tasks[number].moves or self.problem.tasks[other].moves:
                    model.add_no_overlap([stages[number], stages[other]])

    def _equipment(self, model: cp_model.CpModel, stages: Sequence[cp_model.IntervalVar]) -> None:
        """On each day: pieces held <= pieces free of every pool."""
        for pool, free in (self.problem.free or {}).items():
            holders = [n for n, task in enumerate(self.problem.tasks) if pool in task.equipment]
            there = [max(0, free[day]) for day in self.days]
            if len(holders) > min(there):
                self._at_most(model, [(stages[n], 1) for n in holders], there)

    def _people(
        self, model: cp_model.CpModel, pieces: dict[Piece, cp_model.IntervalVar], overtime: bool
    ) -> None:
        """On each day and for sets of crews: shares that only they can do <= their hours.

        By Hall's theorem that is enough where it holds for every set; ``MOST_SETS`` are taken.
        """
        for crews in self._sets_of_crews:
            theirs = [piece for piece in pieces if self._able[piece] <= crews]
            asked = [
                (
                    pieces[number, skill],
                    self.problem.tasks[number].hundredths[skill] // self._length[number],
                )
                for number, skill in theirs
            ]
            skills = {skill for _, skill in theirs}
            self._at_most(model, asked, self._hours_of(crews, skills, overtime))

    def _at_most(
        self,
        model: cp_model.CpModel,
        asked: Iterable[tuple[cp_model.IntervalVar, int]],
        there: Sequence[int],
    ) -> None:
        """Post ``asked <= there`` on each day; fixed intervals fill up what is not there."""
        most = max(there)
        intervals, amounts = [one for one, _ in asked], [amount for _, amount in asked]
        first = 0
        for day in range(1, len(there) + 1):
            if day == len(there) or there[day] != there[first]:
                if there[first] < most:
                    intervals.append(model.new_fixed_size_interval_var(first, day - first, ""))
                    amounts.append(most - there[first])
                first = day
        model.add_cumulative(intervals, amounts, most)

    @cached_property
    def _able(self) -> dict[Piece, Crews]:
        """Return the crews that may do each skill of each task."""
        found: dict[Piece, Crews] = {}
        for number, task in enumerate(self.problem.tasks):
            allowed = self.problem.crews_of.get(task.check, frozenset())
            for skill in task.hundredths:
                found[number, skill] = frozenset(
                    (shift.crew, shift.night)
                    for shift in self.problem.shifts
                    if shift.crew in allowed
                    and skill in shift.skills
                    and (task.by_night or not shift.night)
                )
        return found

    @cached_property
    def _sets_of_crews(self) -> list[Crews]:
        """Return the sets of crews that do some kinds of work between them, small ones first."""
        kinds = list(dict.fromkeys(self._able.values()))
        sets = dict.fromkeys(kinds)
        waiting = list(kinds)
        for crews in waiting:
            for kind in kinds:
                both = crews | kind
                if both not in sets and len(sets) < MOST_SETS:
                    sets[both] = None
                    waiting.append(both)
        return sorted(sets, key=len)

    def _hours_of(self, crews: Crews, skills: set[str], overtime: bool) -> list[int]:
        """Return the hundredths that crews can give on each day.

        Overtime is that of the people there, no more than an even share of the week's cap.
        """
        regular: defaultdict[int, int] = defaultdict(int)
        extra: defaultdict[int, int] = defaultdict(int)
        for shift in self.problem.shifts:
            if (shift.crew, shift.night) in crews:
                parts = shift.heads * self.problem.parts
                if shift.called_in:
                    extra[shift.day] += parts * shift.hundredths
                else:
                    regular[shift.day] += parts * shift.hundredths
                    extra[shift.day] += parts * shift.extra
        capped: defaultdict[int, int] = defaultdict(int)
        for caps in self.problem.caps:
            for day in caps.days if caps.skill in skills else ():
                capped[day] += caps.overtime // len(caps.days)
        return [
            regular[day] + (min(extra[day], capped[day]) if overtime else 0) for day in self.days
        ]
