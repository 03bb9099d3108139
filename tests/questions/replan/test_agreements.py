"""A re-plan when options lapse, checks are held, and aircraft no longer move on days off."""

from dataclasses import replace

import capacity
from capacity.facts import Base, Check, Status
from capacity.questions.replan.replanning import replan
from capacity.questions.replan.values import Cause, Replanned
from capacity.settings import Settings
from tests.questions.asking_about import planned
from tests.reference import stories
from tests.reference.stories import bays, day, visit

WEEKDAYS = frozenset(range(5))
FEW = Settings(seconds=5)


def replanned(before: Base, after: Base, today: int) -> Replanned:
    plan = planned(before)
    assert plan is not None
    answer = replan(after, plan, today=day(today), settings=FEW, old_base=before)
    assert isinstance(answer, Replanned)
    assert capacity.audit(answer.base, answer.found.plan).broken == ()
    return answer


def causes(answer: Replanned) -> dict[str, list[Cause]]:
    return {change.check: [reason.cause for reason in change.why] for change in answer.changes}


def option(decide_by: int, in_day: int) -> Check:
    return visit(
        "O", 2, in_day, in_day, status=Status.OPTION, price=900.0, decide_by=day(decide_by)
    )


def test_an_option_not_decided_by_its_day_lapses() -> None:
    base = stories.base(bays(2), visit("A", 5, 0, 0), option(4, 9))
    assert causes(replanned(base, base, 4)) == {}
    answer = replanned(base, base, 5)
    assert causes(answer) == {"O": [Cause.LAPSED]}
    assert answer.found.plan.refused == ("O",)


def test_an_option_that_is_in_lapses_no_more() -> None:
    base = stories.base(bays(2), visit("A", 5, 0, 0), option(2, 3))
    assert causes(replanned(base, base, 4)) == {}


def test_a_check_held_elsewhere_goes_there() -> None:
    check = visit("A", 5, 7, 14)
    before = stories.base(bays(2), check)
    after = before.replace(checks=(replace(check, held_in=day(10), held_bay="B2"),))
    answer = replanned(before, after, 2)
    (placement,) = answer.found.plan.placements
    assert (placement.bay, placement.in_day) == ("B2", day(10))
    assert causes(answer) == {"A": [Cause.HELD]}


def test_aircraft_that_no_longer_move_on_days_off_say_so() -> None:
    """In on Monday the 11th for five days, out on Saturday: now on Monday the 18th."""
    before = stories.base(bays(1), visit("A", 5, 7, 7), working_weekdays=WEEKDAYS)
    after = before.replace(comes_in_on_days_off=False, leaves_on_days_off=False)
    answer = replanned(before, after, 2)
    (placement,) = answer.found.plan.placements
    assert (placement.in_day, placement.out_day) == (day(7), day(14))
    assert Cause.DAY_OFF in causes(answer)["A"]


def test_a_check_that_came_in_on_a_day_off_stays_where_it_is() -> None:
    """It came in on Sunday, day 6, before aircraft stopped moving on days off."""
    before = stories.base(bays(1), visit("A", 5, 6, 6), working_weekdays=WEEKDAYS)
    after = before.replace(comes_in_on_days_off=False, leaves_on_days_off=False)
    answer = replanned(before, after, 8)
    (placement,) = answer.found.plan.placements
    assert (placement.in_day, placement.out_day) == (day(6), day(14))
