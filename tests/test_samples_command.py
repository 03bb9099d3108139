"""``capacity samples``: the samples in a folder of one's own, all of them or none."""

import shutil
from pathlib import Path

import pytest

from capacity import samples
from capacity.cli import main
from capacity.commands.exits import Exit
from capacity.errors import CapacityError
from capacity.samples import NAMES, sample_files, sample_workbooks

CHECKOUT = Path(__file__).parents[1]


def run(*arguments: str) -> int:
    with pytest.raises(SystemExit) as ended:
        main(["samples", *arguments])
    return int(ended.value.code)


def names_in(folder: Path) -> set[str]:
    return {path.name for path in folder.iterdir()}


@pytest.mark.parametrize("is_there", [True, False], ids=["a folder in use", "a new folder"])
def test_all_of_them_are_written_as_they_are(is_there, tmp_path, capsys):
    folder = tmp_path / "first steps"
    if is_there:
        folder.mkdir()
        (folder / "mine.txt").write_text("mine", encoding="utf-8")
    assert run(str(folder)) == Exit.PLANNED
    assert names_in(folder) == {*NAMES} | ({"mine.txt"} if is_there else set())
    assert names_in(tmp_path) == {"first steps"}
    for file in sample_files():
        assert (folder / file.name).read_bytes() == file.read_bytes()
    said = capsys.readouterr().out
    assert f"written: {folder / 'quarter.xlsx'}" in said
    assert f"capacity plan {folder / 'quarter.xlsx'} " in said


def test_nothing_is_replaced(tmp_path, capsys):
    for name in ("tiny.xlsx", "WORKBOOK.md"):
        (tmp_path / name).write_text("mine", encoding="utf-8")
    assert run(str(tmp_path)) == Exit.CANNOT_WRITE == 73
    assert "has tiny.xlsx, WORKBOOK.md already" in capsys.readouterr().err
    assert names_in(tmp_path) == {"tiny.xlsx", "WORKBOOK.md"}
    assert {path.read_text(encoding="utf-8") for path in tmp_path.iterdir()} == {"mine"}


@pytest.mark.parametrize("is_there", [True, False])
@pytest.mark.parametrize("step", range(len(NAMES)))
@pytest.mark.parametrize("fault", [OSError(28, "No space left on device"), KeyboardInterrupt()])
def test_a_fault_at_any_file_leaves_nothing(step, is_there, fault, tmp_path, monkeypatch, capsys):
    folder = tmp_path / "new"
    if is_there:
        folder.mkdir()
    copied: list[Path] = []

    def copy(source: Path, target: Path) -> None:
        if len(copied) == step:
            raise fault
        copied.append(target)
        target.write_bytes(source.read_bytes())

    monkeypatch.setattr("capacity.commands.samples.shutil.copyfile", copy)
    code = Exit.CANNOT_WRITE if isinstance(fault, OSError) else Exit.OUT_OF_TIME
    assert run(str(folder)) == code
    assert [*tmp_path.rglob("*")] == ([folder] if is_there else [])


def test_a_fault_while_they_are_moved_takes_those_away_that_were(tmp_path, monkeypatch, capsys):
    honest = Path.rename

    def refuses(self: Path, target: Path) -> Path:
        if self.name == "broken.xlsx":
            raise PermissionError(13, "Permission denied")
        return honest(self, target)

    monkeypatch.setattr(Path, "rename", refuses)
    assert run(str(tmp_path)) == Exit.CANNOT_WRITE
    assert [*tmp_path.iterdir()] == []
    assert "You may not write there" in capsys.readouterr().err


def test_a_folder_in_no_folder_and_a_file_are_refused(tmp_path, capsys):
    assert run(str(tmp_path / "no" / "such")) == Exit.CANNOT_WRITE
    (tmp_path / "file").write_text("", encoding="utf-8")
    assert run(str(tmp_path / "file")) == Exit.CANNOT_WRITE
    assert names_in(tmp_path) == {"file"}


def test_in_an_installed_package_they_lie_inside_it(tmp_path, monkeypatch):
    inside, beside = tmp_path / "capacity" / "sample_inputs", CHECKOUT / "sample_inputs"
    monkeypatch.setattr(samples, "PLACES", (inside, beside))
    assert {file.parent for file in sample_files()} == {beside}
    shutil.copytree(beside, inside)
    assert {file.parent for file in sample_files()} == {inside}
    assert [file.name for file in sample_workbooks()] == [
        "quarter.xlsx",
        "tiny.xlsx",
        "broken.xlsx",
    ]
    monkeypatch.setattr(samples, "PLACES", (tmp_path,))
    assert sample_workbooks() == ()
    with pytest.raises(CapacityError, match="install the package again"):
        sample_files()
