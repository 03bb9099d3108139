"""Work beyond the package, by hand: hours, new stages and their order, audit and progress."""

import pytest

from capacity.facts import Base, ExtraReason, ExtraWork, WorkProgress, with_extra
from capacity.plans.audit import audit
from capacity.plans.earned_value import earned_by_check
from capacity.plans.extra_work import stages_of
from capacity.plans.work_left import work_left
from tests.plans.stories import base, check, day, package, placed, plan, stage
from tests.plans.test_progress_left import row, told

# Open 2 days, inspect 3 (10 h routine and as many findings), close 1.
HEAVY = package(
    stage("open", 2, hours=20),
    stage("inspect", 3, "open", hours=10, findings=1.0),
    stage("close", 1, "inspect", hours=10),
)
MODIFICATION = ExtraReason.MODIFICATION


def more(name: str, hours: float = 30.0, **said: object) -> ExtraWork:
    return ExtraWork("C1", name, "Mechanic", hours, MODIFICATION, **said)  # type: ignore[arg-type]


def new(name: str, *after: str, days: int = 4, hours: float = 40.0) -> ExtraWork:
    return more(name, hours, after=after or None, work="maintenance", days=days)


def world(*extra: ExtraWork) -> Base:
    checks = (check(package="Heavy"), check("C2", package="Heavy", latest_in=day(40)))
    return base(*checks, packages=(HEAVY,), extra_work=extra)


def spans(made: Base) -> list[tuple[str, tuple[str, ...], float]]:
    """Return what is to be done on C1: name, what it waits for, man-hours."""
    works = work_left(made, made.checks[0])
    return [(w.stage, tuple(sorted(w.after)), w.total) for w in works]


def test_hours_are_added_to_that_check_alone_and_not_multiplied_by_findings():
    made = world(more("inspect"))
    assert spans(made)[1] == ("inspect", ("open",), 10 * 2 + 30)
    (_, inspect, _) = work_left(made, made.checks[1])
    assert inspect.total == 20
    assert inspect.days == 3


def test_several_skills_and_reasons_add_up():
    made = world(
        more("inspect", 5), ExtraWork("C1", "inspect", "Fuel", 7, MODIFICATION), more("inspect", 2)
    )
    assert work_left(made, made.checks[0])[1].man_hours == {"Mechanic": 27, "Fuel": 7}


@pytest.mark.parametrize(
    ("extra", "expected"),
    [
        # Behind inspect; close, the last stage, waits for it as well.
        (
            (new("repair", "inspect"),),
            [
                ("open", (), 20),
                ("inspect", ("open",), 20),
                ("repair", ("inspect",), 40),
                ("close", ("inspect", "repair"), 10),
            ],
        ),
        # Nothing named: behind the last stage.
        (
            (new("test flight"),),
            [
                ("open", (), 20),
                ("inspect", ("open",), 20),
                ("close", ("inspect",), 10),
                ("test flight", ("close",), 40),
            ],
        ),
        # One new stage behind another; close waits for both.
        (
            (new("strip", "open", days=1), new("repair", "strip", days=1)),
            [
                ("open", (), 20),
                ("inspect", ("open",), 20),
                ("strip", ("open",), 40),
                ("repair", ("strip",), 40),
                ("close", ("inspect", "repair", "strip"), 10),
            ],
        ),
    ],
)
def test_new_stages_come_where_they_are_told(extra, expected):
    made = world(*extra)
    assert spans(made) == expected
    # The facts for the search say the same as the audit's own.
    of_facts = with_extra(HEAVY, extra).stages
    assert {(s.name, frozenset(s.after), s.days) for s in of_facts} == {
        (s.name, frozenset(s.after), s.days) for s in stages_of(made, made.checks[0])
    }


def test_a_hyphen_means_none():
    made = world(more("wash", 8, after=(), work="maintenance", days=1))
    assert ("wash", (), 8) in spans(made)


def test_a_plan_with_the_new_stage_stands_and_one_without_it_does_not():
    made = world(new("repair", "inspect", days=4)).replace(checks=(check(package="Heavy"),))
    good = plan(
        placed("C1", 5, ("open", 5, 7), ("inspect", 7, 10), ("repair", 10, 14), ("close", 14, 15))
    )
    assert audit(made, good).broken == ()
    assert sum(week.demand for week in audit(made, good).weeks) == pytest.approx(90)
    lacking = plan(placed("C1", 5, ("open", 5, 7), ("inspect", 7, 10), ("close", 10, 11)))
    assert "C1 lacks its stage repair." in audit(made, lacking).broken


def test_a_new_stage_is_done_only_when_it_is_told():
    """Close is half done: open, inspect and wash are, but not the repair found late."""
    heavy = told().packages[0]
    extra = (
        ExtraWork(
            "C1",
            "repair",
            "Mechanic",
            40,
            ExtraReason.GROWN_FINDING,
            ("inspect",),
            "maintenance",
            2,
        ),
    )
    made = told(row("close", done=0.5), heavy=heavy).replace(extra_work=extra)
    left = work_left(made, made.checks[0])
    assert [(w.stage, w.days, w.in_work) for w in left] == [
        ("repair", 2, False),
        ("close", 1, True),
    ]
    assert left[1].after == ("repair",)
    done = made.replace(progress=(*made.progress, WorkProgress("C1", day(0), "repair", done=1.0)))
    assert [w.stage for w in work_left(done, done.checks[0])] == ["close"]


def test_planned_hours_of_progress_have_extra_ones_among_them():
    extra = (ExtraWork("C1", "inspect", "Mechanic", 10, ExtraReason.CUSTOMER_REQUEST),)
    made = told(row("inspect", hours_to_go=25, hours_booked=25)).replace(extra_work=extra)
    inspect = earned_by_check(made)["C1"][1]
    assert (inspect.planned, inspect.estimate, inspect.grown) == (50, 50, 0)
    assert work_left(made, made.checks[0])[0].days == 2


def test_no_rows_change_nothing():
    made = world()
    assert stages_of(made, made.checks[0]) == HEAVY.stages
    assert made.package_of(made.checks[0]) is HEAVY
    assert with_extra(HEAVY, ()).stages == HEAVY.stages
