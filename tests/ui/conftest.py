"""The pages without a browser."""

import hashlib
import pickle
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from capacity.inputs import limited
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
def kept_elsewhere(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """Keep the work of desks in a folder of the test, not in the user's own."""
    assert BOARD.keeping is not None
    monkeypatch.setattr(BOARD.keeping.files, "root", tmp_path / "kept")
    return tmp_path / "kept"


@pytest.fixture(scope="session", autouse=True)
def each_file_is_read_once() -> Iterator[None]:
    """Let a child process read the first time only; the same file has the same answer later.

    A child takes half a second to start, and these tests open the same few workbooks all over.
    How the child reads is tested in ``tests/inputs``.
    """
    answers: dict[object, bytes] = {}
    read = limited._ask

    def ask(still_wanted: limited.Wanted, question: bytes) -> tuple[limited.Ended, object]:
        limits, work, (path, *more) = pickle.loads(question)
        if not path.is_file():
            return read(still_wanted, question)
        content = hashlib.sha256(path.read_bytes()).hexdigest()
        asked = limits, work, path.name, content, pickle.dumps(more)
        if asked not in answers:
            answers[asked] = pickle.dumps(read(still_wanted, question))
        answer: tuple[limited.Ended, object] = pickle.loads(answers[asked])
        return answer

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(limited, "_ask", ask)
        yield
