"""What a crew plan buys beside its slot plan, in words."""

from capacity.crews.bought import Bought, Step
from capacity.words import LEAST_HOURS, hours, percent


def bought_in_words(bought: Bought) -> str:
    """Return in some sentences how the two agree, and which rule asks for more."""
    said = (
        f"Overtime, contract labour to be hired and overload: {hours(bought.crew_plan)} here, "
        f"{hours(bought.slot_plan)} in these weeks of the slot plan"
    )
    if abs(bought.more) < LEAST_HOURS:
        return f"{said}."
    if bought.agrees:
        less = -bought.more
        if less < LEAST_HOURS:
            return f"{said}: they agree within 2 %."
        return (
            f"{said}: {hours(less)} fewer, since crews may work a stage more on one of its days "
            "than on another, and move it within its float."
        )
    share = f" ({percent(bought.more / bought.slot_plan)})" if bought.slot_plan else ""
    told = "; ".join(
        f"{step.value} {_signed(amount)}"
        for step, amount in bought.by_step.items()
        if step is not Step.PEOPLE and abs(amount) >= LEAST_HOURS
    )
    proven = f" Proven, each on top of those before it: {told}." if told else ""
    rest = bought.by_step.get(Step.PEOPLE, 0.0)
    left = f" {Step.PEOPLE.value}: {_signed(rest)}." if abs(rest) >= LEAST_HOURS else ""
    return f"{said}: {hours(bought.more)} more{share}.{proven}{left}"


def _signed(amount: float) -> str:
    return f"+{hours(amount)}" if amount > 0 else f"-{hours(-amount)}"
