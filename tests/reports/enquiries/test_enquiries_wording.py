"""What is said about enquiries, from answers made by hand."""

import io
from dataclasses import replace

import openpyxl
import pytest

from capacity.facts import Status
from capacity.plans.plan import Placement, Plan
from capacity.questions.asking.differences import Costs, Move
from capacity.questions.enquiries.values import (
    Combination,
    CombinationAnswer,
    EnquiryAnswer,
    Slot,
    WithMoves,
)
from capacity.reports.enquiries.text import enquiries_in_words
from capacity.reports.enquiries.wording import (
    Verdict,
    better_by_itself,
    lowest_price,
    move_in_words,
    set_in_words,
    set_proof,
    verdict,
    verdict_in_words,
)
from capacity.reports.enquiries.workbook import enquiries_workbook
from tests.plans.stories import placed
from tests.reference import stories
from tests.reference.stories import bays, day, visit

BASE = stories.base(bays(1), visit("B", 10, 5, 15))
Stay = tuple[Placement, ...]


def no_more(money: float, **others: float) -> Costs:
    return Costs(overtime=money, contract=0.0, overload=0.0, early=0.0, late=0.0, **others)


def answer_of(
    price: float,
    alone: float | None,
    moved: float | None = None,
    least: float | None = None,
    better_without: float = 0.0,
    proven: bool = False,
) -> EnquiryAnswer:
    """Return an answer by hand: what it costs with nobody moved, and with B moved."""
    place = placed("O", 5)
    slots = (
        ()
        if alone is None
        else (Slot("O", ("B1",), day(5), day(15), "normal", 0, 0, no_more(alone), (place,)),)
    )
    with_moves = None
    if moved is not None:
        moves = (Move("B", (placed("B", 5),), (placed("B", 15),)),)
        with_moves = WithMoves(
            check="O",
            plan=Plan((place, placed("B", 15))),
            costs=no_more(moved - better_without),
            break_even=moved,
            least_break_even=least,
            proven=proven,
            better_without=better_without,
            hours_more=(),
            moves=moves,
        )
    enquiry = visit("O", 10, 5, 5, status=Status.OPTION, price=price)
    return EnquiryAnswer(enquiry, slots, (), (), ("B",), with_moves)


@pytest.mark.parametrize(
    ("price", "alone", "moved", "expected"),
    [
        (100.0, 100.0, None, Verdict.PAYS),
        (99.999, 100.0, None, Verdict.PAYS),
        (99.9, 100.0, None, Verdict.PAYS_NOT),
        (100.0, 100.0, 40.0, Verdict.PAYS),
        (99.0, 100.0, 40.0, Verdict.PAYS_WITH_MOVES),
        (39.0, 100.0, 40.0, Verdict.PAYS_NOT),
        (40.0, None, 40.0, Verdict.PAYS_WITH_MOVES),
        (0.0, 100.0, 40.0, Verdict.NO_PRICE),
        (100.0, None, None, Verdict.NO_SLOT_KNOWN),
    ],
)
def test_a_verdict_is_a_comparison(
    price: float, alone: float | None, moved: float | None, expected: Verdict
) -> None:
    assert verdict(answer_of(price, alone, moved)) is expected


@pytest.mark.parametrize("proven", [False, True])
def test_that_there_is_no_slot_is_told_alike_and_only_where_it_is_proven(proven: bool) -> None:
    answer = replace(answer_of(100.0, None), proven_no_way=proven)
    assert verdict(answer).value == ("no slot" if proven else "no slot known")
    words = verdict_in_words(answer, BASE)
    assert ("none is known" in words) is not proven
    assert ("this is proven" in words) is proven


@pytest.mark.parametrize(
    ("answer", "words"),
    [
        (
            answer_of(100.0, 60.0),
            "break-even price is 60 EUR with nobody moved: 40 EUR more than that.",
        ),
        (
            answer_of(100.0, 0.0),
            "100 EUR is offered; it adds no cost to the plan with nobody moved.",
        ),
        (answer_of(100.0, 60.0, 20.0), "With B moved it would cost 40 EUR less."),
        (answer_of(50.0, 60.3, 55.2), "break-even price is 56 EUR when B moves: 6 EUR too little."),
        (answer_of(0.0, 60.3), "No price is offered; the break-even price is 61 EUR"),
        (answer_of(9.0, None, 20.0, 20.0, proven=True), "Proven: no other moves make it cheaper."),
        (answer_of(9.0, 20.0, 20.0, 20.0, proven=True), "moving others does not make it cheaper."),
        (answer_of(9.0, 30.0, 20.0, 12.5), "cheaper, but not below 13 EUR."),
        (answer_of(9.0, 30.0, 20.0, None), "Not proven: other moves might make it cheaper."),
        (answer_of(9.0, None, 50.0, better_without=30.0), "would save 30 EUR: the plan is not"),
        (answer_of(9.0, None), "none is known if others move. Most in the way: B."),
        (replace(answer_of(9.0, None), proven_no_way=True), "this is proven as long as"),
    ],
)
def test_what_a_verdict_hangs_on_is_told(answer: EnquiryAnswer, words: str) -> None:
    assert words in verdict_in_words(answer, BASE)


@pytest.mark.parametrize(
    ("amount", "told"),
    [
        (60.0, "60 EUR"),
        (60.004, "60 EUR"),
        (60.01, "61 EUR"),
        (-3.0, "0 EUR"),
        (1e6, "1,000,000 EUR"),
    ],
)
def test_a_lowest_price_is_never_rounded_to_one_that_does_not_pay(amount: float, told: str) -> None:
    assert lowest_price(amount, BASE) == told


@pytest.mark.parametrize(
    ("before", "after", "words"),
    [
        ((placed("B", 5),), (placed("B", 4),), "B 1 day earlier"),
        ((placed("B", 5),), (placed("B", 8, bay="B2"),), "B 3 days later to B2"),
        ((placed("B", 5),), (placed("B", 5, bay="B2"),), "B to B2"),
        ((placed("B", 5),), (placed("B", 5, ("Work", 5, 14)),), "B with other days of stages"),
        ((placed("B", 5),), (), "B not taken"),
        ((), (placed("B", 5),), "B taken"),
        (
            (placed("B", 5),),
            (placed("B", 5, ("Work", 5, 9)), placed("B", 9, ("Paint", 9, 15), bay="P1")),
            "B to B1, then P1",
        ),
    ],
)
def test_a_move_in_words(before: Stay, after: Stay, words: str) -> None:
    assert move_in_words(Move("B", before, after)) == words


@pytest.mark.parametrize(
    ("most", "rank", "words"),
    [
        (None, 1, "how much more could be gained is not known"),
        (250.0, 1, "not proven: no combination can gain more than 250 EUR"),
        (250.0, 2, "not proven: no combination but those above can gain more than 250 EUR"),
    ],
)
def test_what_is_proven_of_a_set(most: float | None, rank: int, words: str) -> None:
    one = Combination((), Plan(()), no_more(0.0), 200.0, most, 0.0, False, (), ())
    assert words in set_proof(one, rank, BASE)


def test_an_enquiry_that_gains_more_by_itself_than_the_best_set_is_named() -> None:
    none = Combination((), Plan(()), no_more(0.0), 0.0, None, 0.0, False, (), ())
    sets = CombinationAnswer(none, (), ())
    answers = [answer_of(100.0, 90.0, 60.0), answer_of(5.0, None)]
    told = better_by_itself(answers, sets, BASE)
    assert told is not None
    assert told.startswith("O alone gains 40 EUR, more than the combination")
    assert told in enquiries_in_words(answers, sets, BASE)
    book = openpyxl.load_workbook(io.BytesIO(enquiries_workbook(answers, sets, BASE)))
    assert told in {cell.value for row in book["Overview"].iter_rows() for cell in row}
    assert better_by_itself(answers, replace(sets, best=replace(none, gain=40.0)), BASE) is None
    assert better_by_itself([answer_of(5.0, 20.0)], sets, BASE) is None
    assert better_by_itself([], sets, BASE) is None


def test_a_set_tells_what_its_moves_gain_without_any_enquiry() -> None:
    one = Combination((), Plan(()), no_more(-30.0), 30.0, 30.0, 30.0, True, (), ())
    told = set_in_words(one, 1, BASE)
    assert "gains 30 EUR, of that 30 EUR by moves that need no enquiry; proven" in told
    lost = replace(one, gain=-4.0, gain_of_moves=0.0)
    assert set_in_words(lost, 2, BASE).startswith("none of the enquiries: loses 4 EUR; proven")
