"""Man-hours that there are and could be bought, by hand.

Everybody works ten hours on each of seven days: 70 man-hours a head and week.
"""

from dataclasses import replace

import numpy as np
import pytest

from capacity.facts import Absence, AircraftType, Base, Crew, Employment, Pattern, Skill
from capacity.labour.available import available_hours, crew_hours
from capacity.labour.calendar import calendar_of
from capacity.labour.kinds import Kind, kinds_of
from capacity.labour.sharing import share_out
from capacity.labour.supply import Supply
from tests.bases import FIRST_DAY, TWIN, day
from tests.plans.stories import base, check

MECHANIC = Skill("Mechanic", 60.0, 0.2, 80.0, 0.25)
PAINTER = Skill("Painter", 50.0, 0.1, 40.0, 0.5)
WIDE = AircraftType("Wide", 60.0, 60.0, 17.0)
BOTH_TYPES = frozenset({"Twin", "Wide"})


def crew(name: str, *skills: str, heads: int = 1, types: frozenset[str] = frozenset(), **more):
    return Crew(name, skills, heads, "Daily", FIRST_DAY, types=types, **more)


def agency(name: str, *skills: str, **more) -> Crew:
    return crew(name, *skills, employment=Employment.CONTRACT, **more)


def hangar(*crews: Crew, **changes: object) -> Base:
    """Two skills and two types of aircraft."""
    usual = base(check(), skills=(MECHANIC, PAINTER), types=(TWIN, WIDE), crews=crews)
    return usual.replace(**changes)


def supply(*crews: Crew, **changes: object) -> Supply:
    of = hangar(*crews, **changes)
    return available_hours(of, calendar_of(of))


def hours_of(name: str, of: Base) -> list[float]:
    return crew_hours(of, calendar_of(of))[name][:8].tolist()


def test_absences_count_on_both_their_days_and_never_below_nobody() -> None:
    """Two heads, one away from Tuesday to Wednesday, three on Thursday, and one from before on."""
    away = (
        Absence("M", day(1), day(2), 1),
        Absence("M", day(3), day(3), 3),
        Absence("M", day(-9), day(0), 1),
        Absence("M", day(-9), day(-3), 2),
        Absence("P", day(5), day(5), 1),
    )
    of = hangar(crew("M", "Mechanic", heads=2), crew("P", "Painter"), absences=away)
    assert hours_of("M", of) == [10, 10, 10, 0, 20, 20, 20, 20]
    assert hours_of("P", of) == [10, 10, 10, 10, 10, 0, 10, 10]


def test_the_roster_follows_its_own_cycle_from_its_own_day() -> None:
    """Two days on and one off, from day 1 on; so day 0 is the day off before it."""
    pattern = Pattern("Two", ("Day", "Day", None))
    of = hangar(replace(crew("M", "Mechanic"), pattern="Two", starts_cycle_on=day(1)))
    found = hours_of("M", of.replace(patterns=(*of.patterns, pattern), productivity=0.5))
    assert found == [0, 5, 5, 0, 5, 5, 0, 5]


def test_regular_hours_and_caps_are_those_of_employed_people_of_the_skill() -> None:
    """Three mechanics 210 h, one painter 70 h; contract people carry no cap.

    Two of them add 140 h to the mechanics' contract cap of 25 %.
    """
    found = supply(
        crew("M", "Mechanic", heads=3), crew("P", "Painter"), agency("A", "Mechanic", heads=2)
    )
    assert found.regular[0].tolist() == [210, 70]
    assert found.overtime_cap[0] == pytest.approx([42, 7])
    assert found.contract_cap[0] == pytest.approx([52.5 + 140, 35])


def test_prices_and_widths_of_what_is_bought_the_cheaper_first() -> None:
    """Mechanics: overtime at 60, contract at 80. Painters: contract at 40, overtime at 50."""
    found = supply(crew("M", "Mechanic", heads=3), crew("P", "Painter"))
    widths, prices = found.tiers
    assert prices[:, 0, :].T.tolist() == [[60, 80, 500], [40, 50, 500]]
    assert pytest.approx(np.array([[42, 52.5], [35, 7]])) == widths[:2, 0, :].T
    assert np.isinf(widths[2]).all()
    assert not found.is_shared.any()
    assert found.families == ()


def test_a_crew_of_two_skills_is_a_pool_of_which_its_own_skill_carries_the_caps() -> None:
    """Both's own skill is the painters': 70 h x 10 % are 7 h, and the mechanics' cap is 14 h."""
    found = supply(crew("M", "Mechanic"), crew("Both", "Painter", "Mechanic"))
    assert found.regular[0].tolist() == [70, 0]
    assert found.overtime_cap[0] == pytest.approx([14, 7])
    pool = found.pool_names.index("Both")
    assert found.pool_hours[pool][0] == 70
    assert found.pool_price[pool].tolist() == [0, 0]
    assert found.is_shared.tolist() == [True, True]
    assert [family.tolist() for family in found.families] == [[0, 1]]


def test_a_contract_crew_of_two_skills_costs_what_each_skill_pays() -> None:
    found = supply(crew("M", "Mechanic"), agency("A", "Painter", "Mechanic"))
    pool = found.pool_names.index("A")
    assert found.pool_price[pool].tolist() == [80, 40]
    assert found.contract_cap[0] == pytest.approx([17.5, 0])
    assert found.pool_hours[pool][0] == 70


def test_crews_alike_are_one_pool() -> None:
    found = supply(crew("One", "Mechanic", "Painter"), crew("Two", "Painter", "Mechanic", heads=2))
    pool = found.pool_names.index("One, Two")
    assert found.pool_hours[pool][0] == 210
    assert found.overtime_cap[0] == pytest.approx([14, 14])


def test_types_make_kinds_of_work_that_crews_tell_apart() -> None:
    """One crew may touch the twin alone: mechanics' work on the twin and on the wide differ."""
    of = hangar(crew("T", "Mechanic", types=frozenset({"Twin"})), crew("M", "Mechanic"))
    twin, wide, paint = kinds_of(of)
    assert twin == Kind("Mechanic", frozenset({"Twin"}))
    assert wide == Kind("Mechanic", frozenset({"Wide"}))
    assert paint == Kind("Painter", BOTH_TYPES)
    narrow, all_types = of.crews
    assert [kind.is_given_by(narrow) for kind in (twin, wide, paint)] == [True, False, False]
    assert [kind.is_given_by(all_types) for kind in (twin, wide, paint)] == [True, True, False]
    both = replace(narrow, types=BOTH_TYPES)
    assert Kind("Mechanic", frozenset({"Wide"})).is_given_by(both)
    assert not Kind("Mechanic", BOTH_TYPES).is_given_by(narrow)


def test_what_a_crew_of_one_type_has_is_regular_there_alone() -> None:
    found = supply(crew("T", "Mechanic", types=frozenset({"Twin"})), crew("M", "Mechanic"))
    assert found.regular[0].tolist() == [70, 0, 0]
    assert found.pool_hours[found.pool_names.index("M")][0] == 70
    assert found.skill_of.tolist() == [0, 0, 1]
    assert found.is_shared.tolist() == [True, True, False]


def test_contract_people_of_one_type_are_no_part_of_the_cap_of_the_skill() -> None:
    """What they have is theirs alone; the cap stays 25 % of 70 h, and holds for both types."""
    found = supply(agency("A", "Mechanic", types=frozenset({"Twin"})), crew("M", "Mechanic"))
    assert found.contract_cap[0] == pytest.approx([17.5, 0])
    pool = found.pool_names.index("A")
    assert found.pool_price[pool].tolist() == [80, np.inf, np.inf]


def test_a_base_without_types_has_one_kind_a_skill() -> None:
    of = hangar(crew("M", "Mechanic"), types=())
    assert kinds_of(of) == (Kind("Mechanic", frozenset()), Kind("Painter", frozenset()))


def test_hours_before_the_first_day_are_not_there() -> None:
    """The plan begins on Wednesday: 50 of 70 h are left in its first week."""
    of = hangar(crew("M", "Mechanic"), first_day=day(2))
    found = available_hours(of, calendar_of(of))
    assert found.regular[:2, 0].tolist() == [50, 70]


def bought(found: Supply, *excess: float) -> dict[str, list[float]]:
    """Return what each pool gives to each kind of work in the first week."""
    asked = np.zeros((found.weeks, found.kinds))
    asked[0] = excess
    shared = share_out(found, asked)
    assert not shared[:, 1:].any()
    return {
        name: pytest.approx(hours.tolist())
        for name, hours in zip(found.pool_names, shared[:, 0], strict=True)
        if hours.any()
    }


def test_what_is_short_is_bought_tier_by_tier() -> None:
    """Of 100 h: 42 of overtime, 52.5 of contract, 5.5 nobody has. Of 40 h of paint: 35 and 5."""
    found = supply(crew("M", "Mechanic", heads=3), crew("P", "Painter"))
    assert bought(found, 100, 40) == {
        "overtime of Mechanic": [42, 0],
        "contract of Mechanic": [52.5, 0],
        "overload of Mechanic": [5.5, 0],
        "contract of Painter": [0, 35],
        "overtime of Painter": [0, 5],
    }


def test_a_pool_goes_where_it_saves_most() -> None:
    """Both has 70 h: 50 for mechanics, whose hours cost 60 at least, 20 for painters, 50 left.

    Contract painters are none, since nobody's own skill is paint but Both's: caps 35 and 7 h.
    """
    found = supply(crew("M", "Mechanic"), crew("Both", "Painter", "Mechanic"))
    assert bought(found, 50, 62) == {
        "Both": [50, 20],
        "contract of Painter": [0, 35],
        "overtime of Painter": [0, 7],
    }


def test_families_are_shared_out_by_themselves() -> None:
    """Mechanics and painters share; cleaners have their own tiers."""
    cleaner = Skill("Cleaner", 30.0, 0.1, 45.0, 0.0)
    found = supply(
        crew("Both", "Painter", "Mechanic"),
        crew("C", "Cleaner"),
        skills=(MECHANIC, PAINTER, cleaner),
    )
    assert [family.tolist() for family in found.families] == [[0, 1]]
    assert bought(found, 30, 0, 8) == {
        "Both": [30, 0, 0],
        "overtime of Cleaner": [0, 0, 7],
        "overload of Cleaner": [0, 0, 1],
    }
    assert bought(found, 0, 0, 0) == {}


def test_weeks_and_families_are_shared_out_each_by_itself() -> None:
    """Two crews of two skills each, in two families; a crew has 70 h in every week.

    In the third week the first family asks 60 and 10 h, in the fifth 80 h of one skill; then the
    second family asks 30 and 50 h. The overtime caps are 14 h of mechanics and 7 h of cleaners.
    """
    cleaner, sealer = Skill("Cleaner", 30.0, 0.1, 45.0, 0.0), Skill("Sealer", 35.0, 0.1, 55.0, 0.0)
    found = supply(
        crew("Both", "Mechanic", "Painter"),
        crew("Two", "Cleaner", "Sealer"),
        skills=(MECHANIC, PAINTER, cleaner, sealer),
    )
    assert [family.tolist() for family in found.families] == [[0, 1], [2, 3]]
    asked = np.zeros((found.weeks, found.kinds))
    asked[2] = 60, 10, 0, 0
    asked[4] = 80, 0, 30, 50
    shared = dict(zip(found.pool_names, share_out(found, asked), strict=True))
    assert shared["Both"][[2, 4]] == pytest.approx(np.array([[60, 10, 0, 0], [70, 0, 0, 0]]))
    assert shared["overtime of Mechanic"][4, 0] == pytest.approx(10)
    # Of 80 h 70 are there; 7 h of overtime of the cleaners, whose hours are the cheaper; 3 h lack.
    assert shared["Two"][4].sum() == pytest.approx(70)
    assert shared["overtime of Cleaner"][4, 2] == pytest.approx(7)
    assert shared["overload of Cleaner"][4].sum() + shared["overload of Sealer"][
        4
    ].sum() == pytest.approx(3)
    assert np.stack(list(shared.values())).sum(axis=0) == pytest.approx(asked)
