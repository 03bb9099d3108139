"""Compiled code is kept where that can be, made anew where it is damaged, and never a condition."""

import importlib.util
from collections.abc import Callable
from pathlib import Path
from types import ModuleType

import numba
import pytest

import capacity
from capacity.messages import Level
from capacity.slots.finding import compiled_code
from tests.bench.invented import invented_quarter

SOURCE = """
from capacity.slots.finding.compiled_code import compiled

def twice(number):
    return 2 * number

twice = compiled(twice)
"""


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Have code kept in a folder of this test alone, and nowhere else."""
    where = tmp_path / "kept"
    monkeypatch.setattr(numba.config, "CACHE_DIR", str(where))
    monkeypatch.setattr(numba.config, "CACHE_LOCATOR_CLASSES", "UserProvidedCacheLocator")
    monkeypatch.setattr(compiled_code, "_TROUBLE", compiled_code._Trouble())
    (tmp_path / "module.py").write_text(SOURCE, encoding="utf-8")
    return where


def loaded(folder: Path) -> ModuleType:
    """Import the module as a fresh process would."""
    spec = importlib.util.spec_from_file_location("module", folder.parent / "module.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def files(folder: Path, ending: str) -> list[Path]:
    return sorted(folder.rglob(f"*.{ending}"))


def is_kept(folder: Path) -> bool:
    """Say whether the function comes from the disk when it is called again."""
    module = loaded(folder)
    assert module.twice(21) == 42
    return bool(module.twice.stats.cache_hits)


def heard() -> list[str]:
    told: list[str] = []
    compiled_code.tell_trouble_to(told.append)
    return told


def test_compiled_code_is_kept(folder: Path) -> None:
    assert not is_kept(folder)
    assert is_kept(folder)
    assert heard() == []


DAMAGES: dict[str, Callable[[bytes], bytes]] = {
    "empty": lambda body: b"",
    "cut off": lambda body: body[: len(body) // 2],
    "garbage": lambda body: b"\x00\xff garbage" * 50,
    "one letter": lambda body: body[:-40] + bytes([body[-40] ^ 1]) + body[-39:],
}


@pytest.mark.parametrize("ending", ["nbi", "nbc"])
@pytest.mark.parametrize("damage", DAMAGES)
def test_damaged_files_are_made_anew(ending: str, damage: str, folder: Path) -> None:
    assert not is_kept(folder)
    whole = {path: path.read_bytes() for path in files(folder, ending)}
    assert whole
    for path, body in whole.items():
        path.write_bytes(DAMAGES[damage](body))
    is_kept(folder)
    assert is_kept(folder)
    assert heard() == []


def test_without_a_folder_it_is_compiled_all_the_same_and_told_once(folder: Path) -> None:
    folder.write_text("a file, so that no folder can be made here", encoding="utf-8")
    early = heard()
    assert not is_kept(folder)
    assert not is_kept(folder)
    assert len(early) == 1
    assert heard() == early  # who listens later hears it too


def test_when_it_cannot_be_written_the_function_still_runs(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*given: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(compiled_code.IndexDataCacheFile, "_save_index", full)
    assert not is_kept(folder)
    assert "No space left" in heard()[0]


@pytest.mark.long  # everything is compiled
def test_a_search_without_a_folder_goes_on_and_says_so_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    monkeypatch.setenv("NUMBA_CACHE_LOCATOR_CLASSES", "UserProvidedCacheLocator")
    monkeypatch.setenv("NUMBA_CACHE_DIR", str(tmp_path / "file" / "folder"))
    outcome = capacity.plan(invented_quarter(4), capacity.Settings(seconds=5))
    assert isinstance(outcome, capacity.Planned)
    assert outcome.faults == ()
    assert outcome.stopped_by == "time"
    (note,) = (note for note in outcome.notes if "compiled" in note.what)
    assert note.level is Level.NOTE
    assert "NUMBA_CACHE_DIR" in note.remedy
