"""A file is replaced whole, or not touched at all."""

from pathlib import Path

import pytest

from capacity.errors import OutputError
from capacity.reports.kit.whole_file import write_whole


def test_a_new_file_holds_the_content_and_nothing_else_is_left(tmp_path: Path) -> None:
    write_whole(b"new", tmp_path / "plan.json")
    assert [p.name for p in tmp_path.iterdir()] == ["plan.json"]
    assert (tmp_path / "plan.json").read_bytes() == b"new"


def test_an_old_file_is_replaced_whole(tmp_path: Path) -> None:
    path = tmp_path / "plan.json"
    path.write_bytes(b"old and longer than what comes")
    write_whole(b"new", path)
    assert path.read_bytes() == b"new"
    assert len(list(tmp_path.iterdir())) == 1


def test_a_folder_is_never_replaced(tmp_path: Path) -> None:
    folder = tmp_path / "plan.xlsx"
    folder.mkdir()
    with pytest.raises(OutputError, match="is a folder"):
        write_whole(b"new", folder)
    assert folder.is_dir()
    assert not list(folder.iterdir())


def test_a_device_is_never_replaced() -> None:
    with pytest.raises(OutputError, match="not a plain file"):
        write_whole(b"new", Path("/dev/null"))
    assert Path("/dev/null").is_char_device()


def test_a_missing_folder_is_named_with_a_remedy(tmp_path: Path) -> None:
    path = tmp_path / "nowhere" / "plan.json"
    with pytest.raises(OutputError, match=r"nowhere.*folder does not exist: create it"):
        write_whole(b"new", path)
    assert not list(tmp_path.iterdir())


def test_a_folder_that_is_a_file_is_named_with_a_remedy(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"")
    with pytest.raises(OutputError, match="Its folder is a file"):
        write_whole(b"new", tmp_path / "file" / "plan.json")


def test_a_failed_last_step_leaves_the_old_file_and_nothing_behind(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def locked(self: Path, target: Path) -> None:
        raise PermissionError(13, "Permission denied")

    path = tmp_path / "plan.json"
    path.write_bytes(b"old")
    monkeypatch.setattr(Path, "replace", locked)
    with pytest.raises(OutputError, match="close the file if it is open elsewhere"):
        write_whole(b"new", path)
    assert path.read_bytes() == b"old"
    assert len(list(tmp_path.iterdir())) == 1


def test_an_interrupt_leaves_nothing_behind(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def interrupted(file: int) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("os.fsync", interrupted)
    with pytest.raises(KeyboardInterrupt):
        write_whole(b"new", tmp_path / "plan.json")
    assert not list(tmp_path.iterdir())


def test_a_name_too_long_is_said_to_be_so(tmp_path: Path) -> None:
    with pytest.raises(OutputError, match="choose a shorter one"):
        write_whole(b"new", tmp_path / ("n" * 300))
    assert not list(tmp_path.iterdir())
