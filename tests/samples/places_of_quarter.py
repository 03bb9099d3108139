"""The places of a plan of the invented quarter that was once proven to be the best.

It is not made anew by a search, so that what the sample promises does not hang on how well a
search does on the day. Its man-hours are not kept: in given slots they are levelled exactly.
"""

from collections import defaultdict
from datetime import date

from capacity.facts import Base
from capacity.plans.plan import Plan, StageDays
from tests.samples.laid_plan import Move, laid_plan

# Check, bay, in day; then each later bay with the day of the move.
PLACES = """
W-04 Bay 32       2027-01-14
W-05 Bay 11       2027-02-01
W-06 Bay 12       2027-02-05
W-07 Bay 31       2027-02-22
W-08 Bay 12       2027-03-01
W-09 Bay 32       2027-02-27
W-10 Bay 11       2027-03-22
W-11 Bay 31       2027-03-19
N-03 Bay 24       2027-01-04
N-04 Bay 22       2027-01-18
N-05 Bay 21       2027-01-27
N-06 Bay 23       2027-01-29 > Paint 13 2027-02-16 > Bay 23 2027-02-24
N-07 Bay 32 left  2027-02-08
N-08 Bay 24       2027-02-12
N-09 Bay 22       2027-02-23
N-10 Bay 32 right 2027-02-16
N-11 Bay 23       2027-03-14
N-12 Bay 22       2027-03-14
N-13 Bay 24       2027-03-15 > Paint 13 2027-04-05 > Bay 32 right 2027-04-16
N-14 Bay 21       2027-03-08
R-02 Bay 34       2027-01-06
R-03 Bay 35       2027-01-24
R-04 Bay 33       2027-01-27
R-05 Bay 33       2027-02-12
R-06 Bay 34       2027-02-20
R-07 Bay 33       2027-03-04
R-08 Bay 34       2027-03-13
R-09 Bay 35       2027-04-01
R-10 Bay 33       2027-01-18
P-01 Paint 13     2027-01-05
P-02 Paint 13     2027-01-20
P-03 Paint 13     2027-02-07
P-04 Paint 13     2027-02-25
P-06 Paint 13     2027-03-13
P-07 Paint 13     2027-03-23
"""

# Check, first day, day after the last one, stage: what waits for its propellers.
WAITING = """
R-02 2027-01-21 2027-01-23 Closing up
R-06 2027-03-07 2027-03-09 Closing up
R-07 2027-03-30 2027-04-01 Closing up
"""

# The same of stages that are done in fewer or more days than the usual ones.
PACED = """
W-05 2027-02-16 2027-02-27 Floor beams repaired
W-11 2027-03-25 2027-04-05 Wiring for the new seats
"""


def plan_of_quarter(base: Base, stops_of: str = PLACES, waiting: str = WAITING) -> Plan:
    """Return the plan with the fixed checks in their places."""
    places = [
        (check.name, check.fixed_bay, check.fixed_in)
        for check in base.checks
        if check.fixed_bay and check.fixed_in
    ]
    moves: dict[str, list[Move]] = {}
    for line in stops_of.strip().splitlines():
        check, stops = line.split(maxsplit=1)
        first, *later = [_stop(words) for words in stops.split(" > ")]
        places.append((check, *first))
        moves[check] = later
    return laid_plan(base, places, moves, _stages(waiting + PACED))


def _stop(words: str) -> Move:
    bay, day = words.strip().rsplit(maxsplit=1)
    return bay.strip(), date.fromisoformat(day)


def _stages(lines: str) -> dict[str, list[StageDays]]:
    stated: defaultdict[str, list[StageDays]] = defaultdict(list)
    for line in filter(None, lines.splitlines()):
        check, first, until, stage = line.split(maxsplit=3)
        stated[check].append(StageDays(stage, date.fromisoformat(first), date.fromisoformat(until)))
    return stated
