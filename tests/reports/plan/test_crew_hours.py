"""The sheet that tells which crew gives what, read back from the workbook."""

from io import BytesIO

import openpyxl

import capacity
from capacity.facts import Crew, Employment, Package, Skill, Stage
from capacity.reports.plan.workbook import plan_workbook
from tests.reference import stories
from tests.reference.stories import FIRST_DAY, bays, visit


def crew_rows() -> list[tuple[object, ...]]:
    """Plan a visit of 100 hours engine and 60 airframe, and read the sheet back."""
    work = Stage("Work", "maintenance", 7, {"Engine": 100.0, "Airframe": 60.0})
    base = stories.base(bays(1), visit("A", 7, 0, 0, package="work")).replace(
        packages=(Package("work", (work,)),),
        skills=tuple(Skill(name, 50.0, 0.0, 70.0, 0.0) for name in ("Engine", "Airframe")),
        crews=(
            Crew("Both", ("Airframe", "Engine"), 2, "Daily", FIRST_DAY),  # 140 h a week
            Crew(
                "Agency",
                ("Engine",),
                1,
                "Daily",
                FIRST_DAY,
                frozenset({"Twin"}),
                Employment.CONTRACT,
            ),
        ),
    )
    outcome = capacity.plan(base, capacity.Settings(seconds=10))
    assert isinstance(outcome, capacity.Planned)
    book = openpyxl.load_workbook(BytesIO(plan_workbook(base, outcome, ())))
    return list(book["Crew hours"].iter_rows(min_row=2, values_only=True))


def test_hours_lent_to_another_skill_and_contract_hours_are_told() -> None:
    told = {(row[2], row[4]): (row[3], round(float(str(row[5])), 3), row[6]) for row in crew_rows()}
    assert told == {
        ("Both", "Airframe"): ("employed", 60.0, None),
        ("Both", "Engine"): ("employed", 80.0, "lent by Airframe"),
        ("Agency", "Engine"): ("contract", 20.0, "contract hours, on Twin only"),
    }


def test_every_row_names_its_week() -> None:
    assert {row[0] for row in crew_rows()} == {"2027-W01"}
