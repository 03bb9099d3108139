"""People on shift lists are whole quarters of a shift, and no more of them than there are."""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from capacity.crews.assign import assign_crews
from capacity.crews.crew_plan import Attendance, StageHours
from capacity.crews.crew_settings import CrewSettings
from capacity.reports.crews.people_by_stage import people_by_stage
from capacity.reports.crews.workbook import Line, shift_lists
from tests.plans.stories import PLENTY, base, check, package, placed, plan, stage

DAY = 5
WORK = package(stage("Open", 2, hours=40), stage("Cabin", 2, hours=30))
BASE = base(check(package="Heavy"), packages=(WORK,), crews=(replace(PLENTY, heads=3),))
PLAN = plan(placed("C1", DAY, ("Open", DAY, DAY + 2), ("Cabin", DAY, DAY + 2)))


def lines(heads: float, **hours: float) -> list[Line]:
    """Return the lines of one shift in which a crew gives each stage so many man-hours."""
    settings = CrewSettings(weeks=2, seconds=1, workers=1, overtime_hours=0)
    staffed = assign_crews(BASE, PLAN, settings)
    one, worked = staffed.plan.attendance[0], staffed.plan.work[0]
    attendance = (Attendance(one.day, one.shift, one.crew, one.check, one.skill, heads),)
    work = tuple(
        StageHours(one.day, one.shift, one.crew, one.check, name, worked.skill, amount)
        for name, amount in hours.items()
    )
    made = replace(staffed.plan, attendance=attendance, work=work)
    return list(shift_lists(replace(staffed, plan=made), PLAN, BASE)[0].lines)


def test_people_of_several_stages_are_told_in_whole_quarters() -> None:
    """2.5 people, 17.1 and 3.3 h: by hours alone 2.1 and 0.4 people, which nobody can be."""
    cabin, opening = lines(2.5, Open=17.1, Cabin=3.3)
    assert (opening.people, cabin.people) == (2.0, 0.5)
    assert (opening.hours, cabin.hours) == (17.1, 3.3)


def test_a_stage_without_a_quarter_of_its_own_says_who_does_it() -> None:
    cabin, opening = lines(0.25, Open=2.0, Cabin=0.4)
    assert (opening.people, cabin.people) == (0.25, 0.0)
    assert "by the crew's people on the stages above or below" in cabin.remarks
    assert "by the crew's people" not in opening.remarks


def test_who_is_there_without_hours_has_a_line_too() -> None:
    """A certifier who must be on the aircraft, and whose hours nobody booked, was on no list."""
    staffed = assign_crews(BASE, PLAN, CrewSettings(weeks=2, seconds=1, workers=1))
    one = staffed.plan.attendance[0]
    present = replace(one, skill="Certifier", heads=0.25, overtime_hours=0.0)
    made = replace(staffed.plan, attendance=(*staffed.plan.attendance, present))
    first = shift_lists(replace(staffed, plan=made), PLAN, BASE)[0]
    (line,) = [line for line in first.lines if line.skill == "Certifier"]
    assert (line.crew, line.check, line.stage, line.people, line.hours) == (
        (one.crew, one.check, "(present)", 0.25, 0.0)
    )
    assert "there for the licence" in line.remarks


@given(
    st.integers(1, 80),
    st.sampled_from([1, 2, 4]),
    st.lists(st.floats(0.01, 100.0), min_size=1, max_size=8),
)
def test_parts_are_whole_add_up_and_leave_no_stage_without(
    number: int, parts: int, hours: list[float]
) -> None:
    people = people_by_stage(number / parts, parts, hours)
    assert sum(people) == number / parts
    assert all((amount * parts).is_integer() for amount in people)
    assert sum(amount > 0 for amount in people) == min(number, len(hours))
    in_order = sorted(zip(hours, people, strict=True))
    assert [amount for _, amount in in_order] == sorted(people)
