"""The sheet Key figures says what the figures are, and what changed."""

import io

import openpyxl
import pytest

from capacity.plans.audit import audit
from capacity.plans.outcome import Planned
from capacity.plans.plan import Plan
from capacity.questions.key_figures.computed import key_figures
from capacity.reports.plan.key_figure_words import changed_in_words, lines_of
from capacity.reports.plan.workbook import plan_workbook
from capacity.settings import Settings
from tests.questions.key_figures.test_by_hand import PLAN, made_base, stands

EARLIER = Plan((stands("A", "Wide", 0), stands("B", "Right", 8)), refused=("O", "L"))


def cells(earlier: Plan | None) -> list[list[object]]:
    base = made_base()
    outcome = Planned(
        PLAN, audit(base, PLAN), None, None, 0, 0.0, "time", Settings(seconds=1), {}, ()
    )
    book = openpyxl.load_workbook(io.BytesIO(plan_workbook(base, outcome, (), earlier=earlier)))
    assert book.sheetnames[:2] == ["Overview", "Key figures"]
    return [list(row) for row in book["Key figures"].iter_rows(values_only=True)]


def row_of(rows: list[list[object]], name: str) -> list[object]:
    return next(row for row in rows if row[0] == name)


def test_values_are_numbers_with_their_unit_and_how_they_are_counted() -> None:
    rows = cells(None)
    bay_use = row_of(rows, "Bay use")
    assert bay_use[1] == pytest.approx(100 * 25 / 49)
    assert bay_use[2] == "%"
    assert str(bay_use[3]).startswith(
        "25 of 49 open days of all bays are occupied. Occupied days / "
    )
    assert row_of(rows, "On-time share")[1] == pytest.approx(100 / 3)
    assert row_of(rows, "Mean turn-round")[3].startswith("1.0 days longer than promised")
    assert row_of(rows, "Options won")[3].startswith("Contribution 1,500 EUR, with 100 h of work.")
    assert row_of(rows, "Options lost")[3].startswith("Contribution at most -1,200 EUR")
    assert row_of(rows, "No earlier plan was given, so nothing is said of what changed.")


def test_with_an_earlier_plan_each_figure_has_its_change() -> None:
    rows = cells(EARLIER)
    bay_use = row_of(rows, "Bay use")
    assert bay_use[3] is not None
    assert bay_use[4] == pytest.approx(bay_use[1] - bay_use[3])
    text = "\n".join(str(row[0]) for row in rows if row[0])
    assert "2 checks differ from the earlier plan: B 1 day earlier; O taken." in text
    assert "New since the earlier plan: C, N." in text


def test_the_tables_behind_them() -> None:
    rows = cells(None)
    assert row_of(rows, "Left")[1:3] == [18, 4]
    assert row_of(rows, "January 2027")[1] == pytest.approx(90)
    late = next(row for row in rows if row[0] == "B" and row[10] == "late out")
    assert late[5:8] == [7, 5, 2]
    won = next(row for row in rows if row[0] == "O" and row[2] == "won")
    assert won[9:11] == [pytest.approx(1_500), pytest.approx(15)]


def test_without_a_labour_rate_it_is_said_that_labour_is_not_counted() -> None:
    base = made_base().replace(labour_rate=None)
    lines = {line.name: line for line in lines_of(key_figures(base, PLAN), base)}
    assert lines["Options won"].said.endswith("whose regular labour is not counted")
    assert lines["Bay use"].in_words == "51.0 %"
    assert lines["Cost of the plan"].in_words == "-1,270 EUR"


def test_nothing_changed_is_said_as_well() -> None:
    changed = key_figures(made_base(), PLAN, earlier=PLAN).changed
    assert list(changed_in_words(changed)) == [
        "Every check has the slot that it had in the earlier plan."
    ]
