"""Where stages fall: days off, holidays, and work that is already done."""

from dataclasses import replace
from datetime import date

import pytest

from capacity.facts import Check, Package, Status
from capacity.plans.audit import audit

from .stories import MON_TO_FRI, audited, base, check, day, package, placed, plan, stage


def test_days_off_lengthen_the_stay_and_not_the_work() -> None:
    """Seven worked days, Monday to Friday, from Thursday day 10: Thu Fri, then Mon to Fri.

    So Work runs until Saturday day 19. Release is done on Monday day 21 alone and over on
    day 22. The 70 man-hours of Work fall 20 and 50 on the two weeks, the 5 of
    Release on the third.
    """
    heavy = package(stage("Work", 7, hours=70), stage("Release", 1, "Work", hours=5))
    weekdays = base(check(package="Heavy"), packages=(heavy,), working_weekdays=MON_TO_FRI)
    weekdays = weekdays.replace(weeks=2)
    result = audited(weekdays, placed("C1", 10, ("Work", 10, 19), ("Release", 21, 22)))
    assert [(load.week, load.demand) for load in result.weeks] == [
        ("2027-W01", 0.0),
        ("2027-W02", 20.0),
        ("2027-W03", 50.0),
        ("2027-W04", 5.0),
    ]


def test_a_check_may_come_in_on_a_day_off() -> None:
    """In on Saturday day 5; the ten worked days are two weeks from Monday day 7 on."""
    weekdays = base(working_weekdays=MON_TO_FRI)
    audited(weekdays, placed("C1", 5, ("Work", 7, 19)))


@pytest.mark.parametrize(
    ("holidays", "until"),
    [
        # Thu 25, Tue 30, Wed 31 March
        ("DE", date(2027, 4, 1)),
        # Thu 25, Fri 26, Mon 29 March
        (None, date(2027, 3, 30)),
        # Scotland keeps Good Friday and works on Easter Monday: Thu 25, Mon 29, Tue 30
        ("GB-SCT", date(2027, 3, 31)),
    ],
)
def test_easter(holidays: str | None, until: date) -> None:
    """Easter Sunday is 28 March 2027; Germany keeps Good Friday and Easter Monday.

    Source of the dates and of who keeps them: from memory. Three worked days, Monday to
    Friday, from Maundy Thursday 25 March on.
    """
    thursday = date(2027, 3, 25)
    easter = base(
        check(package="Heavy", earliest_in=thursday, latest_in=thursday),
        packages=(package(stage("Work", 3)),),
        weeks=13,
        working_weekdays=MON_TO_FRI,
        holidays=holidays,
    )
    first, last = (thursday - day(0)).days, (until - day(0)).days
    audited(easter, placed("C1", first, ("Work", first, last)))


HEAVY = package(
    stage("Open", 2, hours=40),
    stage("Inspect", 4, "Open", hours=40),
    stage("Close", 2, "Inspect", hours=20),
)


def under_way(remaining: float, heavy: Package = HEAVY) -> tuple[Check, Package]:
    """C1 came in three days before the first day and has ``remaining`` of its work left."""
    fixed = check(package="Heavy", status=Status.FIXED, fixed_bay="B1", fixed_in=day(-3))
    return replace(fixed, remaining=remaining), heavy


@pytest.mark.parametrize(
    ("remaining", "stages", "man_hours"),
    [
        # 50 of 100 man-hours are done: Open's 40 and 10 of Inspect's 40, so 3 of its 4 days
        # are left
        (0.5, (("Inspect", 0, 3), ("Close", 3, 5)), 50.0),
        # 45 done: 35 of Inspect's 40 are left, 3.5 of its days, rounded up to 4
        (0.55, (("Inspect", 0, 4), ("Close", 4, 6)), 55.0),
        # 40 done is Open to the hour
        (0.6, (("Inspect", 0, 4), ("Close", 4, 6)), 60.0),
        # 90 done: half of Close is left
        (0.1, (("Close", 0, 1),), 10.0),
        # 20 done: half of Open is left, one day, though 2 * (40 - 20) / 40 comes to a hair
        # more than 1 in floats
        (0.8, (("Open", 0, 1), ("Inspect", 1, 5), ("Close", 5, 7)), 80.0),
        # nothing done
        (1.0, (("Open", 0, 2), ("Inspect", 2, 6), ("Close", 6, 8)), 100.0),
    ],
)
def test_work_already_done_is_gone(
    remaining: float, stages: tuple[tuple[str, int, int], ...], man_hours: float
) -> None:
    """What is left starts on the first day of the plan, day 0, and not on the in day."""
    going_on, heavy = under_way(remaining)
    result = audited(base(going_on, packages=(heavy,)), placed("C1", -3, *stages))
    assert result.accounts[0].man_hours == pytest.approx(man_hours, abs=1e-9)


def test_work_is_done_in_the_order_of_the_network() -> None:
    """The sheet lists Close first, but it starts last; Left and Right tie, Left is listed first.

    Open 10 + Left 30 + Right 30 + Close 30 = 100 man-hours; 40 are done: Open and Left.
    Right (3 days) and Close (1 day) are whole.
    """
    heavy = package(
        stage("Close", 1, "Left", "Right", hours=30),
        stage("Left", 3, "Open", hours=30),
        stage("Right", 3, "Open", hours=30),
        stage("Open", 1, hours=10),
    )
    going_on, _ = under_way(0.6)
    told = placed("C1", -3, ("Right", 0, 3), ("Close", 3, 4))
    audited(base(going_on, packages=(heavy,)), told)


def test_rounding_does_not_leave_a_day_of_finished_work() -> None:
    """10 of 100 man-hours are done, all of Open, though (1 - 0.9) * 100 falls short in floats."""
    heavy = package(stage("Open", 1, hours=10), stage("Inspect", 6, "Open", hours=90))
    told = placed("C1", -3, ("Inspect", 0, 6))
    audited(base(under_way(0.9)[0], packages=(heavy,)), told)


def test_findings_count_in_the_work_done() -> None:
    """Open 40 h; Inspect 20 h with findings of 100 %, doubled by age: 60 h. Half is 50 h.

    Open and 10 of Inspect's 60 are done; 50/60 of its 6 days are 5.
    """
    heavy = package(stage("Open", 2, hours=40), stage("Inspect", 6, "Open", hours=20, findings=1))
    going_on = replace(under_way(0.5)[0], findings_factor=2.0)
    result = audited(base(going_on, packages=(heavy,)), placed("C1", -3, ("Inspect", 0, 5)))
    assert result.accounts[0].man_hours == pytest.approx(50.0)


def test_without_man_hours_nothing_can_be_done_already() -> None:
    """Ten days of no man-hours stay ten days, from the first day of the plan on."""
    going_on, _ = under_way(0.5)
    waiting = replace(going_on, package="Ten days")
    audited(base(waiting), placed("C1", -3, ("Work", 0, 10)))


def test_the_bay_is_occupied_from_the_in_day_on() -> None:
    """C1's work starts on day 0, but it stands in B1 since day -3: C2 cannot be there then."""
    going_on, heavy = under_way(0.5)
    before = check("C2", status=Status.FIXED, fixed_bay="B1", fixed_in=day(-12))
    told = plan(
        placed("C1", -3, ("Inspect", 0, 3), ("Close", 3, 5)),
        placed("C2", -12),
    )
    both = base(going_on, before, packages=(heavy, *base().packages))
    assert audit(both, told).broken == ("C2 and C1 are both in bay B1 on Fri 1 Jan 2027.",)
