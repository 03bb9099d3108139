"""The sample workbooks as a user finds them, read once."""

from pathlib import Path

import pytest

from capacity.facts import Base
from capacity.inputs import Book, read_book

SAMPLES = Path(__file__).parents[2] / "sample_inputs"


@pytest.fixture(scope="session")
def samples() -> Path:
    """Return the folder of the sample workbooks."""
    return SAMPLES


@pytest.fixture(scope="session")
def quarter_book(samples: Path) -> Book:
    """Read the invented quarter."""
    return read_book(samples / "quarter.xlsx")


@pytest.fixture(scope="session")
def quarter(quarter_book: Book) -> Base:
    """Return the facts of the invented quarter."""
    assert quarter_book.base is not None, "\n".join(map(str, quarter_book.messages))
    return quarter_book.base


@pytest.fixture(scope="session")
def tiny(samples: Path) -> Base:
    """Return the facts of the example that can be worked out by hand."""
    book = read_book(samples / "tiny.xlsx")
    assert book.base is not None, "\n".join(map(str, book.messages))
    return book.base
