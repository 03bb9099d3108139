"""Dates as people of different countries write them, never read the other way unsaid."""

from datetime import date, timedelta

import pytest

from ui.planner.date_order import DateOrder, order_of, read_date

DAY, MONTH, YEAR = DateOrder
MARCH, APRIL = date(2027, 3, 4), date(2027, 4, 3)


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("4/3/2027", {DAY: MARCH, MONTH: APRIL, YEAR: None}),
        ("04.03.27", {DAY: MARCH, MONTH: APRIL, YEAR: None}),
        ("4 - 3 - 2027", {DAY: MARCH, MONTH: APRIL, YEAR: None}),
        ("2027-03-04", MARCH),
        ("2027/3/4", MARCH),
        ("2027-03-04T00:00:00.000", MARCH),
        ("4 Mar 2027", MARCH),
        ("4-Mar-27", MARCH),
        ("4. march 2027", MARCH),
        ("Mar 4, 2027", MARCH),
        ("March 4 2027", MARCH),
        ("Thu 4 Mar 2027", MARCH),
        ("Thu Mar 4, 2027", MARCH),
        ("2027-03-04 Thu", MARCH),
        ("4 Sept 2027", date(2027, 9, 4)),
        ("25/12/2027", date(2027, 12, 25)),  # no month has the number 25
        ("12/25/2027", date(2027, 12, 25)),
        ("5/5/2027", date(2027, 5, 5)),
        ("30/30/2027", None),
        ("31 Feb 2027", None),
        ("soon", None),
        ("4 Marble 2027", None),
        ("4/3", None),
        ("46450", None),
        ("", None),
    ],
)
def test_a_date_is_read_as_it_is_meant(text, meant):
    for order in DateOrder:
        assert read_date(text, order) == (meant[order] if isinstance(meant, dict) else meant)


def test_what_is_shown_is_read_again_in_any_order():
    for number in range(0, 400, 7):
        day = date(2027, 1, 1) + timedelta(days=number)
        for shown in DateOrder:
            assert {read_date(shown.shown(day), order) for order in DateOrder} == {day}


@pytest.mark.parametrize(
    ("locale", "order"),
    [("en-GB", DAY), ("de-DE", DAY), ("de", DAY), ("en-US", MONTH), ("en_US", MONTH),
     ("sv-SE", YEAR), ("ja", YEAR), ("en-CA", YEAR), (None, DAY), ("", DAY)],
)  # fmt: skip
def test_people_are_known_by_the_locale_of_their_browser(locale, order):
    """Short dates of CLDR, from memory: en-US M/d/yy, en-GB dd/MM/y, sv-SE y-MM-dd."""
    assert order_of(locale) is order
