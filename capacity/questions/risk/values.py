"""The answer to the risk question, as values."""

import math
from dataclasses import dataclass
from datetime import date

from capacity.questions.risk.findings import StageSpread
from capacity.questions.risk.settings import RiskSettings

LIKELY, SAFE = 0.5, 0.8
"""The shares of the draws in which an aircraft is out by its 50 % and by its 80 % day."""


@dataclass(frozen=True, slots=True)
class CheckRisk:
    """How a check may end.

    ``home_by`` is the agreed day, or the planned out day where none is agreed (then
    ``agreed`` is False). ``on_day`` is the probability of being out by then; ``pushed`` that
    of coming into its first bay later than planned, because another check stays longer.
    ``out_likely`` and ``out_safe`` are the earliest days by which it is out in 50 % and 80 % of
    the draws, ``man_hours_likely`` and ``man_hours_safe`` likewise, from the first day of the
    plan on. ``buffer_days`` are the worked days that the out day would have to be later,
    or the work sooner done, for 80 % to be out by then; ``buffer_man_hours`` are the hours
    of the 80 % beyond the planned ones.
    """

    check: str
    bay: str
    in_day: date
    planned_out: date
    home_by: date
    agreed: bool
    on_day: float
    pushed: float
    out_likely: date
    out_safe: date
    planned_man_hours: float
    man_hours_likely: float
    man_hours_safe: float
    buffer_days: int
    buffer_man_hours: float


@dataclass(frozen=True, slots=True)
class WeekRisk:
    """A skill in an ISO week, in man-hours.

    ``most_to_be_had`` are regular hours and both caps; ``overload`` is the probability that more
    is asked, ``expected_overload`` the mean of what is asked beyond it, over all draws.
    """

    week: str
    skill: str
    planned_demand: float
    expected_demand: float
    demand_safe: float
    most_to_be_had: float
    overload: float
    expected_overload: float


@dataclass(frozen=True, slots=True)
class Totals:
    """Means over the draws of figures of the whole plan; money in the base's currency.

    ``late_money`` counts days past ``Agreed out`` at the check's price, as the plan does.
    ``all_on_day`` is the probability that every check is out by its day.
    """

    all_on_day: float
    late_checks: float
    late_days: float
    late_money: float
    overload_hours: float


@dataclass(frozen=True, slots=True)
class Risk:
    """What may become of a plan when findings are drawn instead of taken as their mean.

    ``checks`` are in order of planned in day; ``weeks`` in order of week and of the base's
    skills, to the last week in which anything is asked in any draw. ``spreads`` say with
    which spread each stage was drawn and where that came from; ``model`` what was assumed, a
    sentence each.
    """

    settings: RiskSettings
    checks: tuple[CheckRisk, ...]
    weeks: tuple[WeekRisk, ...]
    totals: Totals
    spreads: tuple[StageSpread, ...]
    model: tuple[str, ...]

    def standard_error(self, probability: float) -> float:
        """Return the standard error of an estimated probability, ``sqrt(p (1 - p) / draws)``.

        Source: variance of a binomial share; a textbook formula.
        """
        return math.sqrt(probability * (1 - probability) / self.settings.draws)
