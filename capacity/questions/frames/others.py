"""Overtime, measures, risk, why and worth as data frames; needs pandas."""

from dataclasses import asdict
from typing import TYPE_CHECKING

from capacity.questions.frames.enquiries_replan import Row, frames_of
from capacity.questions.overtime.measures import Measures
from capacity.questions.overtime.review import OvertimeReview
from capacity.questions.risk.compared import Comparison
from capacity.questions.risk.values import Risk
from capacity.questions.why.explain import Explanation
from capacity.questions.why.values import Blocked
from capacity.questions.worth.values import Worths

if TYPE_CHECKING:
    import pandas as pd


def overtime_frames(review: OvertimeReview) -> "dict[str, pd.DataFrame]":
    """Return the frames ``weeks`` (by skill), ``crews`` and ``limits``; man-hours and money."""
    return frames_of(
        weeks=[{**asdict(week), "limits": ", ".join(week.limits)} for week in review.weeks],
        crews=[asdict(crew) for crew in review.crews],
        limits=[asdict(limit) for limit in review.limits],
    )


def measure_frames(measures: Measures) -> "dict[str, pd.DataFrame]":
    """Return the frame ``measures``, the best first; ``saves`` in the base's currency."""
    return frames_of(
        measures=[
            {
                "kind": measure.kind,
                "what": measure.what,
                "how": str(measure.how),
                "overtime_hours_less": measure.overtime_less,
                "saves": measure.saves,
                "proven_least_money": measure.proven,
                "worth_a_head_week": measure.worth,
                "moved": ", ".join(measure.moved),
            }
            for measure in measures.measures
        ]
    )


def risk_frames(risk: Risk) -> "dict[str, pd.DataFrame]":
    """Return the frames ``checks``, ``weeks`` (by skill), ``totals`` and ``spreads``.

    Probabilities are shares of the draws.
    """
    return frames_of(
        checks=[asdict(check) for check in risk.checks],
        weeks=[asdict(week) for week in risk.weeks],
        totals=[asdict(risk.totals)],
        spreads=[{**asdict(spread), "source": str(spread.source)} for spread in risk.spreads],
    )


def risk_comparison_frames(compared: Comparison) -> "dict[str, pd.DataFrame]":
    """Return the frames ``figures`` (means over the draws) and ``checks`` of two plans."""
    return frames_of(
        figures=[asdict(figure) for figure in compared.figures],
        checks=[asdict(check) for check in compared.checks],
    )


def why_frames(explanation: Explanation) -> "dict[str, pd.DataFrame]":
    """Return the frame ``places``: a row for each better place of each check asked about.

    A place that is taken has its ``rules`` and ``by``, one that is free its ``money``.
    """
    rows: list[Row] = []
    for why in explanation.whys:
        for place in why.better:
            row: Row = {
                "check": why.check,
                "in": place.day,
                "out": place.out_day,
                "bays": ", ".join(place.bays),
                "days_past_less": place.days_past_less,
            }
            if isinstance(place, Blocked):
                row["rules"] = "; ".join(str(blocker.rule.kind) for blocker in place.by)
                row["by"] = ", ".join(name for blocker in place.by for name in blocker.by)
                row["money"] = -place.saves
            else:
                row["rules"] = row["by"] = ""
                row["money"] = place.money
            rows.append({**row, "is_free": not isinstance(place, Blocked)})
    return frames_of(places=rows)


def worth_frames(worths: Worths) -> "dict[str, pd.DataFrame]":
    """Return the frame ``worths``: a row a change, with the proven bounds of what it saves."""
    return frames_of(
        worths=[
            {
                "more": str(worth.more),
                "of": worth.of,
                "what": worth.what,
                "days_past_less": worth.saves_days,
                "saves": worth.saves,
                "saves_at_least": worth.least,
                "saves_at_most": worth.most,
            }
            for worth in worths.worths
        ]
    )
