"""Open the plan store: a file that is made on first use, or a PostgreSQL database by its URL."""

import os
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from alembic import command
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, Engine, create_engine, event, make_url
from sqlalchemy.exc import ArgumentError, DBAPIError, NoSuchModuleError, SQLAlchemyError
from sqlalchemy.pool import ConnectionPoolEntry

from capacity.errors import StoreError

SECONDS_TO_WAIT = 30.0
"""So long somebody waits for another who is just writing."""

NAMED_BY = "CAPACITY_STORE"
"""The variable of the environment that names the store."""

READS, WRITES = {"writes": False}, {"writes": True}


def default_store() -> str:
    """Return what ``CAPACITY_STORE`` names, else the file of this user of the computer."""
    named = os.environ.get(NAMED_BY, "")
    if named:
        return named
    home = os.environ.get("XDG_DATA_HOME", "")
    above = Path(home) if Path(home).is_absolute() else Path.home() / ".local" / "share"
    return str(above / "hangar-capacity" / "plans.sqlite")


def opened_engine(named: str) -> Engine:
    """Return the engine of a store named by a path or a URL, its tables as this version has them.

    A file is made on first use, readable by its owner alone, and an older one is brought up to
    date. An empty database gets its tables; an older one is refused: bringing it up to date is for
    whoever keeps it (``upgrade``).

    Raises
    ------
    StoreError
        When there is no such store, it cannot be reached, or it is of another version.
    """
    engine = engine_of(named)
    keeps_open = _let_go_of(engine, only_after_a_fault=True)
    with keeps_open, said_plainly(named), writing(engine) as connection:
        found, newest = revisions(connection)
        _refuse_later(found)
        if found is None or (found != newest and engine.dialect.name == "sqlite"):
            _bring_up(connection)
        elif found != newest:
            raise StoreError(
                f"the store has the form {found}, and this version needs {newest}: have whoever "
                "keeps it back it up and run 'capacity store upgrade' once."
            )
    return engine


def upgrade(named: str) -> tuple[str | None, str]:
    """Bring a store up to date; return the form that it had and the one that it has now."""
    engine = engine_of(named)
    with _let_go_of(engine), said_plainly(named), writing(engine) as connection:
        found, newest = revisions(connection)
        _refuse_later(found)
        if found != newest:
            _bring_up(connection)
    return found, newest


@contextmanager
def _let_go_of(engine: Engine, *, only_after_a_fault: bool = False) -> Iterator[None]:
    """Close all connections at the end."""
    try:
        yield
    except BaseException:
        engine.dispose()
        raise
    if not only_after_a_fault:
        engine.dispose()


def revisions(connection: Connection) -> tuple[str | None, str]:
    """Return the form of the store, None for an empty one, and the newest that is known."""
    newest = ScriptDirectory.from_config(_config()).get_current_head()
    assert newest is not None
    return MigrationContext.configure(connection).get_current_revision(), newest


def engine_of(named: str) -> Engine:
    """Return the engine of a path or a URL; nothing is asked of it yet."""
    try:
        if "://" in named:
            url = make_url(named)
            if url.get_backend_name() == "postgresql":
                return create_engine(url.set(drivername="postgresql+psycopg"), pool_pre_ping=True)
            if url.get_backend_name() != "sqlite" or not url.database:
                raise StoreError(
                    f"the store is a file or a URL that begins with postgresql://, not "
                    f"'{url.render_as_string()}'."
                )
            return _sqlite(Path(url.database))
        return _sqlite(Path(named))
    except (ArgumentError, NoSuchModuleError, ModuleNotFoundError) as fault:
        raise StoreError(_why_no_engine(fault)) from None


@contextmanager
def reading(engine: Engine) -> Iterator[Connection]:
    """Look at the store as it is at one moment."""
    with engine.connect().execution_options(**READS) as connection, connection.begin():
        yield connection


@contextmanager
def writing(engine: Engine) -> Iterator[Connection]:
    """Change the store in one transaction: all of it is kept once this is left, or nothing."""
    with engine.connect().execution_options(**WRITES) as connection, connection.begin():
        yield connection


@contextmanager
def said_plainly(named: str) -> Iterator[None]:
    """Turn faults of the database into a sentence without a password in it."""
    try:
        yield
    except DBAPIError as fault:
        first = str(fault.orig).strip().splitlines()[:1]
        raise StoreError(f"the store {shown(named)}: {''.join(first)}.") from fault
    except SQLAlchemyError as fault:
        raise StoreError(f"the store {shown(named)}: {fault}.") from fault


def shown(named: str) -> str:
    """Return the name of a store as it may be shown, a password in it blanked out."""
    return make_url(named).render_as_string() if "://" in named else named


def _why_no_engine(fault: Exception) -> str:
    if isinstance(fault, ModuleNotFoundError):
        return (
            "PostgreSQL needs a library that is not installed: "
            "pip install 'hangar-capacity[postgresql]'."
        )
    return "the store is named by a file, or by a URL such as postgresql://user@host/plans."


def _sqlite(path: Path) -> Engine:
    try:
        path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        os.close(os.open(path, os.O_RDWR | os.O_CREAT, 0o600))
    except OSError as fault:
        raise StoreError(f"the store {path}: {fault.strerror}.") from None
    engine = create_engine(f"sqlite:///{path}", connect_args={"timeout": SECONDS_TO_WAIT})

    @event.listens_for(engine, "connect")
    def _on_connect(found: sqlite3.Connection, record: ConnectionPoolEntry) -> None:
        found.isolation_level = None  # the begin below is the only one
        found.execute("PRAGMA foreign_keys=ON")
        found.execute("PRAGMA synchronous=FULL")

    @event.listens_for(engine, "begin")
    def _on_begin(connection: Connection) -> None:
        writes = connection.get_execution_options().get("writes", False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")

    return engine


def _refuse_later(found: str | None) -> None:
    known = {step.revision for step in ScriptDirectory.from_config(_config()).walk_revisions()}
    if found is not None and found not in known:
        raise StoreError(
            f"the store has the form {found}, of a later version of this program: install that."
        )


def _bring_up(connection: Connection) -> None:
    config = _config()
    config.attributes["connection"] = connection
    command.upgrade(config, "head")


def _config() -> Config:
    config = Config()
    config.set_main_option("script_location", "capacity.store:migrations")
    return config
