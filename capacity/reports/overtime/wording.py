"""What an overtime review and its measures say in words, for the workbook and the terminal."""

from capacity.facts import Base
from capacity.questions.asking.ways_tried import proof_speaks_of
from capacity.questions.overtime.limits import LimitMet
from capacity.questions.overtime.measures import How, Measure, Measures
from capacity.questions.overtime.review import OvertimeReview
from capacity.words import LEAST_HOURS, LEAST_MONEY, counted, hours, listed, money
from capacity.working_time.rule_sets import RULE_SETS

LONG_HOURS = (
    "Long hours tire people, and tired people overlook things. Overtime here is "
    "man-hours by skill, not yet given to named people: who is asked to stay longer, and whether "
    "anybody may, is for the organisation's fatigue procedures, local law and agreements, which "
    "go before this review. Keep critical tasks and their inspection out of long days and late "
    "nights."
)

PRICES_MISSING = (
    "What one more head or an open bay costs is not in the workbook and not taken off: compare "
    "it with what is saved."
)

HOW_WELL = (
    (How.SEARCHED_ANEW, "searched anew"),
    (How.SLOTS_KEPT, "audited in the slots of this plan (there is no more to try of them)"),
    (How.FIRST_LOOK, "at a first look only, with slots kept or one check moved"),
)
"""How well measures are looked at, the best first."""

COMPARED = (
    "Measures searched anew are compared with a search of the same time without any measure; all "
    "others are compared with the plan as it is."
)


def totals_in_words(review: OvertimeReview, base: Base) -> str:
    """Return one sentence on the hours bought and the least money for which they are had."""
    parts = (
        ("overtime", review.overtime_hours),
        ("contract labour", review.contract_hours),
        ("overload", review.overload_hours),
    )
    bought = [f"{hours(amount)} of {what}" for what, amount in parts if amount >= LEAST_HOURS]
    if not bought:
        return "No hours are bought: regular man-hours are enough in every week."
    return (
        f"The plan needs {listed(bought)}. With the slots as they are, that costs "
        f"at least {money(review.least_money, base)}."
    )


def why_met(limit: LimitMet) -> str:
    """Say whether overtime exceeds a limit, or the roster does so without any."""
    return "by overtime" if limit.by_overtime else "by the roster itself"


def times(limit: LimitMet) -> str:
    """Return how often: ``once`` or ``5 times``."""
    return "once" if limit.times == 1 else f"{limit.times} times"


def how_tried(measure: Measure) -> str:
    """Return how a measure was tried, in words of the workbook."""
    match measure.how:
        case How.SEARCHED_ANEW:
            return "searched anew"
        case How.FIRST_LOOK:
            return "first look: slots kept, or one check moved"
        case How.SLOTS_KEPT:
            return "audited, all other slots kept"


def effect(measure: Measure, measures: Measures, base: Base) -> str:
    """Return what a measure comes to: days past, money, then hours of overtime."""
    past = measures.compared_with(measure).days_past - measure.after.days_past
    parts = [f"{counted(past, 'fewer day')} past Latest in"] if past > 0 else []
    if abs(measure.saves) < LEAST_MONEY:
        parts.append("saves no cost")
    else:
        word = "saves" if measure.saves > 0 else "costs"
        parts.append(f"{word} {money(abs(measure.saves), base)}")
    if abs(measure.overtime_less) >= LEAST_HOURS:
        word = "less" if measure.overtime_less > 0 else "more"
        parts.append(f"{hours(abs(measure.overtime_less))} {word} overtime")
    return ", ".join(parts)


def takes_away(measure: Measure, measures: Measures) -> bool:
    """Whether a measure takes days past, money or bought hours away."""
    before, after = measures.compared_with(measure), measure.after
    return (
        after.days_past < before.days_past
        or measure.saves >= LEAST_MONEY
        or measure.overtime_less >= LEAST_HOURS
        or before.overload_hours - after.overload_hours >= LEAST_HOURS
    )


def proof(measure: Measure, base: Base) -> str:
    """Return what is proven of the plan with a measure."""
    if measure.how is How.SLOTS_KEPT:
        return "exact for these slots; other slots were not searched"
    if measure.how is How.FIRST_LOOK:
        return "not proven: a first look, and a search may find more"
    speaks_of = "." + told if (told := proof_speaks_of(base)) else ""
    if measure.proven is None:
        return "not proven: no lower bound"
    if measure.after.money - measure.proven < LEAST_MONEY:
        return f"proven: no plan with it costs less{speaks_of}"
    return f"not proven: with it no plan costs less than {money(measure.proven, base)}{speaks_of}"


def worth(measure: Measure, base: Base) -> str | None:
    """Return up to what price a measure pays, where the workbook does not price it."""
    if measure.worth is None or measure.worth < LEAST_MONEY:
        return None
    return f"worth up to {money(measure.worth, base)} per head and week"


def remark(measure: Measure) -> str | None:
    """Say where a measure does not pay."""
    if measure.saves <= -LEAST_MONEY:
        return "costs more than it saves"
    return "saves no cost" if measure.saves < LEAST_MONEY else None


def tried_in_words(measures: Measures) -> str:
    """Return how many measures were tried, in what time, and how well each was looked at."""
    number = len(measures.measures) + len(measures.no_place)
    if not number and not measures.not_tried:
        return "There is no measure to try: no hours are bought."
    tried = f"{counted(number, 'measure')} tried in {measures.seconds:.0f} s"
    parts = [
        f"{len(those)} {said}"
        for how, said in HOW_WELL
        if (those := [one for one in measures.measures if one.how is how])
    ]
    if measures.no_place:
        parts.append(f"{len(measures.no_place)} not possible in this plan")
    said = f"{tried}: {listed(parts)}" if parts else tried
    if measures.not_tried:
        said += f"; {len(measures.not_tried)} not tried, because it was stopped"
    if measures.is_too_large:
        said += ". The plan is too large to be searched anew as a whole: ask hangar by hangar"
    elif any(one.how is How.FIRST_LOOK for one in measures.measures):
        said += ". Allow more seconds to search for those of the first look too"
    return f"{said}."


def limits_in_words(review: OvertimeReview, base: Base) -> str:
    """Return one sentence on the working-time limits that the crews would meet."""
    if base.working_time_rules is None:
        return "No working-time rules are named in the settings, so none were checked."
    if base.working_time_mode == "off":
        return "The working-time rules are off in the settings, so none were checked."
    title = RULE_SETS[base.working_time_rules].title
    if not review.limits:
        return f"{title}: with this plan's overtime no limit is exceeded."
    by_overtime = sum(limit.by_overtime for limit in review.limits)
    return (
        f"{title}: exceeded by crews in {counted(len(review.limits), 'case')}, in {by_overtime} of "
        "them only by overtime."
    )
