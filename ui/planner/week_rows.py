"""Man-hours by skill and week as rows of the board: how full a week is, and the columns."""

from collections.abc import Iterator, Sequence

from capacity.plans.plan import WeekLoad
from capacity.reports.plan.moved_words import load_in
from capacity.reports.plan.view import View
from capacity.reports.plan.wording import bought, is_over, worst_first
from capacity.words import LEAST_HOURS, day, hours, week_dates
from capacity.words.marks import TRIANGLE
from capacity.words.palette import HOURS
from ui.board.rows import Cell, Part, SkillHours, Week
from ui.manager.heat_rows import band_of, printed
from ui.planner.span import Span

SHARES = tuple(paint.word for paint in HOURS)
NICE = (1.0, 2.0, 2.5, 5.0, 10.0)
MOST_TICKS = 4


def weeks_of(view: View, span: Span) -> tuple[Week, ...]:
    """Return the weeks of the plan in turn."""
    names = dict.fromkeys(load.week for load in view.outcome.audit.weeks)
    return tuple(Week(name, span.number(week_dates(name)[0])) for name in names)


def skills_worst_first(view: View) -> list[str]:
    """Return all skills, the most overloaded in front."""
    worst = [load.skill for load in worst_first(view.outcome.audit.weeks)]
    return list(dict.fromkeys([*worst, *(skill.name for skill in view.base.skills)]))


def cells_of(view: View, weeks: Sequence[Week]) -> tuple[Cell, ...]:
    """Return how full each week is in each skill, with its number, sign and band."""
    skills = {skill.name: number for number, skill in enumerate(view.base.skills)}
    numbers = {week.name: number for number, week in enumerate(weeks)}
    return tuple(
        Cell(skills[load.skill], numbers[load.week], band_of(load).value, printed(load),
             tuple(_told(load)))
        for load in view.outcome.audit.weeks
    )  # fmt: skip


def _told(load: WeekLoad) -> Iterator[str]:
    monday, sunday = week_dates(load.week)
    yield f"{load.skill}, week {load.week}, {day(monday)} to {day(sunday)}"
    yield f"{printed(load)}: {band_of(load).value}"
    yield f"Demand {hours(load.demand)}, available {hours(load.regular)} regular"
    if more := bought(load):
        yield f"On top: {', '.join(more)}"


def skill_hours(view: View, skill: str, weeks: Sequence[Week]) -> SkillHours:
    """Return the columns of a skill, and the hours available in each week."""
    numbers = {week.name: number for number, week in enumerate(weeks)}
    loads = [load for load in view.outcome.audit.weeks if load.skill == skill]
    limits = {numbers[load.week]: _limits(load) for load in loads}
    tops = [max(load.demand, limits[numbers[load.week]][-1]) for load in loads]
    ticks = ticks_up_to(max(tops, default=0.0))
    return SkillHours(
        skill=skill,
        top=ticks[-1],
        ticks=ticks,
        parts=tuple(part for load in loads for part in _parts(load, numbers[load.week])),
        limits=tuple(limits.get(number, (0.0, 0.0, 0.0)) for number in range(len(weeks))),
        even=tuple(_even(view, loads, numbers)),
        overload=tuple(
            (numbers[load.week], round(load.demand, 6), f"{TRIANGLE} {hours(load.overload)}")
            for load in loads
            if is_over(load)
        ),
    )


def ticks_up_to(highest: float) -> tuple[float, ...]:
    """Return round numbers from 0 to one that is not below ``highest``, few enough to be read."""
    step = 1.0
    while highest / step > MOST_TICKS:
        step = _next_nice(step)
    count = max(1, -int(-highest // step))
    return tuple(step * number for number in range(count + 1))


def _next_nice(step: float) -> float:
    power = 1.0
    while step / power >= NICE[-1]:
        power *= NICE[-1]
    return next(nice * power for nice in NICE if nice * power > step)


def _parts(load: WeekLoad, week: int) -> Iterator[Part]:
    """Stack the demand by what meets it, regular hours first."""
    by_crews = max(0.0, load.demand - load.overtime - load.contract - load.overload)
    below = 0.0
    amounts = (by_crews, load.overtime, load.contract, load.overload)
    for share, amount in zip(SHARES, amounts, strict=True):
        if amount >= LEAST_HOURS:
            yield Part(week, share, round(below, 6), round(below + amount, 6))
        below += amount


def _limits(load: WeekLoad) -> tuple[float, float, float]:
    regular, with_overtime = load.regular, load.regular + load.overtime_cap
    above = with_overtime + load.contract_cap
    return round(regular, 6), round(with_overtime, 6), round(above, 6)


def _even(
    view: View, loads: Sequence[WeekLoad], numbers: dict[str, int]
) -> Iterator[tuple[int, float]]:
    """Give the demand of an even spread where it is not that of the columns."""
    if view.levelling is None:
        return
    for load in loads:
        even = load_in(view.levelling.evenly, load.week, load.skill)
        demand = 0.0 if even is None else even.demand
        if abs(demand - load.demand) >= LEAST_HOURS:
            yield numbers[load.week], round(demand, 6)
