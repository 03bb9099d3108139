"""What a crew plan is good at, in order: hours met, overtime, crews an aircraft, level days."""

from collections import Counter
from dataclasses import replace

import pytest

from capacity.crews.crew_settings import CrewSettings
from capacity.crews.model.solve import Solved, solve
from capacity.crews.problem import Caps, CrewProblem, CrewShift
from tests.crews.problems import HEAD_DAY, daily, problem, proven, spans, task, value

GOALS = ["overload", "overtime", "crew-aircraft pairs", "levelling index"]


def heads_by_day(solved: Solved, of: CrewProblem) -> list[int]:
    """Return the people at work on each day."""
    total: Counter[int] = Counter()
    for (number, _, _), heads in solved.choice.heads.items():
        total[of.shifts[number].day] += heads
    return [total[day] for day in range(of.days)]


def with_overtime(heads: int, days: int) -> tuple[CrewShift, ...]:
    return tuple(replace(shift, extra=2) for shift in daily({"Mechanic": heads}, days))


CAP = (Caps("Mechanic", range(0, 9), overtime=999, contract=0),)


def test_the_goals_are_reached_in_order_and_proven() -> None:
    one = problem(1, [task("Work", spans(1, 1), {"Mechanic": 2})], daily({"Mechanic": 3}, 1))
    solved = proven(one)
    assert [reached.goal for reached in solved.goals] == GOALS
    assert [reached.value for reached in solved.goals] == [0, 0, 1, 4]


@pytest.mark.parametrize(
    ("asked", "short", "overtime"), [(2, 0, 0), (3, 0, 0), (30 / 8, 0, 6), (4, 2, 6)]
)
def test_overtime_only_where_the_shift_does_not_do(asked: float, short: int, overtime: int) -> None:
    """Three people give 24 and 6 of overtime."""
    work = replace(task("Work", spans(1, 1)), hundredths={"Mechanic": round(asked * HEAD_DAY)})
    solved = proven(problem(1, [work], with_overtime(3, 1), caps=CAP))
    assert value(solved, "overload") == short
    assert value(solved, "overtime") == overtime


def test_a_stage_moves_rather_than_that_people_stay_longer() -> None:
    """On day 0 the other stage has the three people; day 1 is free."""
    fixed = task("Fixed", spans(1, 1), {"Mechanic": 3})
    free = task("Free", spans(2, 1), {"Mechanic": 3})
    solved = proven(problem(2, [fixed, free], with_overtime(3, 2), caps=CAP))
    assert (value(solved, "overload"), value(solved, "overtime")) == (0, 0)
    assert solved.choice.span == [0, 1]


def test_people_stay_longer_before_others_are_called_in_or_hours_are_short() -> None:
    called = CrewShift("Off", 0, "Day", False, False, ("Mechanic",), 1, HEAD_DAY, 0, True)
    work = replace(task("Work", spans(1, 1)), hundredths={"Mechanic": 30})
    solved = proven(problem(1, [work], [*with_overtime(2, 1), called], caps=CAP))
    # 16 regular, 4 of those who stay, 8 of the one called in; 2 are nobody's.
    assert value(solved, "overload") == 2
    assert value(solved, "overtime") == 12


def test_two_crews_and_two_aircraft_make_two_pairs() -> None:
    """Each crew could serve both aircraft on all days, and does not."""
    tasks = [task(f"Work on {check}", spans(3, 3), {"Mechanic": 2}, check=check) for check in "AB"]
    crews = [replace(s, crew=name) for name in ("One", "Two") for s in daily({"Mechanic": 2}, 3)]
    asked = problem(3, tasks, crews)
    solved = proven(asked)
    assert value(solved, "crew-aircraft pairs") == 2
    pairs = {(asked.shifts[n].crew, check) for n, check, _ in solved.choice.heads}
    assert sorted(name for name, _ in pairs) == ["One", "Two"]
    assert sorted(check for _, check in pairs) == ["A", "B"]


def test_a_crew_changes_aircraft_where_hours_would_be_short_otherwise() -> None:
    """A asks 3 heads and B 1, of two crews of two."""
    tasks = [
        task("Work on A", spans(2, 2), {"Mechanic": 3}, check="A"),
        task("Work on B", spans(2, 2), {"Mechanic": 1}, check="B"),
    ]
    crews = [replace(s, crew=name) for name in ("One", "Two") for s in daily({"Mechanic": 2}, 2)]
    solved = proven(problem(2, tasks, crews))
    assert value(solved, "overload") == 0
    assert value(solved, "crew-aircraft pairs") == 3


def test_a_crew_changes_aircraft_rather_than_that_people_stay_longer() -> None:
    work = [
        replace(task(f"Work on {c}", spans(1, 1), check=c), hundredths={"Mechanic": h})
        for c, h in (("A", 18), ("B", 8))
    ]
    crews = [replace(s, crew=n) for n in ("One", "Two") for s in with_overtime(2, 1)]
    solved = proven(problem(1, work, crews, caps=CAP))
    assert value(solved, "overtime") == 0
    assert value(solved, "crew-aircraft pairs") == 3


@pytest.mark.parametrize(
    ("head_days", "days", "level"), [(6, 3, [2, 2, 2]), (7, 3, [2, 2, 3]), (4, 5, [0, 1, 1, 1, 1])]
)
def test_the_days_of_a_stage_are_level(head_days: int, days: int, level: list[int]) -> None:
    work = replace(task("Work", spans(days, days)), hundredths={"Mechanic": head_days * HEAD_DAY})
    asked = problem(days, [work], daily({"Mechanic": 9}, days))
    solved = proven(asked)
    assert sorted(heads_by_day(solved, asked)) == level
    assert value(solved, "levelling index") == sum(heads**2 for heads in level)


def test_stages_move_to_make_the_days_level() -> None:
    """Three stages of one day and a long one of one head: 2, 2, 2, not 4, 1, 1."""
    long = task("Long", spans(3, 3), {"Mechanic": 1}, max_heads=1)
    short = [task(f"Short {n}", spans(3, 1), {"Mechanic": 1}) for n in range(3)]
    asked = problem(3, [long, *short], daily({"Mechanic": 9}, 3))
    solved = proven(asked)
    assert heads_by_day(solved, asked) == [2, 2, 2]
    assert sorted(solved.choice.span[1:]) == [0, 1, 2]


def test_each_skill_is_level_by_itself() -> None:
    """Mechanics 2, 2 and certifiers 1, 1: 4 + 4 + 1 + 1."""
    work = task("Work", spans(2, 2), {"Mechanic": 2, "Certifier": 1})
    asked = problem(2, [work], daily({"Mechanic": 9, "Certifier": 9}, 2))
    assert value(proven(asked), "levelling index") == 10


def test_a_crew_stays_with_its_aircraft_before_days_are_level() -> None:
    """One crew alone makes day 0 and 1 uneven; two would be more pairs."""
    one, two = daily({"Mechanic": 2}, 1)[0], daily({"Mechanic": 2}, 2)[1]
    crews = [replace(one, crew="One"), replace(two, crew="Two")]
    work = task("Work", spans(2, 2), {"Mechanic": 1})
    asked = problem(2, [work], crews)
    solved = proven(asked)
    assert value(solved, "crew-aircraft pairs") == 1
    assert sorted(heads_by_day(solved, asked)) == [0, 2]


def test_more_than_forty_heads_are_drawn_by_chords() -> None:
    """100 people a day in pieces of three: at 51 and 51 both stand at the end of a piece."""
    work = replace(task("Work", spans(2, 2)), hundredths={"Mechanic": 102 * HEAD_DAY})
    asked = problem(2, [work], daily({"Mechanic": 100}, 2))
    solved = proven(asked)
    assert value(solved, "levelling index") == 2 * 51**2


def test_a_plan_is_found_where_the_slot_plan_has_two_stages_at_once() -> None:
    """The first span of both is day 0, but one waits for the other."""
    tasks = [task("One", spans(2, 1), {"Mechanic": 1})]
    tasks.append(task("Two", spans(2, 1), {"Mechanic": 1}, after=(0,)))
    solved = proven(problem(2, tasks, daily({"Mechanic": 1}, 2)))
    assert solved.choice.span == [0, 1]
    assert value(solved, "overload") == 0


def test_there_is_no_plan_where_stages_cannot_stand() -> None:
    """Three days hold a stage of two and one that waits for it; two days do not."""
    for days, found in ((3, True), (2, False)):
        tasks = [
            task("One", spans(days, 1), {"Mechanic": 1}),
            task("Two", spans(days, 2), {"Mechanic": 1}, after=(0,)),
        ]
        asked = problem(days, tasks, daily({"Mechanic": 1}, days))
        solved = solve(asked, CrewSettings(seconds=10.0, workers=1))
        assert (solved is not None) is found


def test_bought_hours_are_taken_before_hours_are_short_up_to_the_cap() -> None:
    work = replace(task("Work", spans(1, 1)), hundredths={"Mechanic": 30})
    caps = (Caps("Mechanic", range(0, 1), overtime=0, contract=10),)
    solved = proven(problem(1, [work], daily({"Mechanic": 2}, 1), caps=caps))
    assert value(solved, "overload") == 4
    assert solved.choice.bought == {(0, "Mechanic"): 10}
