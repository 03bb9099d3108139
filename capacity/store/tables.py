"""The tables of the plan store, for SQLite and PostgreSQL alike.

Workbooks are found by their SHA-256 (FIPS 180-4), so that one that many plans were made for is
kept once. Nothing is deleted, and of a plan only its status changes.
"""

from datetime import UTC, datetime

from sqlalchemy import (
    Column,
    Date,
    DateTime,
    Float,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    Text,
    UniqueConstraint,
    text,
)
from sqlalchemy.engine import Dialect
from sqlalchemy.types import TypeDecorator


class Moment(TypeDecorator[datetime]):
    """A moment with its zone: SQLite keeps none, so all are kept in UTC."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """Turn a moment of any zone into UTC."""
        return None if value is None else value.astimezone(UTC)

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """Say of what was kept that it is in UTC."""
        return None if value is None else value.replace(tzinfo=value.tzinfo or UTC)


metadata = MetaData()

bases = Table(
    "bases",
    metadata,
    Column("name", Text, primary_key=True),
    # Counted up by everybody who saves or agrees a plan of the base, before anything is looked
    # at: so people who do so at the same moment do it one after the other.
    Column("changes", Integer, nullable=False),
)

people = Table(
    "people",
    metadata,
    Column("name", Text, primary_key=True),
    Column("role", String(10), nullable=False),
)

workbooks = Table(
    "workbooks",
    metadata,
    Column("sha256", String(64), primary_key=True),
    Column("content", LargeBinary, nullable=False),
)

plans = Table(
    "plans",
    metadata,
    Column("id", Integer, primary_key=True, autoincrement=True),
    Column("base", Text, ForeignKey("bases.name"), nullable=False),
    Column("first_day", Date, nullable=False),
    Column("until", Date, nullable=False),
    Column("version", Integer, nullable=False),
    Column("plan_number", String(20), nullable=False),
    Column("status", String(10), nullable=False),
    Column("days_past", Integer, nullable=False),
    Column("cost", Float, nullable=False),
    Column("overload_hours", Float, nullable=False),
    Column("currency", Text, nullable=False),
    Column("workbook_name", Text, nullable=False),
    Column("workbook", String(64), ForeignKey("workbooks.sha256"), nullable=False),
    Column("plan_file", LargeBinary, nullable=False),
    Column("plan_file_sha256", String(64), nullable=False),
    Column("settings", Text, nullable=False),
    Column("follows", Integer, ForeignKey("plans.id")),
    Column("saved_by", Text, nullable=False),
    Column("saved_at", Moment, nullable=False),
    UniqueConstraint("base", "first_day", "version", name="one_version"),
)
# What agreeing sees to, held by the database as well.
Index(
    "one_agreed",
    plans.c.base,
    plans.c.first_day,
    unique=True,
    sqlite_where=text("status = 'agreed'"),
    postgresql_where=text("status = 'agreed'"),
)

answers = Table(
    "answers",
    metadata,
    Column("key", String(64), primary_key=True),
    Column("content", Text, nullable=False),
    Column("by", Text, nullable=False),
    Column("at", Moment, nullable=False),
)

events = Table(
    "events",
    metadata,
    Column("id", Integer, primary_key=True, autoincrement=True),
    Column("plan", Integer, ForeignKey("plans.id"), nullable=False, index=True),
    Column("what", String(20), nullable=False),
    Column("text", Text, nullable=False),
    Column("by", Text, nullable=False),
    Column("at", Moment, nullable=False),
)
