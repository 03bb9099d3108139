"""Sum up what became of a plan over all draws."""

from collections.abc import Sequence
from datetime import date

import numpy as np

from capacity.facts import Base, Check
from capacity.labour.calendar import Calendar
from capacity.plans.week_hours import TOLERANCE
from capacity.questions.risk.findings import Floats, StageSpread
from capacity.questions.risk.model import model_sentences
from capacity.questions.risk.play import Ints, Played
from capacity.questions.risk.settings import RiskSettings
from capacity.questions.risk.values import LIKELY, SAFE, CheckRisk, Risk, Totals, WeekRisk


def answer(
    played: Played, base: Base, settings: RiskSettings, spreads: Sequence[StageSpread]
) -> Risk:
    """Return the answer; of the ``spreads`` those of packages that are in the plan."""
    packages = {check.name: check.package for check in base.checks}
    placed = {packages[planned.check.name] for planned in played.checks}
    return Risk(
        settings=settings,
        checks=tuple(_check(played, number) for number in range(len(played.checks))),
        weeks=_weeks(played),
        totals=_totals(played),
        spreads=tuple(spread for spread in spreads if spread.package in placed),
        model=model_sentences(settings),
    )


def home_by(planned_in: date, planned_out: date, check: Check) -> date:
    """Return the agreed day, or the planned out day where none is agreed."""
    return check.agreed_out_from(planned_in) or planned_out


def late_days(played: Played) -> Ints:
    """Return the days past the day at home, shape (checks, draws).

    A promise of days moves with the in day, later where the bay is not free in time.
    """
    late: Ints = played.outs - np.array(
        [_due(played, number) for number in range(len(played.checks))], dtype=np.int64
    ).reshape(played.outs.shape)
    return np.maximum(late, 0)


def _due(played: Played, number: int) -> Ints:
    """Return the day by which a check is to be out in each draw, shape (draws,)."""
    check = played.checks[number].check
    if check.agreed_days is not None:
        due: Ints = played.ins[number] + check.agreed_days
        return due
    day = played.calendar.number(_target(played, number))
    return np.full(played.outs.shape[1], day, dtype=np.int64)


def _target(played: Played, number: int) -> date:
    """Return the day by which a check is to be out as planned."""
    planned = played.checks[number]
    planned_in = played.calendar.date(planned.visits[0].in_day)
    return home_by(planned_in, _planned_out(played, number), planned.check)


def late_money(played: Played) -> Floats:
    """Return the money for days past ``Agreed out``, shape (draws,)."""
    prices = [
        planned.check.late_cost_per_day if planned.check.is_agreed else 0.0
        for planned in played.checks
    ]
    return np.asarray(np.array(prices) @ late_days(played))


def at_most(values: Ints | Floats, share: float) -> float:
    """Return the least of the values that is not exceeded in that share of the draws."""
    return float(np.quantile(values, share, method="inverted_cdf"))


def _planned_out(played: Played, number: int) -> date:
    return played.calendar.date(played.checks[number].visits[-1].out_day)


def _check(played: Played, number: int) -> CheckRisk:
    planned, calendar = played.checks[number], played.calendar
    ins, outs, hours = played.ins[number], played.outs[number], played.man_hours[number]
    account = next(a for a in played.audit.accounts if a.check == planned.check.name)
    target = _target(played, number)
    safe, safe_hours = int(at_most(outs, SAFE)), at_most(hours, SAFE)
    return CheckRisk(
        check=planned.check.name,
        bay=planned.visits[0].bay,
        in_day=calendar.date(planned.visits[0].in_day),
        planned_out=_planned_out(played, number),
        home_by=target,
        agreed=planned.check.is_agreed,
        on_day=float(np.mean(outs <= _due(played, number))),
        pushed=float(np.mean(ins > planned.visits[0].in_day)),
        out_likely=calendar.date(int(at_most(outs, LIKELY))),
        out_safe=calendar.date(safe),
        planned_man_hours=account.man_hours,
        man_hours_likely=at_most(hours, LIKELY),
        man_hours_safe=safe_hours,
        buffer_days=_worked_between(calendar.number(target), safe, calendar),
        buffer_man_hours=max(0.0, safe_hours - account.man_hours),
    )


def _worked_between(first: int, until: int, calendar: Calendar) -> int:
    """Return the worked days in ``[first, until)``; 0 when it is empty."""
    if until <= first:
        return 0
    return int(calendar.worked_before[until] - calendar.worked_before[max(first, 0)])


def _weeks(played: Played) -> tuple[WeekRisk, ...]:
    overload = played.overload
    return tuple(
        WeekRisk(
            week=load.week,
            skill=load.skill,
            planned_demand=load.demand,
            expected_demand=float(played.demand[row].mean()),
            demand_safe=at_most(played.demand[row], SAFE),
            most_to_be_had=float(played.most[row]),
            overload=float(np.mean(overload[row] > TOLERANCE)),
            expected_overload=float(overload[row].mean()),
        )
        for row, load in enumerate(played.loads)
    )


def _totals(played: Played) -> Totals:
    late = late_days(played)
    return Totals(
        all_on_day=float(np.mean((late == 0).all(axis=0))),
        late_checks=float((late > 0).sum(axis=0).mean()),
        late_days=float(late.sum(axis=0).mean()),
        late_money=float(late_money(played).mean()),
        overload_hours=float(played.overload.sum(axis=0).mean()),
    )
