"""What must be so for every roster: less overtime is never worse, weeks may be shifted."""

from dataclasses import replace
from datetime import timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from capacity.working_time.breaches import breaches_of
from capacity.working_time.duty import Duties, hours_between, midnight
from capacity.working_time.limits import RuleSet
from capacity.working_time.rule_sets import RULE_SETS
from tests.working_time.rosters import beyond, broken, rosters

EVERYTHING = RuleSet("all", "all", tuple(x for one in RULE_SETS.values() for x in one.limits))
ROLLING = RuleSet(
    "rolling", "", tuple(x for x in EVERYTHING.limits if x.id != "free-days-in-month")
)


@settings(max_examples=150, deadline=None)
@given(rosters(), st.data())
def test_taking_overtime_away_never_adds_or_worsens_a_breach(duties, data):
    shares = st.sampled_from([0.0, 0.5, 1.0])
    kept = []
    for period in duties.periods:
        end = period.scheduled_end + data.draw(shares) * (period.end - period.scheduled_end)
        if not (period.called_in and end == period.start):
            kept.append(replace(period, end=end))
    before = beyond(breaches_of(duties, EVERYTHING))
    after = beyond(breaches_of(replace(duties, periods=tuple(kept)), EVERYTHING))
    for key, amount in after.items():
        assert amount <= before.get(key, 0.0) + 1e-6, key


@settings(max_examples=60, deadline=None)
@given(rosters(), st.integers(-60, 60))
def test_shifting_by_whole_weeks_changes_no_rolling_rule(duties, weeks):
    shift = timedelta(weeks=weeks)
    later = Duties(
        duties.first_day + shift,
        duties.until + shift,
        tuple(
            replace(
                period,
                start=period.start + shift,
                scheduled_end=period.scheduled_end + shift,
                end=period.end + shift,
            )
            for period in duties.periods
        ),
    )
    assert {
        (name, day + shift): amount
        for (name, day), amount in beyond(breaches_of(duties, ROLLING)).items()
    } == beyond(breaches_of(later, ROLLING))


@settings(max_examples=100, deadline=None)
@given(rosters())
def test_the_longest_rest_in_seven_days_agrees_with_a_count_of_quarters(duties):
    begin = midnight(duties.first_day) - timedelta(days=8)
    busy = set()
    for period in duties.periods:
        first = round(4 * hours_between(begin, period.start))
        busy |= set(range(first, first + round(4 * period.length_with_overtime_hours)))
    expected = []
    for period in duties.periods:
        end = round(4 * hours_between(begin, period.end))
        longest = run = 0
        for quarter in range(end - 7 * 96, end):
            run = 0 if quarter in busy else run + 1
            longest = max(longest, run)
        if longest < 4 * 24:
            expected.append(((period.day - duties.first_day).days + 1, longest / 4))
    assert broken("free-day-in-seven", duties) == expected
