"""What stands on the board: bays, checks, what waits, what is not free, hours, notes."""

from dataclasses import replace
from datetime import date
from itertools import pairwise

import pytest

from capacity.facts import Base, Bay, Status
from capacity.reports.plan.view import view_of
from tests.levelled_plan import even_outcome, levelled_base, levelled_outcome
from tests.ui.plans import MONDAY, base, day, stay, view
from ui.board.rows import CheckNote, Notes, WeekNote
from ui.planner.behind import late_table
from ui.planner.board_rows import board_rows, with_notes, with_today
from ui.planner.board_tables import bay_table, week_table
from ui.planner.tile_rows import tiles_of
from ui.planner.week_rows import SHARES, skills_worst_first, ticks_up_to


def blocks(of):
    return {block.check: block for block in board_rows(of).blocks}


def test_every_placement_is_a_block_from_its_in_day_to_its_out_day():
    rows = board_rows(view())
    assert (rows.first, rows.day_count) == (MONDAY, 21)
    found = {b.check: (rows.bays[b.bay].name, b.first, b.until) for b in rows.blocks}
    assert found == {"C1": ("B1", 0, 5), "C2": ("B2", 0, 5)}


def test_the_board_begins_on_a_monday_and_tells_where_the_plan_does():
    rows = board_rows(view(base(), stay("C1", "B1", -3)))
    assert (rows.first, rows.begins) == (day(-7), 7)
    assert rows.day_count % 7 == 0
    assert board_rows(view()).begins is None


def test_stages_tile_the_stay_and_tell_when_nobody_else_may_work():
    opened, repair = blocks(view())["C1"].stages
    assert (opened.first, opened.until, repair.until) == (0, repair.first, 5)
    assert opened.told == "open (maintenance): Mon 4 Jan 2027 to Tue 5 Jan 2027"
    assert repair.told.endswith("Fri 8 Jan 2027, nobody else on the aircraft")


def test_a_block_says_all_that_it_shows():
    fixed, missed = blocks(view())["C1"], blocks(view())["C2"]
    assert (fixed.is_fixed, missed.is_fixed) == (True, False)
    assert (fixed.late_days, fixed.agreed) == (0, 5)
    assert (missed.late_days, missed.agreed) == (1, 4)
    assert missed.told == (
        "Check C2, aircraft Q-B, T30, light",
        "Customer Aero East, third party",
        "Status booked",
        "B2, in Mon 4 Jan 2027, out Sat 9 Jan 2027, 5 days in this bay",
        "Agreed out Fri 8 Jan 2027: 1 day late out",
    )
    assert "Status fixed, bay and day are fixed" in fixed.told


def test_days_past_latest_in_stand_on_the_board_in_words():
    late = view(None, stay("C1", "B1", 0), stay("C2", "B2", 10))
    assert blocks(late)["C2"].label == "3 d past Latest in, Q-B, Aero East"
    assert "3 days past Latest in (Mon 11 Jan 2027)" in blocks(late)["C2"].told
    (row,) = late_table(late)
    assert row["Remark"] == "3 days past Latest in, 11 days late out"
    # Agreed before it comes in: the bar stands under its own block.
    assert blocks(late)["C2"].agreed == 10


def test_what_was_agreed_of_neighbours_in_a_bay_is_told_on_different_lines():
    rows = board_rows(view(None, stay("C1", "B1", 0), stay("C2", "B1", 5)))
    assert [block.lane for block in rows.blocks] == [0, 1]
    assert [bay.lanes for bay in rows.bays] == [2, 0]


def test_a_check_of_a_third_party_has_its_name_beside_its_colour():
    of_others = [replace(c, third_party=True, customer="") for c in base().checks]
    checks = (replace(of_others[0], customer="Kalmora Air"), of_others[1])
    labels = [block.label for block in board_rows(view(base(checks=checks))).blocks]
    assert labels == ["Q-A, Kalmora Air", "Q-B, third party"]


def test_an_option_has_a_paint_of_its_own():
    option = replace(base().checks[1], status=Status.OPTION, price=100.0)
    found = blocks(view(base(checks=(base().checks[0], option))))
    assert [block.paint for block in found.values()] == ["own fleet", "option"]


def with_unplaced(*names: str, refused: tuple[str, ...] = (), facts: Base | None = None):
    """Return a view of a plan in which some checks have no slot."""
    facts = facts or base()
    shown = [stay(c.name, "B1", 0) for c in facts.checks if c.name not in (*names, *refused)]
    of = view(facts, *shown)
    plan = replace(of.outcome.plan, not_placed=names, refused=refused)
    return replace(of, outcome=replace(of.outcome, plan=plan))


def test_a_check_without_a_slot_stands_on_the_shelf_over_the_days_on_which_it_may_come_in():
    (waiting,) = board_rows(with_unplaced("C2")).waiting
    assert (waiting.check, waiting.label, waiting.slot) == ("C2", "Q-B: no slot", "no slot")
    assert (waiting.first, waiting.until, waiting.days) == (0, 8, 5)
    assert "May come in from Mon 4 Jan 2027 to Mon 11 Jan 2027 (Latest in)" in waiting.told


def test_an_option_not_taken_waits_on_the_shelf_too_and_none_lie_on_one_another():
    option = replace(base().checks[1], status=Status.OPTION, price=100.0)
    facts = base(checks=(base().checks[0], option))
    one, other = board_rows(with_unplaced("C1", refused=("C2",), facts=facts)).waiting
    assert (one.slot, other.slot) == ("no slot", "not taken")
    assert one.row != other.row
    rows = bay_table(with_unplaced("C1", refused=("C2",), facts=facts))
    assert [row["Remark"] for row in rows[-2:]] == ["no slot", "not taken"]


def tied(**changes):
    """Return the rows of a plan with C1 in B1 on days 0 to 5, and B2 tied to B1."""
    bays = (base().bays[0], replace(base().bays[1], **changes))
    return board_rows(view(base(bays=bays, closures=()), stay("C1", "B1", 0)))


@pytest.mark.parametrize(
    ("tie", "kind", "first"),
    [
        ({"shares_floor_with": frozenset({"B1"})}, "floor taken", 0),
        # On the day on which the outer aircraft comes or leaves one waits for the other.
        ({"reached_through": "B1"}, "way blocked", 1),
    ],
)
def test_a_bay_that_is_empty_and_not_free_does_not_look_free(tie, kind, first):
    rows = tied(**tie)
    (taken,) = rows.taken
    assert (rows.bays[taken.bay].name, taken.kind, taken.label) == ("B2", kind, f"{kind} by C1")
    assert (taken.first, taken.until) == (first, 5)
    assert taken.told[0] == f"B2 is empty, but not free: {kind} by C1 in B1"


def test_a_changeover_is_drawn_after_each_check_for_its_days():
    bays = tuple(replace(bay, changeover_days=2) for bay in base().bays)
    rows = board_rows(view(base(bays=bays, closures=()), stay("C1", "B1", 0)))
    (taken,) = rows.taken
    assert (taken.kind, taken.first, taken.until) == ("changeover", 5, 7)
    assert taken.told == (
        "B1: 2 days of changeover after C1",
        "Sat 9 Jan 2027 to Sun 10 Jan 2027",
    )


def test_a_closure_is_drawn_with_its_last_day_and_its_reason():
    (closed,) = board_rows(view()).taken
    assert (closed.kind, closed.first, closed.until) == ("closed", 9, 11)
    assert closed.told == ("B2 closed: door", "Wed 13 Jan 2027 to Thu 14 Jan 2027")


def test_days_off_are_told_in_runs():
    weekdays = base(working_weekdays=frozenset(range(5)))
    assert board_rows(view(weekdays)).off == ((5, 7), (12, 14), (19, 21))
    assert board_rows(view()).off == ()


def test_bays_of_one_hangar_stand_together_whatever_their_order():
    one, other = base().bays
    third = Bay("B3", "North", 40, 45, 14, one.work)
    rows = board_rows(view(base(bays=(one, replace(other, hangar="South"), third))))
    assert [bay.name for bay in rows.bays] == ["B1", "B3", "B2"]
    assert {b.check: rows.bays[b.bay].name for b in rows.blocks} == {"C1": "B1", "C2": "B2"}


def test_todays_line_is_drawn_on_the_days_of_the_board_only():
    rows = board_rows(view())
    assert with_today(rows, day(3)).today == 3
    assert with_today(rows, day(21)).today is None
    assert with_today(rows, date(2020, 1, 1)).today is None


def test_notes_of_other_parts_are_marks_and_words():
    notes = Notes(
        {"C1": CheckNote(0.824, "bay and day", "was in B2, in Mon 11 Jan 2027")},
        {("2027-W01", "mechanic"): WeekNote(0.3)},
    )
    rows = with_notes(board_rows(view()), notes)
    c1, c2 = rows.blocks
    assert (c1.out_by_its_day, c1.held) == (0.824, "bay and day")
    assert c1.told[-3:] == (
        "Out by its Agreed out in 82.4 % of simulations",
        "Moved: was in B2, in Mon 11 Jan 2027",
        "Held: bay and day",
    )
    assert (c2.out_by_its_day, c2.held, c2.moved) == (None, "", "")
    assert rows.cells[0].told[-1] == "Overload in 30.0 % of simulations"
    assert with_notes(board_rows(view()), Notes()) == board_rows(view())


# Man-hours.


def test_the_columns_of_a_week_add_up_to_its_demand():
    (hours,) = board_rows(view()).hours
    first = [part for part in hours.parts if part.week == 0]
    assert [part.share for part in first] == list(SHARES)
    assert all(one.high == other.low for one, other in pairwise(first))
    # By hand: two checks of 380 h; ten people give 10 x 8 h x 5 days x 75 % = 300 h, overtime
    # 20 % of it = 60 h, contract 25 % = 75 h; 760 - 435 = 325 h have nobody.
    assert [part.high - part.low for part in first] == [300, 60, 75, 325]
    assert hours.limits[0] == (300, 360, 435)
    assert hours.overload == ((0, 760, "▲ 325 h"),)
    assert hours.top >= 760


def test_every_week_of_every_skill_has_its_number_its_sign_and_its_band():
    of = view()
    rows = board_rows(of)
    assert len(rows.cells) == len(of.outcome.audit.weeks) == len(rows.weeks) * len(rows.skills)
    assert (rows.cells[0].printed, rows.cells[0].band) == ("▲ 325 h", "overload")
    assert rows.cells[0].told == (
        "mechanic, week 2027-W01, Mon 4 Jan 2027 to Sun 10 Jan 2027",
        "▲ 325 h: overload",
        "Demand 760 h, available 300 h regular",
        "On top: overload 325 h, contract 75 h, overtime 60 h",
    )
    assert [row["Used"] for row in week_table(of)] == [cell.printed for cell in rows.cells]


def test_the_most_overloaded_skill_comes_first():
    assert skills_worst_first(view()) == ["mechanic"]


@pytest.mark.parametrize(
    ("highest", "ticks"),
    [(0, (0, 1)), (3, (0, 1, 2, 3)), (760, (0, 200, 400, 600, 800)),
     (990, (0, 250, 500, 750, 1000)), (4300, (0, 2000, 4000, 6000))],
)  # fmt: skip
def test_the_axis_has_few_round_numbers_and_ends_above_the_highest(highest, ticks):
    assert ticks_up_to(highest) == ticks


def test_the_demand_of_an_even_spread_is_told_where_levelling_changes_it():
    levelled = board_rows(view_of(levelled_base(), levelled_outcome(), ()))
    even = board_rows(view_of(levelled_base(), even_outcome(), ()))
    assert levelled.hours[0].even == ((0, 40), (1, 100), (2, 60))
    assert all(hours.even == () for hours in even.hours)


# Figures looked at first.


def test_the_tiles_say_what_the_plan_comes_to():
    # C2 is a day late at 500 EUR; 325 h of overload at 500 EUR, see above.
    told = {tile.name: (tile.value, tile.said) for tile in tiles_of(view())}
    assert told["Days past Latest in"] == ("0 days", "no check")
    assert told["Days late out"] == ("1 day", "1 check, 500 EUR")
    assert told["Overload"] == ("▲ 325 h", "in 1 week")
    assert told["Cost"][1] == "could still save: not known"
    assert told["Options taken"] == ("0 of 0", "none in the workbook")


def test_the_cost_says_what_could_still_be_saved_or_that_nothing_could():
    of = view()
    cost = of.outcome.audit.goals.money
    for bound, gap, said in (
        (cost - 1000, 1000 / cost, "could still save at most 1,000 EUR"),
        (cost, 0.0, "proven: no plan costs less"),
    ):
        outcome = replace(of.outcome, bound=bound, gap=gap)
        (tile,) = (t for t in tiles_of(replace(of, outcome=outcome)) if t.name == "Cost")
        assert tile.said.startswith(said)
