"""Days and money of the checks, and the goals that they add up to."""

from capacity.facts import Status
from capacity.plans.audit import Audit, Auditor, audit

from .stories import audited, base, check, day, placed, plan


def test_on_its_latest_in_a_check_costs_nothing() -> None:
    """In on day 10, its Latest in; out on day 20 as agreed."""
    prompt = check(early_cost_per_day=7, late_cost_per_day=9, agreed_out=day(20))
    result = audited(base(prompt), placed("C1", 10))
    assert (result.goals.days_past_latest_in, result.goals.money) == (0, 0.0)


def test_early_days_are_thrown_away() -> None:
    """In on day 6, four days before its Latest in: 4 x 7."""
    result = audited(base(check(early_cost_per_day=7)), placed("C1", 6))
    (account,) = result.accounts
    assert (account.early_days, account.early_money) == (4, 28.0)
    assert result.goals.money == 28.0


def test_past_its_latest_in_and_out_late() -> None:
    """In on day 13, three days past; out on day 23, two days after the agreed 21: 2 x 9."""
    late = check(early_cost_per_day=7, late_cost_per_day=9, agreed_out=day(21))
    result = audited(base(late), placed("C1", 13))
    (account,) = result.accounts
    assert (account.days_past_latest_in, account.early_days, account.late_days) == (3, 0, 2)
    assert result.goals.days_past_latest_in == 3
    assert result.goals.money == account.late_money == 18.0


def test_without_an_agreed_out_day_nothing_is_late() -> None:
    """A late cost alone names no day."""
    result = audited(base(check(late_cost_per_day=9)), placed("C1", 15))
    assert result.goals.money == 0.0


def test_checks_without_a_place_count_the_longest_delay_and_one() -> None:
    """5 + 1 days each for the booked and the fixed one; a refused option counts nothing."""
    three = base(check("C1"), check("C2", status=Status.FIXED), check("C3", status=Status.OPTION))
    result = audit(three, plan(not_placed=("C1", "C2"), refused=("C3",)))
    assert result.broken == ()
    assert result.goals.days_past_latest_in == 12


def test_a_forgotten_check_counts_as_not_placed() -> None:
    """A plan gains nothing by leaving a check out of its lists."""
    assert audit(base(), plan()).goals.days_past_latest_in == 6


def test_an_option_earns_its_price_only_when_placed() -> None:
    """C1 is booked and its price is not earned again; the option C2 earns 1,000 less 3 x 7."""
    two = base(
        check("C1", price=5000.0),
        check("C2", status=Status.OPTION, price=1000.0, early_cost_per_day=7, latest_in=day(23)),
    )
    result = audited(two, placed("C1", 10), placed("C2", 20))
    assert [account.price for account in result.accounts] == [0.0, 1000.0]
    assert result.goals.money == -979.0
    refusing = audit(two, plan(placed("C1", 10), refused=("C2",)))
    assert (refusing.broken, refusing.goals.money) == ((), 0.0)


def test_weeks_are_those_of_the_planning_period_and_of_the_tail() -> None:
    """Nobody is in a bay on the out day, so out on a Monday adds no week.

    Two weeks can be planned. Out on Monday day 21 asks nothing of week 4, out on Tuesday day
    22 does. Both planned weeks are told though nobody asks anything.
    """
    two_weeks = base(check(latest_in=day(13)), weeks=2)
    to_monday = audited(two_weeks, placed("C1", 11, ("Work", 11, 21)))
    assert weeks_of(to_monday) == ["2027-W01", "2027-W02", "2027-W03"]
    to_tuesday = audited(two_weeks, placed("C1", 12, ("Work", 12, 22)))
    assert weeks_of(to_tuesday) == ["2027-W01", "2027-W02", "2027-W03", "2027-W04"]
    assert weeks_of(audit(two_weeks, plan(not_placed=("C1",)))) == ["2027-W01", "2027-W02"]


def test_a_year_sums_up_to_what_its_crews_have() -> None:
    """52 weeks of seven days of 1,000 people and ten hours, the last check out on the Monday."""
    last = check(earliest_in=day(354), latest_in=day(354))
    year = base(last, weeks=52)
    regular = sum(load.regular for load in audited(year, placed("C1", 354)).weeks)
    assert regular == 52 * 7 * 1000 * 10


def weeks_of(result: Audit) -> list[str]:
    """Return the weeks told, in turn."""
    return [load.week for load in result.weeks]


def test_an_auditor_remembers_nothing_of_earlier_plans() -> None:
    """Audited between others, a plan comes to the same as alone."""
    two = base(check("C1", early_cost_per_day=7), check("C2", latest_in=day(40)))
    told = plan(placed("C1", 5), placed("C2", 15))
    auditor = Auditor(two)
    for other in (plan(), plan(placed("C2", 5), placed("C1", 9)), told):
        auditor.audit(other)
    assert auditor.audit(told) == audit(two, told)
