"""What fits the weeks of a plan but not their days, in words."""

from collections.abc import Callable, Iterator, Sequence
from math import fsum

from capacity.facts import Base
from capacity.messages import Level, Message
from capacity.plans.day_by_day import DayShortage
from capacity.reports.kit.left_out import left_out
from capacity.words import LEAST_HOURS, counted, day, hours, money, week_dates

REMEDY = (
    "Give the stages of that time more days, move a check, or roster more people on those days. "
    "capacity crews shows what is left when a stage takes more on one day than on another."
)

MOST_WEEKS = 3
"""Weeks named of each skill in one message and of all skills in one line."""


def day_messages(
    shortages: Sequence[DayShortage], base: Base, where: Callable[[str, str, str], str]
) -> Iterator[Message]:
    """Yield a warning for each week and skill that is overloaded, a note for what is bought."""
    for short in worst_first(shortages):
        yield Message(
            Level.WARNING,
            where("Skills", short.skill, "Skill"),
            f"in {short.week}, from {day(week_dates(short.week)[0])}, {hours(short.overload)} of "
            f"{short.skill} fit the week but not its days, even with overtime and contract labour "
            "up to their caps: an overload that is not in the cost of the plan."
            f"{_if_free(short.overload, short.freest_overload)}",
            REMEDY,
        )
    for skill in base.skills:
        bought = [s for s in shortages if s.skill == skill.name and _bought(s) >= LEAST_HOURS]
        if bought:
            yield Message(
                Level.NOTE,
                where("Skills", skill.name, "Skill"),
                f"day by day {hours(fsum(map(_bought, bought)))} more of {skill.name} would have "
                f"to be bought within the caps: {_weeks(bought, _bought)}. That is not in the cost "
                f"of the plan ({money(fsum(s.money for s in bought), base)})."
                f"{_if_free(fsum(map(_bought, bought)), fsum(s.freest_bought for s in bought))}",
                REMEDY,
            )


def day_lines(shortages: Sequence[DayShortage]) -> Iterator[str]:
    """Yield the same for a terminal: a line for each of the worst weeks, one for what is bought."""
    over = worst_first(shortages)
    if over:
        yield "Overload of single days that the weeks do not show, in no cost of the plan:"
    for short in over[:MOST_WEEKS]:
        yield f"  {short.week}  {short.skill:<14}  {hours(short.overload)}"
    yield from left_out(over, MOST_WEEKS)
    bought = fsum(map(_bought, shortages))
    if bought >= LEAST_HOURS:
        yield (
            f"Day by day {hours(bought)} more would have to be bought within the caps; "
            "the messages say when."
        )
        if then := _if_free(bought, fsum(short.freest_bought for short in shortages)):
            yield f" {then}"


def _if_free(amount: float, freest: float) -> str:
    """Return what would be left of hours if daily peaks held no stage; empty if it is the same."""
    if amount - freest < LEAST_HOURS:
        return ""
    left = hours(freest) if freest >= LEAST_HOURS else "nothing"
    return (
        f" It would be {left} if each stage could take its hours of a week on whichever of its "
        "days there people are free, as in a crew plan."
    )


def worst_first(shortages: Sequence[DayShortage]) -> list[DayShortage]:
    """Return the weeks and skills overloaded day by day, the most overload first."""
    over = [short for short in shortages if short.overload >= LEAST_HOURS]
    return sorted(over, key=lambda s: (-s.overload, s.week, s.skill))


def _bought(short: DayShortage) -> float:
    return short.overtime + short.contract


def _weeks(shortages: Sequence[DayShortage], amount: Callable[[DayShortage], float]) -> str:
    worst = sorted(shortages, key=lambda s: -amount(s))
    named = ", ".join(f"{s.week} {hours(amount(s))}" for s in worst[:MOST_WEEKS])
    more = len(worst) - MOST_WEEKS
    return f"{named} and {counted(more, 'more week')}" if more > 0 else named
