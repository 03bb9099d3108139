"""Which cautions apply, why, and that a guess is called one."""

from dataclasses import replace
from datetime import time

import pytest

from capacity.cautions import catalogue
from capacity.cautions.activities import SAYS, SUGGESTS, WORDS, Activity, found_in, signs_of
from capacity.cautions.applying import cautions_of_base, cautions_of_plan, cautions_of_stage
from capacity.cautions.caution import AppliedCaution, SourceStatus
from capacity.facts import Crew, Pattern, Shift, Stage
from tests.plans import stories
from tests.plans.stories import FIRST_DAY, MECHANIC, package, placed, stage


def ids(found: tuple[AppliedCaution, ...]) -> list[str]:
    """Return the ids of cautions."""
    return [applied.caution.id for applied in found]


def of(name: str, works_nights: bool = False, **changes: object) -> tuple[AppliedCaution, ...]:
    """Return the cautions of a stage of maintenance."""
    return cautions_of_stage(replace(stage(name, 1), **changes), works_nights)


def test_an_ordinary_stage_calls_for_none():
    for name in ("Opening up", "Inspection", "Rectification", "Closing up", "Release"):
        assert of(name, works_nights=True) == ()


def test_jacks_are_suggested_by_the_equipment_and_the_caution_says_it_is_a_guess():
    (applied,) = of("Restoration", equipment=("Jack set A",))
    assert applied.caution is catalogue.JACKS
    assert applied.is_guess
    assert applied.why == (
        "the stage's name or equipment suggests it: 'jack' in the equipment 'Jack set A'"
    )
    assert applied.stage == "Restoration"


def test_what_the_workbook_says_is_no_guess():
    (painted,) = of("Livery", work="paint")
    assert (painted.caution, painted.is_guess) == (catalogue.PAINTING, False)
    assert painted.why.startswith(SAYS)
    (alone,) = of("Swing of doors", alone=True)
    assert (alone.caution, alone.is_guess) == (catalogue.ALONE, False)


def test_the_work_is_surer_than_the_name():
    (painted,) = of("Paint", work="paint")
    assert not painted.is_guess


def test_stripping_is_of_paint_where_the_work_is_painting():
    painted = ["painting", "paint removal"]
    assert ids(of("Strip", work="paint")) == painted
    assert [applied.is_guess for applied in of("Strip", work="paint")] == [False, True]
    assert ids(of("Strip", work="maintenance")) == []


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("Gear swing", ["gear swing"]),
        ("GEAR-SWING on jacks", ["jacks", "gear swing"]),
        ("Fuel tank entry", ["fuel tank entry"]),
        ("Welding of brackets", ["hot work"]),
        ("Strip and repaint", ["painting", "paint removal"]),
        ("X-ray of frames", ["radiography"]),
        ("Engine run", ["engine run"]),
        ("Tail dock work", ["working at height"]),
        ("Hydraulic test", ["powered controls"]),
    ],
)
def test_names_suggest(name, expected):
    found = of(name)
    assert ids(found) == expected
    assert all(applied.is_guess and applied.why.startswith(SUGGESTS) for applied in found)


@pytest.mark.parametrize(
    "name",
    [
        "Life jackets",
        "Hijack kit",
        "Water tank",
        "Docket check",
        "Painted parts list",
        "Stripping of cabin",
        "Engine running list",
        "Swing of the compass",
        "",
        "---",
    ],
)
def test_words_within_words_and_other_trades_suggest_nothing(name):
    assert of(name) == ()


def test_critical_work_needs_another_person_and_by_night_alert_ones():
    by_day = ["independent inspection", "same task twice"]
    assert ids(of("Controls installation", critical=True)) == by_day
    at_night = of("Controls installation", works_nights=True, critical=True)
    assert ids(at_night) == [*by_day, "alertness"]
    assert not any(applied.is_guess for applied in at_night)
    assert ids(of("Controls", works_nights=True, critical=True, by_night=False)) == by_day


def shifts(*worked: Shift, **changes: object):
    """A base whose one crew works the shifts in turn."""
    return stories.base(
        shifts=worked,
        patterns=(Pattern("Daily", tuple(shift.name for shift in worked)),),
        **changes,
    )


def test_of_a_base_on_one_day_shift_without_overtime_only_the_planning_aid_is_said():
    base = shifts(Shift("Day", time(6), 12.0), skills=(replace(MECHANIC, overtime_cap=0.0),))
    assert ids(cautions_of_base(base)) == ["planning aid"]


def test_nights_long_shifts_overtime_and_handovers_are_said():
    base = shifts(Shift("Day", time(6), 12.5), Shift("Night", time(18), 11.0, night=True))
    found = cautions_of_base(base)
    assert ids(found) == ["planning aid", "handover", "night work", "long shift", "overtime"]
    assert found[3].why == "the workbook says: the shift Day has 12.5 hours"


def test_a_shift_that_nobody_works_calls_for_nothing():
    base = stories.base(
        shifts=(Shift("Day", time(6), 10.0), Shift("Night", time(18), 14.0, night=True))
    )
    assert ids(cautions_of_base(base)) == ["planning aid", "overtime"]
    idle = Crew("Nobody", ("Mechanic",), 0, "Nights", FIRST_DAY)
    base = base.replace(
        crews=(*base.crews, idle), patterns=(*base.patterns, Pattern("Nights", ("Night",)))
    )
    assert ids(cautions_of_base(base)) == ["planning aid", "overtime"]


def test_those_of_a_plan_name_check_and_stage():
    work = package(stage("Open", 2), replace(stage("Gear swing", 1, "Open"), alone=True))
    base = stories.base(replace(stories.check(), package="Heavy"), packages=(work,))
    plan = stories.plan(placed("C1", 5, ("Open", 5, 7), ("Gear swing", 7, 8)))
    found = cautions_of_plan(plan, base)
    told = [(a.check, a.stage, a.caution.id) for a in found]
    assert told == [
        (None, None, "planning aid"),
        (None, None, "overtime"),
        ("C1", "Gear swing", "gear swing"),
        ("C1", "Gear swing", "alone"),
    ]


def test_every_caution_has_a_source_and_a_status_and_an_id_of_its_own():
    assert len({caution.id for caution in catalogue.CATALOGUE}) == len(catalogue.CATALOGUE)
    for caution in catalogue.CATALOGUE:
        assert caution.when
        assert caution.text.endswith(".")
        assert caution.source
        assert caution.status in SourceStatus


@pytest.mark.parametrize(
    ("caution", "figures"),
    [
        # 29 CFR 1910.146(b), 29 CFR 1910.252(a)(2)(iii), 29 CFR 1910.1026(b), (c) and
        # 29 CFR 1910.28(b)(1)(i), all seen, the last in a secondary source
        (catalogue.FUEL_TANK, ("10 %", "19.5 %", "23.5 %", "oxygen first")),
        (catalogue.HOT_WORK, ("35 ft (11 m)", "30 minutes")),
        (catalogue.PAINTING, ("5 ug/m3", "2.5 ug/m3")),
        (catalogue.HEIGHT, ("4 ft (1.2 m)",)),
        # UK CAA Paper 2002/06, from memory
        (catalogue.LONG_SHIFT, ("12 hours",)),
    ],
)
def test_the_published_limits_stand_in_the_texts(caution, figures):
    for figure in figures:
        assert figure in caution.text


def test_each_word_of_the_table_is_found_as_it_stands_in_a_name():
    for activity, words in WORDS.items():
        for word in words:
            assert found_in(f"(A) {word.upper()}, left", [word]) == word
            assert activity in [sign.activity for sign in signs_of(Stage(word, "x", 1))]


def test_every_activity_has_words():
    assert set(WORDS) == set(Activity)
