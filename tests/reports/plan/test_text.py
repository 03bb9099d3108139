"""The lines for a terminal say what matters first, and can do no harm."""

from dataclasses import replace

from capacity.facts import Base
from capacity.messages import Message
from capacity.plans.audit import Audit
from capacity.plans.outcome import Impossible, OutOfTime, Planned, relative_gap
from capacity.reports import describe


def with_money(planned: Planned, money: float, bound: float | None) -> Planned:
    """Return the plan with another money and bound, and nothing past Latest in."""
    goals = replace(planned.audit.goals, money=money, days_past_latest_in=0)
    audit: Audit = replace(planned.audit, goals=goals)
    return replace(planned, audit=audit, bound=bound, gap=relative_gap(money, bound))


def test_it_fits_a_screen_and_names_what_is_left_out(
    planned: Planned, base: Base, messages: tuple[Message, ...]
) -> None:
    text = describe(base, planned, messages)
    assert 25 <= len(text.splitlines()) <= 40
    assert "NO SLOT: V038" in text
    assert "Options not taken: V013" in text
    assert "Messages on workbook and plan: " in text
    assert "overload 336 h" in text


def test_how_good_the_plan_is(planned: Planned, base: Base) -> None:
    # 118,600 - 115,042 = 3,558, which is 3.0 % of 118,600.
    text = describe(base, with_money(planned, 118_600.0, 115_042.0))
    assert (
        "The cost of the plan is 118,600 EUR. A better one could still save at most "
        "3,558 EUR (3.0 %); this is proven." in text
    )


def test_a_proven_plan_is_called_so(planned: Planned, base: Base) -> None:
    text = describe(base, with_money(planned, 118_600.0, 118_600.0))
    assert "The cost of the plan is 118,600 EUR. Proven: no plan costs less." in text


def test_without_a_bound_nothing_is_promised(planned: Planned, base: Base) -> None:
    text = describe(base, with_money(planned, 118_600.0, None))
    assert "not known, since no lower bound was proven" in text


def test_days_past_latest_in_with_and_without_proof(planned: Planned, base: Base) -> None:
    past = planned.audit.goals.days_past_latest_in
    assert "whether fewer are possible is not known" in describe(base, planned)
    assert "at least 1 day" in describe(base, replace(planned, days_bound=1))
    proven = replace(planned, days_bound=past)
    assert f"{past} days past Latest in" in describe(base, proven)
    assert "fewer are proven impossible" in describe(base, proven)


def test_input_texts_cannot_steer_the_terminal(planned: Planned, base: Base) -> None:
    text = describe(base.replace(name="Wold\x1b[31m\nHeath\x07"), planned)
    assert "\x1b" not in text
    assert "\x07" not in text
    assert text.splitlines()[0].startswith("Slot plan of Wold [31m Heath ")


def test_without_a_plan_it_says_why(base: Base) -> None:
    text = describe(base, Impossible(("A and B both need bay N1.",), 0.1))
    assert "A and B both need bay N1." in text
    assert "Allow more seconds" in describe(base, OutOfTime(2.0))
