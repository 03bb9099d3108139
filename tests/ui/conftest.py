"""The pages without a browser."""

import pickle
import sys
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from ui.desk.board import BOARD

ROOT = Path(__file__).parents[2]

# As ``streamlit run`` does once at its start. Without it each script run puts the folder on
# the path and takes it off again, and a job's thread that imports meanwhile misses an entry.
sys.path.insert(0, str(ROOT / "ui"))


@pytest.fixture
def app(monkeypatch: pytest.MonkeyPatch) -> AppTest:
    """The dashboard, freshly loaded."""
    monkeypatch.delenv("CAPACITY_DASHBOARD_BOOK", raising=False)
    return AppTest.from_file(str(ROOT / "ui" / "app.py"), default_timeout=30).run()


@pytest.fixture(autouse=True)
def saved_elsewhere(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """Keep the work of desks in a folder of the test, not in the user's own."""
    assert BOARD.saving is not None
    monkeypatch.setattr(BOARD.saving.files, "root", tmp_path / "kept")
    return tmp_path / "kept"


@pytest.fixture(autouse=True)
def planned_here(monkeypatch: pytest.MonkeyPatch) -> None:
    """Plan in this process: one for each plan takes a second to start (``test_apart.py``).

    What would go from one to the other goes the same way.
    """

    def here(work, rescue=None):
        return lambda tell, stop: sent(sent(work)(lambda word: tell(sent(word)), stop))

    for module in ("ui.desk.plan_job", "ui.desk.replan_job"):
        monkeypatch.setattr(f"{module}.apart", here)


def sent(value: object) -> object:
    """Return a value as another process reads it."""
    return pickle.loads(pickle.dumps(value))


@pytest.fixture(autouse=True)
def each_file_is_read_once(reads_once: None) -> None:
    """Open the same few workbooks all over, and start no child for them."""
