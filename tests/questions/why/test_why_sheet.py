"""The sheets Why and Worth, read again as a spreadsheet program would."""

from dataclasses import replace
from io import BytesIO

from openpyxl import load_workbook
from openpyxl.worksheet.worksheet import Worksheet

from capacity.questions.why.explain import explain
from capacity.questions.worth.selling import worth_of
from capacity.reports.kit.sheet import Book
from capacity.reports.why.sheet_why import WHY, WORTH, why_sheet, worth_sheet
from capacity.settings import Settings
from tests.questions.asking_about import planned
from tests.questions.worth.test_worth import two_at_once
from tests.reference import stories
from tests.reference.stories import bays, day, visit


def cells(book: Book, sheet: str) -> list[list[object]]:
    found = load_workbook(BytesIO(book.content()))[sheet]
    assert isinstance(found, Worksheet)
    return [[cell.value for cell in row] for row in found.iter_rows()]


def bulleted(sentences: tuple[str, ...]) -> list[str]:
    return [sentence.replace("  - ", "\u2022 ") for sentence in sentences]


def test_the_sheet_tells_all_sentences_and_every_better_place() -> None:
    base = stories.base(
        bays(1),
        visit("X", 5, 0, 0),
        visit("A", 5, 3, 7, agreed_out=day(8), late_cost_per_day=100.0),
    )
    explanation = explain(base, planned(base), check="A")
    book = Book("Why")
    why_sheet(book, explanation, base)
    rows = cells(book, WHY)
    first = [row[0] for row in rows]
    assert first[0] == "Why"
    assert first[1] == (
        "In short: A: 2 days late out, 2 better slots tried: 2 not free, most often because of X."
    )
    assert first[2 : 2 + len(explanation.sentences)] == bulleted(explanation.sentences)
    top = first.index("Check")
    assert [[row[0], row[2], row[4], row[6]] for row in rows[top + 1 :]] == [
        ["A", "B1", -200, "taken by X"],
        ["A", "B1", -100, "taken by X"],
    ]


def test_a_conflict_has_no_table_of_places() -> None:
    base = stories.base(bays(1), visit("A", 5, 0, 1), visit("B", 5, 0, 1))
    explanation = explain(base, settings=Settings())
    book = Book("Why")
    why_sheet(book, explanation, base)
    first = [row[0] for row in cells(book, WHY)]
    assert first[1].startswith("In short: not all fixed and booked checks can come in")
    assert first[2:] == bulleted(explanation.sentences)


def test_the_sheet_of_worth_tells_savings_with_their_proof() -> None:
    base = two_at_once()
    plan = planned(base)
    assert plan is not None
    found = worth_of(base, plan, Settings(seconds=20))
    book = Book("Worth")
    worth_sheet(book, replace(found, not_tried=("one more hangar",)), base)
    rows = cells(book, WORTH)
    top = next(n for n, row in enumerate(rows) if row[0] == "One more")
    assert rows[top + 1] == ["one more bay like B1", "Bays", 0, 500, 500, 500, 0]
    assert rows[-1][0] == "one more hangar"
