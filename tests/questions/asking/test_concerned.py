"""Who must be told of a change, by hand."""

from dataclasses import replace

from capacity.facts import (
    Base,
    ExtraReason,
    ExtraWork,
    Package,
    Pattern,
    Shop,
    ShopLoop,
    Skill,
    Stage,
)
from capacity.plans.plan import Placement, StageDays
from capacity.questions.asking.concerned import Concerned, concerned_by
from tests.reference import stories
from tests.reference.stories import bays, day, visit

STAGES = (
    Stage("Open", "maintenance", 1, {"Mechanic": 8.0}),
    Stage("Repair", "maintenance", 2, {"Mechanic": 8.0, "Avionics": 4.0}),
    Stage("Close", "maintenance", 1, {"Mechanic": 8.0}),
)
PLAIN = Skill("Mechanic", 50.0, 0.0, 70.0, 0.0)


def base() -> Base:
    """A crew for each way not to be concerned, and one for each way to be."""
    usual = stories.base(
        bays(2),
        visit("A", 4, 0, 20, package="whole", customer="Marrow Airways"),
        skills=(PLAIN, replace(PLAIN, name="Avionics", licence="B2")),
    )
    (crew,) = usual.crews
    return usual.replace(
        packages=(Package("whole", STAGES),),
        patterns=(*usual.patterns, Pattern("Mondays", ("Day", *[None] * 6))),
        crews=(
            crew,
            replace(crew, name="Radio", skills=("Avionics",)),
            replace(crew, name="Mondays", pattern="Mondays", starts_cycle_on=day(0)),
            replace(crew, name="Other types", types=frozenset({"Quad"})),
            replace(crew, name="Gone", last=day(0)),
        ),
        shops=(Shop("Wheels", 2.0),),
        shop_loops=(ShopLoop("whole", "Wheels", 4, "Open", "Close"),),
    )


def stay(bay: str, opens: int, repairs: int, closes: int) -> list[Placement]:
    stages = (
        StageDays("Open", day(opens), day(opens + 1)),
        StageDays("Repair", day(repairs), day(repairs + 2)),
        StageDays("Close", day(closes), day(closes + 1)),
    )
    return [Placement("A", bay, "Open", day(opens), day(closes + 1), stages)]


def test_a_check_that_moves_concerns_all_who_work_on_it_before_or_after() -> None:
    told = concerned_by("A", stay("B1", 1, 2, 4), stay("B2", 4, 5, 7), base())
    assert told == Concerned(
        customer="Marrow Airways",
        bays=("B1", "B2"),
        crews=("Day crew", "Radio", "Mondays"),  # day 7 is a Monday
        shops=("Wheels",),
        licences=("B2 (Avionics)",),
    )


def test_extra_work_of_one_check_concerns_its_crews() -> None:
    extra = ExtraWork("A", "Open", "Avionics", 5.0, ExtraReason.DEFERRED_DEFECT)
    more = base().replace(extra_work=(extra,))
    told = concerned_by("A", stay("B1", 1, 3, 6), stay("B1", 2, 3, 6), more)
    assert set(told.crews) == {"Day crew", "Radio"}
    without = concerned_by("A", stay("B1", 1, 3, 6), stay("B1", 2, 3, 6), base())
    assert set(without.crews) == {"Day crew"}


def test_one_stage_that_moves_concerns_its_crews_alone_and_no_customer() -> None:
    told = concerned_by("A", stay("B1", 1, 2, 6), stay("B1", 1, 3, 6), base())
    assert told == Concerned(crews=("Day crew", "Radio"), licences=("B2 (Avionics)",))


def test_another_bay_alone_is_no_news_for_the_customer() -> None:
    told = concerned_by("A", stay("B1", 1, 2, 4), stay("B2", 1, 2, 4), base())
    assert (told.customer, told.bays) == ("", ("B1", "B2"))


def test_a_cancelled_check_is_looked_up_in_the_workbook_before() -> None:
    gone = base().replace(checks=())
    told = concerned_by("A", stay("B1", 1, 2, 4), [], gone, base())
    assert (told.customer, told.bays, told.is_known) == ("Marrow Airways", ("B1",), True)
    unknown = concerned_by("A", stay("B1", 1, 2, 4), [], gone)
    assert unknown == Concerned(bays=("B1",), is_known=False)


def test_nothing_that_differs_concerns_nobody() -> None:
    same = stay("B1", 1, 2, 4)
    assert concerned_by("A", same, same, base()) == Concerned()
