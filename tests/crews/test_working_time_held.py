"""Working-time rules in a crew plan: held while it is made, told afterwards, or left alone.

Directive 2003/88/EC, Article 6 (seen): 48 h a week on average with overtime. A crew that works
five shifts of 8 h has room for 8 h of overtime per head and week.
"""

from dataclasses import replace

import pytest

from capacity.crews.assign import Staffed
from capacity.crews.problem import Caps, OvertimeLimit
from capacity.facts import Pattern
from tests.crews.problems import HEAD_DAY, daily, problem, proven, spans, task, value
from tests.crews.stories import CERTIFIER, MECHANIC, crew, one_stage, stage

FIVE_ON = Pattern("Five on", (*["Early"] * 5, None, None))
TWO = crew("Two", 2, FIVE_ON.name)


def five_days(hours: float, mode: str, **settings: object) -> Staffed:
    """Ask hours of two people over the five days that they work, 80 h without overtime."""
    return one_stage(
        stage("Work", 5, hours=hours),
        [TWO],
        {"overtime_hours": 2.0, **settings},
        patterns=(FIVE_ON,),
        skills=(replace(MECHANIC, overtime_cap=1.0), CERTIFIER),
        working_time_rules="working-time-directive",
        working_time_mode=mode,
    )


@pytest.mark.parametrize(
    ("mode", "overtime", "missing", "told"),
    [("hold", 16.0, 4.0, 0), ("warn", 20.0, 0.0, 1), ("off", 20.0, 0.0, 0)],
)
def test_48_hours_a_week_are_held_told_or_left_alone(
    mode: str, overtime: float, missing: float, told: int
) -> None:
    audit = five_days(100.0, mode).audit
    assert audit.overtime == pytest.approx(overtime)
    assert audit.short == pytest.approx(missing)
    assert len(audit.warnings) == told


def test_what_keeps_the_rules_is_not_cut() -> None:
    audit = five_days(96.0, "hold").audit
    assert (audit.short, audit.overtime) == (pytest.approx(0.0), pytest.approx(16.0))
    assert five_days(96.0, "warn").audit.warnings == ()


def test_nobody_is_called_in_where_rules_are_held() -> None:
    def on_saturday(mode: str) -> float:
        return one_stage(
            stage("Work", 6, hours=90.0),
            [TWO],
            {"call_in": True},
            patterns=(FIVE_ON,),
            skills=(replace(MECHANIC, overtime_cap=1.0), CERTIFIER),
            working_time_rules="working-time-directive",
            working_time_mode=mode,
        ).audit.short

    assert on_saturday("hold") == pytest.approx(10.0)
    assert on_saturday("warn") == pytest.approx(0.0)


@pytest.mark.parametrize(
    ("limit", "missing"), [(OvertimeLimit("Crew Mechanic", range(0, 3), 3), 2), (None, 0)]
)
def test_a_limit_holds_for_all_its_days_together(limit: OvertimeLimit | None, missing: int) -> None:
    """Two people may add 2 on each of four days; in the first three a head has room for 3."""
    crews = [replace(shift, extra=2) for shift in daily({"Mechanic": 2}, 4)]
    asked = 4 * 2 * (HEAD_DAY + 2) - 4
    work = replace(task("Work", spans(4, 4)), hundredths={"Mechanic": asked})
    caps = (Caps("Mechanic", range(0, 4), overtime=99, contract=0),)
    overtime_limits = (limit,) if limit is not None else ()
    solved = proven(problem(4, [work], crews, caps=caps, overtime_limits=overtime_limits))
    assert value(solved, "overload") == missing


def test_the_people_of_a_room_are_the_fewest_on_any_of_its_days() -> None:
    """One of three is away on day 1: two heads share the limit."""
    crews = [replace(shift, extra=4) for shift in daily({"Mechanic": 3}, 2)]
    crews[1] = replace(crews[1], heads=2)
    work = replace(task("Work", spans(2, 2)), hundredths={"Mechanic": 5 * HEAD_DAY + 9})
    caps = (Caps("Mechanic", range(0, 2), overtime=99, contract=0),)
    overtime_limits = (OvertimeLimit("Crew Mechanic", range(0, 2), 4),)
    solved = proven(problem(2, [work], crews, caps=caps, overtime_limits=overtime_limits))
    assert value(solved, "overload") == 1
