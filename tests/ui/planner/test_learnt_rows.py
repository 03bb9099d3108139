"""What was learnt as tables: sample sizes and proposals, and what is not known stays blank."""

from capacity.questions.learn.estimate import estimate_of
from capacity.questions.learn.values import Learnt, LearntPackage, LearntStage
from ui.planner.learnt_rows import package_rows, stage_rows

STAGE = LearntStage(
    "C", "Open", 3, estimate_of([0.1, 0.2, 0.3]), estimate_of([4.0, 5.0]), None, 0.15, 0.0, 4
)
GONE = LearntStage("C", "Old", 1, estimate_of([0.1]))
LEARNT = Learnt(3, (LearntPackage("C", 3, None, estimate_of([9.0]), None, None, (STAGE, GONE)),))


def cell(sheet: str, row: str, heading: str) -> str:
    return f"{sheet}!{row}/{heading}"


def test_few_visits_say_so_and_a_proposal_names_its_cell():
    row, gone = stage_rows(LEARNT, cell)
    assert row["Visits"].startswith("3 visits only: fewer than 5")
    assert (row["Findings now"], row["Findings learnt"]) == ("15.0 %", "20.0 %")
    assert (row["Days now"], row["Days learnt"]) == (4, 4.5)
    assert "Findings % 15 -> 20 (Packages!C: Open/Findings %)" in row["Proposed"]
    assert gone["Stage"] == "Old (no longer in the workbook)"
    assert (gone["Mean within"], gone["Proposed"], gone["Days now"]) == ("", "", None)


def test_what_nobody_reported_of_a_package_is_blank():
    (row,) = package_rows(LEARNT)
    assert (row["Findings (% of routine)"], row["Stay (days)"]) == ("", 9.0)
