"""Answers as data frames say what the answers say."""

from typing import Any

import pytest

from capacity import Settings
from capacity.facts import Check, Status
from capacity.questions.compare.two_plans import compare
from capacity.questions.enquiries.asked import ask
from capacity.questions.enquiries.combinations import best_combinations
from capacity.questions.frames.enquiries_replan import (
    comparison_frames,
    enquiry_frames,
    reason_text,
    replan_frames,
    set_frames,
)
from capacity.questions.replan.replanning import replan
from capacity.questions.replan.values import Cause, Reason, Replanned
from tests.questions.asking_about import planned
from tests.reference import stories
from tests.reference.stories import bays, day, visit

pandas = pytest.importorskip("pandas")

BASE = stories.base(bays(1), visit("B", 3, 0, 6, early_cost_per_day=10.0))
FEW = Settings(seconds=10)


def option(name: str, days: int, first: int, last: int, price: float) -> Check:
    return visit(name, days, first, last, status=Status.OPTION, price=price)


def test_enquiries() -> None:
    plan = planned(BASE)
    assert plan is not None
    asked = [option("O", 3, 5, 5, 7.0), option("P", 2, 0, 12, 9.0)]
    answers = ask(BASE, plan, asked, may_move=["B"], settings=FEW)
    frames: dict[str, Any] = enquiry_frames(answers)
    enquiries = frames["enquiries"].set_index("enquiry")
    assert pandas.isna(enquiries.loc["O", "bay"])
    assert (enquiries.loc["O", "in_the_way"], enquiries.loc["O", "moved"]) == ("B", "B")
    assert enquiries.loc["O", "break_even_with_moves"] == pytest.approx(40.0)
    assert (enquiries.loc["P", "bay"], enquiries.loc["P", "in"]) == ("B1", day(0))
    assert len(frames["slots"]) == len(answers[1].slots)
    assert frames["slots"]["cost"].min() == answers[1].break_even
    assert list(frames["curve"]["week"]) == ["2027-W01", "2027-W01", "2027-W02"]


def test_sets() -> None:
    plan = planned(BASE)
    assert plan is not None
    answer = best_combinations(BASE, plan, [option("O", 3, 0, 3, 7.0), option("P", 3, 0, 3, 9.0)])
    frames: dict[str, Any] = set_frames(answer)
    assert list(frames["sets"]["enquiries"]) == ["O, P", "P", "O", ""]
    assert list(frames["sets"]["gain"]) == pytest.approx([16.0, 9.0, 7.0, 0.0])
    assert list(frames["enquiries"]["place"]) == [1, 1, 2, 3]
    assert list(frames["alone"]["gain"]) == pytest.approx([7.0, 9.0])


def test_replan_and_comparison() -> None:
    plan = planned(BASE)
    assert plan is not None
    wider = BASE.replace(checks=(*BASE.checks, visit("A", 3, 6, 6)))
    answer = replan(wider, plan, day(0), FEW)
    assert isinstance(answer, Replanned)
    frames: dict[str, Any] = replan_frames(answer)
    changes = frames["changes"].set_index("check")
    assert (changes.loc["B", "days_moved"], changes.loc["B", "what"]) == (-3, "day")
    assert changes.loc["B", "why"] == "displaced by A"
    assert pandas.isna(changes.loc["A", "before_bay"])
    assert list(frames["money"]["plan"]) == ["kept", "found"]
    told: dict[str, Any] = comparison_frames(compare(wider, plan, answer.plan))
    assert list(told["placements"]["days"]) == [-3, 0]
    assert told["overloads"].empty


def test_reasons_in_words() -> None:
    assert reason_text(Reason(Cause.GREW, days=2, man_hours=40.0)) == "grew +2 days +40 man-hours"
    assert reason_text(Reason(Cause.CHEAPER, money=5.0)) == "cheaper (staying would cost 5.00 more)"
    assert reason_text(Reason(Cause.SLIPPED, days=-1)) == "slipped -1 day"
