"""The pages without a browser."""

from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

ROOT = Path(__file__).parents[2]


@pytest.fixture
def app(monkeypatch: pytest.MonkeyPatch) -> AppTest:
    """The dashboard, freshly loaded."""
    monkeypatch.delenv("CAPACITY_DASHBOARD_BOOK", raising=False)
    return AppTest.from_file(str(ROOT / "ui" / "app.py"), default_timeout=30).run()
