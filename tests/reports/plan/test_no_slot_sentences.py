"""Each way of being refused has its sentence."""

from dataclasses import replace

from capacity.plans.outcome import DearHours, Refusal
from capacity.reports.plan.no_slot_sentences import refusal_sentences
from tests.reference import stories
from tests.reference.stories import bays, day

BASE = stories.base(bays(1))
BESIDE = Refusal(
    check="O",
    price=1000.0,
    needed_price=1500.0,
    bay="B1",
    in_day=day(0),
    out_day=day(7),
    labour_money=1200.0,
    dearest_hours=(DearHours("2027-W01", "Mechanic", 30.0, 1200.0),),
)


def test_what_it_would_have_had_to_pay_and_for_which_hours() -> None:
    told = refusal_sentences(BESIDE, BASE)
    assert told.startswith("its price is 1,000 EUR; in B1 from Mon 4 Jan 2027 to Mon 11 Jan 2027")
    assert "it costs 1,500 EUR, 1,200 EUR of it for man-hours" in told
    assert "(30 h of Mechanic in 2027-W01)" in told
    assert told.endswith("This is the lowest cost found, not proven to be the lowest.")


def test_who_would_have_to_move_or_be_refused() -> None:
    told = refusal_sentences(replace(BESIDE, moved=("A", "B", "C"), given_up=("P",)), BASE)
    assert "A, B and C would have to move for it. P would not be taken with it." in told


def test_who_stands_in_its_places() -> None:
    nowhere = Refusal("O", 1000.0, None, in_the_way=("A", "B"))
    assert refusal_sentences(nowhere, BASE) == (
        "no slot was found for it without days past Latest in. "
        "Most of its slots are taken by A and B."
    )


def test_one_that_is_not_explained_is_told_all_the_same() -> None:
    assert "cost more than it earns" in refusal_sentences(None, BASE)
