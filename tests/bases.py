"""What the small bases of the tests have in common: one Monday, one type, one bay, one shift.

Day 0 is Monday 2027-01-04, the first day of every plan. All of it is invented.
"""

from datetime import date, time, timedelta

from capacity.facts import AircraftType, Base, Bay, Pattern, Shift

FIRST_DAY = date(2027, 1, 4)
TWIN = AircraftType("Twin", span_m=34.0, length_m=38.0, tail_m=12.0)
BAY = Bay("B1", "North", 36.0, 40.0, 13.0, frozenset({"maintenance"}))
DAILY = Pattern("Daily", ("Day",))


def day(number: int) -> date:
    """Count days from the first day of the plan."""
    return FIRST_DAY + timedelta(days=number)


def small_base(**facts: object) -> Base:
    """Eight weeks of a base that works every day, a man-hour for each hour attended."""
    usual = {
        "name": "Hillside",
        "first_day": FIRST_DAY,
        "weeks": 8,
        "bays": (BAY,),
        "types": (TWIN,),
        "patterns": (DAILY,),
        "shifts": (Shift("Day", time(6), 10.0),),
        "productivity": 1.0,
    }
    return Base(**{**usual, **facts})
