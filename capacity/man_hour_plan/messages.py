"""What a man-hour plan gives cause to look at, as messages."""

from collections.abc import Iterator

from capacity.facts import Function
from capacity.man_hour_plan.month_function import ManHourPlan, MonthFunction
from capacity.man_hour_plan.own_staff_share import TooFewEmployed, least_employed
from capacity.messages import Level, Message
from capacity.words import day as as_day

REVIEW = "Review the work intended for the month against the staff who will be there."


def man_hour_messages(plan: ManHourPlan) -> tuple[Message, ...]:
    """Return the shortfalls to be reviewed, the needs not met and the shifts of contract people.

    They only warn: the base's own procedures say what is lawful and whom to tell.
    """
    return tuple(_messages(plan))


def _messages(plan: ManHourPlan) -> Iterator[Message]:
    for month in plan.for_review:
        if not month.is_significant:
            continue
        yield Message(
            Level.WARNING,
            "Absence" if month.function is Function.PERFORM else "Functions",
            f"in {month.month} '{month.function}' has {_share(month.shortfall)} fewer man-hours "
            f"than planned ({month.available:,.1f} of {month.planned:,.1f} h), which is more "
            "than 25 %.",
            f"{REVIEW} Report it as your procedure requires.",
        )
    for month in plan.for_review:
        if month.is_short_of_need:
            yield _short_of_need(month)
    for broken in plan.too_few_employed or ():
        yield _too_few(broken)
    if plan.untold:
        names = ", ".join(f"'{function}'" for function in plan.untold)
        yield Message(
            Level.NOTE,
            "Functions",
            f"the man-hour plan has no figures for {names}.",
            "Fill them in there, if such a plan is wanted for all functions.",
        )


def _short_of_need(month: MonthFunction) -> Message:
    return Message(
        Level.WARNING,
        "Functions",
        f"in {month.month} '{month.function}' needs {month.needed:,.1f} man-hours and has "
        f"{month.available:,.1f} without overtime and contract hours bought: "
        f"{_share(month.shortfall_of_need)} of the need is not covered.",
        REVIEW,
    )


def _too_few(broken: TooFewEmployed) -> Message:
    count, days = broken.worst, broken.days
    where = f"in {count.area}" if count.area else "(no area stated, all such crews together)"
    more = f" and on {len(days) - 1:,} more days" if len(days) > 1 else ""
    return Message(
        Level.WARNING,
        "Crews",
        f"on shift {count.shift} {where} {count.employed:g} of {count.heads:g} people are "
        f"own staff; at least half, {least_employed(count.heads):g}, should be. "
        f"This is so on {as_day(days[0])}{more}.",
        "Change crews between shifts or areas, or follow the procedure agreed with the "
        "authority for a higher share of contract people.",
    )


def _share(share: float | None) -> str:
    # Two places, since 25.03 % is more than a quarter and must not read as one.
    return f"{100 * (share or 0.0):.2f} %"
