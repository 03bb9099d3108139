"""Shops and the loops on which items leave an aircraft and come back to it."""

import pytest

from capacity.facts import Shop, ShopLoop
from tests.inputs.books import change, errors, read, the_error, valid, with_shops


def test_shops_reach_the_facts(tmp_path):
    sheets = with_shops(valid())
    change(sheets, "Shops", "cabin shop", "Items per day", 2.5)
    book = read(sheets, tmp_path)
    assert book.messages == ()
    assert book.base is not None
    assert book.base.shops == (Shop("cabin shop", 2.5),)
    assert book.base.shop_loops == (ShopLoop("light", "cabin shop", 3, "open", "close"),)


@pytest.mark.parametrize("title", ["Shops", "Shop loops"])
def test_a_sheet_of_shops_may_be_there_without_rows(tmp_path, title):
    sheets = valid()
    sheets[title] = with_shops(valid())[title][:1]
    assert read(sheets, tmp_path).messages == ()


# Light: open, then inspect, then close, which names both.
@pytest.mark.parametrize(
    ("leave", "back", "what", "remedy"),
    [
        ("open", "inspect", None, None),
        ("inspect", "close", None, None),
        ("inspect", "inspect", "for 'inspect', at whose end they leave", "Name a later stage."),
        ("close", "open", "'open' comes before 'close', at whose end", "Swap the two"),
        ("close", "inspect", "'inspect' comes before 'close', at whose end", "Swap the two"),
        ("open", "papers", "'papers' does not come after 'open'", "Add 'open' to Packages!C6"),
        ("papers", "close", "'close' does not come after 'papers'", "'papers' to Packages!C4"),
    ],
)
def test_items_are_back_for_a_stage_after_the_one_at_whose_end_they_leave(
    tmp_path, leave, back, what, remedy
):
    sheets = with_shops(valid())
    sheets["Packages"].append(["light", "papers", "-", "maintenance", 1, 0])
    change(sheets, "Shop loops", 2, "Leave at", leave)
    where = change(sheets, "Shop loops", 2, "Back for", back)
    book = read(sheets, tmp_path)
    if what is None:
        assert book.messages == ()
        return
    message = the_error(book)
    assert message.where == where
    assert what in message.what
    assert remedy in message.remedy


def test_a_stage_comes_after_another_by_way_of_a_third(tmp_path):
    sheets = with_shops(valid())
    change(sheets, "Packages", 4, "After", "inspect")  # and inspect, blank, comes after open
    assert read(sheets, tmp_path).messages == ()
    change(sheets, "Packages", 3, "After", "-")
    message = the_error(read(sheets, tmp_path))
    assert message.where == "Shop loops!E2"
    assert "'close' does not come after 'open'" in message.what


def test_a_package_with_a_fault_of_its_own_makes_no_further_noise(tmp_path):
    for row, heading, value in ((3, "Days", "three"), (3, "After", "opn"), (2, "After", "close")):
        sheets = with_shops(valid())
        where = change(sheets, "Packages", row, heading, value)
        assert the_error(read(sheets, tmp_path)).where[:10] == where[:10]


# Open, inspect and close take 6 days together; a package may have 2,000 with its loops.
@pytest.mark.parametrize(
    ("items", "rate", "days"),
    [
        (3_988, 2, None),  # 1,994 days
        (3_989, 2, "1,995"),
        (2, 1e-300, "1,000,000,000"),
        (9_970, 5, None),
        (9_971, 5, "1,995"),
    ],
)
def test_a_loop_without_end_is_an_error(tmp_path, items, rate, days):
    sheets = with_shops(valid())
    del sheets["Bay closures"]  # the fixed light check would be there for years
    change(sheets, "Shops", "cabin shop", "Items per day", rate)
    where = change(sheets, "Shop loops", 2, "Items", items)
    book = read(sheets, tmp_path)
    if days is None:
        assert book.messages == ()
        return
    message = the_error(book)
    assert message.where == where == "Shop loops!C2"
    assert f"{items:,} items at {rate:g} a day are {days} days" in message.what
    assert message.remedy.endswith("Correct the items, or Shops!B2.")


def test_loops_of_a_package_are_counted_together(tmp_path):
    sheets = with_shops(valid())
    del sheets["Bay closures"]
    sheets["Shop loops"][1:] = [
        ["light", "cabin shop", 2_000, "open", "close"],
        ["light", "cabin shop", 1_988, "open", "inspect"],
    ]
    assert read(sheets, tmp_path).messages == ()
    change(sheets, "Shop loops", 3, "Items", 1_990)
    message = the_error(read(sheets, tmp_path))
    assert message.where == "Shop loops!C3"
    assert "the package 'light' has 2,001 days" in message.what


def test_a_loop_of_an_unknown_package_is_told_once(tmp_path):
    sheets = with_shops(valid())
    change(sheets, "Shop loops", 2, "Items", 9_000)
    where = change(sheets, "Shop loops", 2, "Package", "lite")
    assert the_error(read(sheets, tmp_path)).where == where


def test_every_loop_is_told(tmp_path):
    sheets = with_shops(valid())
    sheets["Shop loops"] += [
        ["light", "cabin shop", 3, "close", "open"],
        ["lite", "cabin shop", 3, "open", "close"],
        ["light", "galley shop", 0, "open", "shut"],
        ["light", "galley shop", 1, "open", "shut"],
    ]
    assert {message.where for message in errors(read(sheets, tmp_path))} == {
        "Shop loops!E3",
        "Shop loops!A4",
        "Shop loops!C5",
        "Shop loops!B6",
        "Shop loops!E6",
    }
