"""Every test of the store is run on a file and, with the long tests, on a PostgreSQL server."""

import os
from collections.abc import Iterator
from itertools import count
from pathlib import Path

import pytest

from tests.store.databases import new_database, server, server_programs

NUMBERS = count()


@pytest.fixture(scope="session")
def postgresql() -> Iterator[str]:
    programs = server_programs()
    if programs is None:
        assert "CI" not in os.environ, "PostgreSQL is not installed"
        pytest.skip("PostgreSQL (Debian's package postgresql) is not installed")
    with server(programs) as url:
        yield url


@pytest.fixture(params=["sqlite", pytest.param("postgresql", marks=pytest.mark.long)])
def named(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """An empty store of each kind."""
    if request.param == "sqlite":
        return str(tmp_path / "plans.sqlite")
    return new_database(request.getfixturevalue("postgresql"), f"store_{next(NUMBERS)}")
