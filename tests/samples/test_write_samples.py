"""The script writes again what lies in the folder, and the workbooks are pleasant to use."""

import subprocess
import sys
from pathlib import Path

import openpyxl
import pytest

NAMES = ("quarter.xlsx", "tiny.xlsx", "broken.xlsx")


@pytest.fixture(scope="module")
def written(samples: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Run the script as a person does, into another folder."""
    folder = tmp_path_factory.mktemp("written")
    script = samples / "write_samples.py"
    subprocess.run([sys.executable, "-W", "error", script, folder], check=True, timeout=60)
    return folder


def values(path: Path) -> dict[str, list[tuple[object, ...]]]:
    book = openpyxl.load_workbook(path)
    return {sheet.title: list(sheet.values) for sheet in book}


@pytest.mark.parametrize("name", NAMES)
def test_written_again_every_cell_is_the_same(samples: Path, written: Path, name: str) -> None:
    assert values(written / name) == values(samples / name)


def test_nothing_else_is_written(written: Path) -> None:
    assert {path.name for path in written.iterdir()} == set(NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_headings_stay_in_sight_and_say_their_units(samples: Path, name: str) -> None:
    for sheet in openpyxl.load_workbook(samples / name):
        assert sheet.freeze_panes == "B2", sheet.title
        assert all(cell.font.bold and cell.fill.fgColor.rgb for cell in sheet[1])
    checks = openpyxl.load_workbook(samples / name)["Checks"]
    headings = {cell.value: cell for cell in checks[1]}
    assert "Latest in" in headings["Early cost per day"].comment.text
    assert headings["Agreed out"].comment is not None


def test_dates_are_real_dates_shown_as_such(samples: Path) -> None:
    checks = openpyxl.load_workbook(samples / "quarter.xlsx")["Checks"]
    column = next(cell.column for cell in checks[1] if cell.value == "Agreed out")
    cells = [checks.cell(row, column) for row in range(2, checks.max_row + 1)]
    dated = [cell for cell in cells if cell.value is not None]
    assert len(dated) == len(cells) - 1, "one check has Agreed days instead"
    assert all(cell.is_date and cell.number_format == "yyyy-mm-dd" for cell in dated)
