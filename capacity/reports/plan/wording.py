"""Figures and verdicts in words, shared by the workbook and the terminal."""

from collections import Counter
from collections.abc import Iterable

from capacity.facts import Base
from capacity.messages import Level, Message
from capacity.plans.audit import CheckAccount
from capacity.plans.outcome import Planned
from capacity.plans.plan import WeekLoad
from capacity.plans.work_left import work_left
from capacity.questions.asking.ways_tried import proof_speaks_of
from capacity.words import LEAST_HOURS, LEAST_MONEY, counted, day, days, hours, money, percent

CAUTION = (
    "A planning aid: it does not replace approved data, local rules, licensed staff or the "
    "release decision. Have the plan checked before you promise a slot."
)

ENDED_BY = {
    "proof": "the proof that no plan is better",
    "time": "the time given",
    "stop": "a person",
    "fault": "a fault in the search itself, before the time given",
    "question": "the answer to an enquiry",
}
"""What ended the search, in words."""


def levels(messages: Iterable[Message]) -> str:
    """Return how many messages there are of each level: ``2 warnings, 1 note``."""
    counts = Counter(message.level for message in messages)
    return ", ".join(counted(counts[level], level.value) for level in Level if counts[level])


def remarks(account: CheckAccount) -> str:
    """Return what is late about a check; blank when nothing is."""
    return "; ".join(filter(None, (late_in(account), late_out(account))))


def late_in(account: CheckAccount) -> str:
    """Return by how much a check comes in past ``Latest in``; blank when it does not."""
    past = account.days_past_latest_in
    return f"{days(past)} past Latest in" if past else ""


def late_out(account: CheckAccount) -> str:
    """Return by how much a check is out past ``Agreed out``; blank when it is not."""
    return f"{days(account.late_days)} late out" if account.late_days else ""


def work_left_counts_from(base: Base) -> str | None:
    """Return sentences on the day from which work left counts; None where none is left."""
    said = [_share_counts_from(base), _progress_counts_from(base)]
    return " ".join(filter(None, said)) or None


def _progress_counts_from(base: Base) -> str | None:
    told = {row.check for row in base.progress if work_left(base, base.check(row.check))}
    if not told:
        return None
    return (
        f"The work left on {counted(len(told), 'check')} (Progress) counts from the day As of, "
        "but not from before the first day of the plan."
    )


def _share_counts_from(base: Base) -> str | None:
    # Progress goes before a share; a workbook with both is refused.
    left = sum(
        check.remaining is not None and not base.progress_of(check.name) for check in base.checks
    )
    if not left:
        return None
    when = "today" if base.work_counts_from else "the first day of the plan"
    return (
        f"The work left on {counted(left, 'check')} (Remaining %) counts from "
        f"{day(base.work_left_from)}, {when}."
    )


def how_dear(outcome: Planned, base: Base) -> str:
    """Return one sentence on how much a better plan could save at the most."""
    cost = outcome.audit.goals.money
    past = outcome.audit.goals.days_past_latest_in
    condition = "with no more days past Latest in, no" if past else "no"
    condition_of_saving = "With no more days past Latest in, a " if past else "A "
    if outcome.bound is None or outcome.gap is None:
        return (
            f"The cost of the plan is {money(cost, base)}; how much a better one could still save "
            "is not known, since no lower bound was proven."
        )
    saving = max(0.0, cost - outcome.bound)
    if saving < LEAST_MONEY or outcome.gap <= outcome.settings.gap:
        return (
            f"The cost of the plan is {money(cost, base)}. Proven: {condition} plan costs less."
            f"{proof_speaks_of(base)}"
        )
    return (
        f"The cost of the plan is {money(cost, base)}. {condition_of_saving}better one could "
        f"still save at most {money(saving, base)} ({percent(outcome.gap)}); this is proven."
        f"{proof_speaks_of(base)}"
    )


def how_punctual(outcome: Planned, base: Base) -> str:
    """Return one sentence on the days past ``Latest in`` and whether fewer are possible."""
    past = outcome.audit.goals.days_past_latest_in
    if past == 0:
        return "Every fixed and booked check comes in by its Latest in."
    missing = len(outcome.plan.not_placed)
    late = sum(account.days_past_latest_in > 0 for account in outcome.audit.accounts)
    parts = [f"{counted(late, 'check')} past Latest in"] if late else []
    if missing:
        each = days(base.longest_delay_days + 1)
        parts.append(f"{counted(missing, 'check')} with no slot, at {each} each")
    speaks_of = proof_speaks_of(base) if outcome.days_bound > 0 else ""
    if outcome.days_bound >= past:
        proof = "fewer are proven impossible"
    elif outcome.days_bound > 0:
        proof = f"fewer may be possible, but at least {days(outcome.days_bound)} are unavoidable"
    else:
        proof = "whether fewer are possible is not known"
    return f"{days(past)} past Latest in ({'; '.join(parts)}); {proof}.{speaks_of}"


def how_loaded(outcome: Planned) -> str:
    """Return one sentence on overload."""
    weeks = len({load.week for load in outcome.audit.weeks if is_over(load)})
    if not weeks:
        return "No week has overload: crews, overtime and contract labour cover all of the demand."
    return (
        f"{hours(outcome.audit.goals.overload_hours)} of work are not covered, even with "
        f"overtime and contract labour, in {counted(weeks, 'week')}."
    )


COUNTED_BY_DAY = (
    "Man-hours are counted by days: a week may buy hours although other days of it have some to "
    "spare."
)


def is_over(load: WeekLoad) -> bool:
    """Whether a week asks a skill for more than can be bought."""
    return load.overload >= LEAST_HOURS


def bought(load: WeekLoad) -> list[str]:
    """Return what a week and skill buys on top, worst first: ``["overload 60 h"]``."""
    kinds = (
        ("overload", load.overload),
        ("contract", load.contract),
        ("overtime", load.overtime),
    )
    return [f"{kind} {hours(amount)}" for kind, amount in kinds if amount >= LEAST_HOURS]


def worst_first(weeks: tuple[WeekLoad, ...]) -> list[WeekLoad]:
    """Return the weeks and skills that buy hours, the most overload first."""
    buying = [load for load in weeks if bought(load)]
    return sorted(buying, key=lambda w: (-w.overload, -(w.overtime + w.contract), w.week, w.skill))
