"""Who works where: from a slot plan to crews by aircraft, skill, day and shift."""

from collections import defaultdict
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta
from threading import Event

from capacity.crews.bought import Bought
from capacity.crews.bought_beside import bought_beside
from capacity.crews.choice import CrewChoice
from capacity.crews.crew_audit import CrewAudit, audit_crews
from capacity.crews.crew_plan import Attendance, CrewPlan, Short, StageHours, StageMove
from capacity.crews.crew_problem import DAYS_A_WEEK, crew_problem
from capacity.crews.crew_settings import CrewSettings
from capacity.crews.model.solve import GoalReached, solve
from capacity.crews.problem import HUNDREDTHS, CrewProblem
from capacity.errors import AuditError
from capacity.facts import Base
from capacity.plans.plan import Plan


@dataclass(frozen=True, slots=True)
class Staffed:
    """An audited crew plan with what was reached of each goal and its proven bound.

    Man-hours of the goals are in hundredths. ``first_seconds`` is when the first plan was there.
    ``bought`` sets the hours that it buys beside those of the slot plan.
    """

    plan: CrewPlan
    audit: CrewAudit
    goals: tuple[GoalReached, ...]
    first_seconds: float
    settings: CrewSettings
    bought: Bought


def assign_crews(
    base: Base,
    plan: Plan,
    settings: CrewSettings | None = None,
    *,
    stop: Event | None = None,
    on_goal: Callable[[GoalReached], None] | None = None,
) -> Staffed:
    """Return the best audited crew plan of some weeks of a slot plan that stands.

    Goals in this order: the man-hours of the plan met, least overtime, fewest crews an
    aircraft, level days.

    Raises
    ------
    AuditError
        When the crew plan does not stand up to its audit.
    """
    settings = settings or CrewSettings()
    first_day = settings.first_day or base.first_day
    problem = crew_problem(plan, base, settings)
    solved = solve(problem, settings, stop, on_goal)
    if solved is None:
        raise AuditError(["the stages of the slot plan break a rule of crew plans"])
    made = crew_plan_of(solved.choice, problem, first_day, settings.weeks)
    audited = audit_crews(made, plan, base, settings)
    if audited.broken:
        raise AuditError(list(audited.broken))
    bought = bought_beside(
        plan,
        base,
        settings,
        problem,
        solved.choice,
        audited.overtime + audited.bought + audited.short,
        stop,
    )
    return Staffed(made, audited, solved.goals, solved.first_seconds, settings, bought)


def crew_plan_of(choice: CrewChoice, problem: CrewProblem, first_day: date, weeks: int) -> CrewPlan:
    """Return what was decided in dates, names and man-hours."""

    def on(day: int) -> date:
        return first_day + timedelta(days=day)

    extra: defaultdict[tuple[int, str, str], int] = defaultdict(int, choice.overtime)
    for (number, task, skill), hundredths in choice.hours.items():
        if problem.shifts[number].called_in:
            extra[number, problem.tasks[task].check, skill] += hundredths
    attendance = [
        Attendance(
            day=on(problem.shifts[number].day),
            shift=problem.shifts[number].shift,
            crew=problem.shifts[number].crew,
            check=check,
            skill=skill,
            heads=heads / problem.parts,
            overtime_hours=extra[number, check, skill] / HUNDREDTHS,
        )
        for (number, check, skill), heads in choice.heads.items()
    ]
    work = [
        StageHours(
            day=on(problem.shifts[number].day),
            shift=problem.shifts[number].shift,
            crew=problem.shifts[number].crew,
            check=problem.tasks[task].check,
            stage=problem.tasks[task].stage,
            skill=skill,
            hours=hundredths / HUNDREDTHS,
        )
        for (number, task, skill), hundredths in choice.hours.items()
    ]
    return CrewPlan(
        first_day=first_day,
        until=first_day + timedelta(days=DAYS_A_WEEK * weeks),
        attendance=tuple(sorted(attendance, key=lambda a: (a.day, a.shift, a.crew, a.check))),
        work=tuple(sorted(work, key=lambda w: (w.day, w.shift, w.crew, w.check, w.stage))),
        stages=tuple(
            StageMove(
                check=task.check,
                stage=task.stage,
                first=on(task.spans[span].first),
                until=on(task.spans[span].until),
                planned=on(task.spans[0].first),
            )
            for task, span in zip(problem.tasks, choice.span, strict=True)
        ),
        bought=_amounts(choice.bought, problem),
        short=_amounts(choice.short, problem),
    )


def _amounts(hundredths: dict[tuple[int, str], int], problem: CrewProblem) -> tuple[Short, ...]:
    return tuple(
        Short(problem.tasks[task].check, problem.tasks[task].stage, skill, amount / HUNDREDTHS)
        for (task, skill), amount in sorted(hundredths.items())
    )
