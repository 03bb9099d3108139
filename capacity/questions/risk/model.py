"""What the risk question assumes, in sentences for the planner."""

from capacity.questions.risk.settings import Keep, RiskSettings, Shape
from capacity.words import percent


def model_sentences(settings: RiskSettings) -> tuple[str, ...]:
    """Return the assumptions, in the order in which they are used."""
    return (
        _shape(settings),
        _together(settings),
        "One draw of findings holds for all skills of a stage. Stages that ended before the first "
        "day of the "
        "plan are known and not drawn.",
        *_days(settings),
        "Later stages start as early as the stages before them let them. Waits for a shop and "
        "for the move to a further bay stay as many days as planned.",
        "The next check in a bay, or on the same floor, comes in when the bay is free and the "
        "changeover is done, never before its planned day. The order in each bay stays. Ways "
        "between bays, closures, equipment and shops are not checked again.",
        "A week has overload when the demand for a skill is more than its regular hours, as the "
        "plan shares them out, with the overtime cap and the contract cap. Nobody moves to another "
        "skill, works faster or buys more: a planner would, so read it as what happens when "
        "nothing is done.",
    )


def _days(settings: RiskSettings) -> tuple[str, ...]:
    if settings.keep is Keep.DAYS:
        return (
            "A stage keeps its planned days, and with more man-hours needs more on each of them: "
            "dates hold, weeks may not.",
        )
    return (
        "A stage keeps the man-hours per worked day, all skills together, that it was planned at; "
        "with more man-hours it lasts longer: drawn man-hours / planned man-hours per day, rounded "
        "up. So it never needs more per day than planned: findings show as days, and in a week "
        "only "
        "where checks that stay longer meet later ones.",
        "It is never shorter than its Shortest days, or its normal Days where the package gives "
        "none (and for fixed checks); with fewer man-hours than those days hold, it needs less per "
        "day. Longest days do not cap it.",
    )


def _shape(settings: RiskSettings) -> str:
    shape = "log-normal" if settings.shape is Shape.LOG_NORMAL else "triangular"
    judgement = (
        f"Where that is blank or 0, the planner's judgement of {percent(settings.default_spread)} "
        "holds."
        if settings.default_spread
        else "Where that is blank or 0, findings are taken as certain."
    )
    return (
        f"Findings of a stage are {shape}: mean Findings % times the Findings factor of the check, "
        f"standard deviation Findings spread % of that. {judgement}"
    )


def _together(settings: RiskSettings) -> str:
    if settings.together == 0:
        return (
            "Stages are drawn independently of each other. Where an old aircraft has more "
            "findings in all of its stages, the true risk is greater than stated here."
        )
    return (
        f"Stages of one check are drawn with a correlation of {settings.together:.2f} between "
        "their normal scores; checks are drawn independently of each other."
    )
