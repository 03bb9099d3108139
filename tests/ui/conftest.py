"""An invented plan to draw, and the pages without a browser."""

from datetime import date
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from capacity.inputs import read_book
from capacity.planning import plan
from capacity.reports.view import View, view_of
from capacity.settings import Settings

ROOT = Path(__file__).parents[2]
SAMPLES = ROOT / "sample_inputs"
FIRST_DAY = date(2027, 1, 4)


@pytest.fixture(scope="session")
def tiny() -> View:
    """The plan of the sample that is small enough to plan by hand."""
    book = read_book(SAMPLES / "tiny.xlsx")
    return view_of(plan(book.base, Settings(seconds=20)), book.base, book.findings, book.where)


@pytest.fixture
def app(monkeypatch: pytest.MonkeyPatch) -> AppTest:
    """The dashboard, freshly loaded."""
    monkeypatch.delenv("CAPACITY_DASHBOARD_BOOK", raising=False)
    return AppTest.from_file(str(ROOT / "ui" / "app.py"), default_timeout=30).run()
