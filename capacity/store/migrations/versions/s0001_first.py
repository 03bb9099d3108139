"""The first form of the store.

Written out, not taken from ``tables.py``: what a step makes stays what it was when later steps
change it.
"""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None


def upgrade() -> None:
    """Make all tables."""
    op.create_table(
        "bases",
        sa.Column("name", sa.Text(), primary_key=True),
        sa.Column("changes", sa.Integer(), nullable=False),
    )
    op.create_table(
        "people",
        sa.Column("name", sa.Text(), primary_key=True),
        sa.Column("role", sa.String(10), nullable=False),
    )
    op.create_table(
        "workbooks",
        sa.Column("sha256", sa.String(64), primary_key=True),
        sa.Column("content", sa.LargeBinary(), nullable=False),
    )
    op.create_table(
        "plans",
        sa.Column("id", sa.Integer(), primary_key=True, autoincrement=True),
        sa.Column("base", sa.Text(), sa.ForeignKey("bases.name"), nullable=False),
        sa.Column("first_day", sa.Date(), nullable=False),
        sa.Column("until", sa.Date(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("plan_number", sa.String(20), nullable=False),
        sa.Column("status", sa.String(10), nullable=False),
        sa.Column("days_past", sa.Integer(), nullable=False),
        sa.Column("cost", sa.Float(), nullable=False),
        sa.Column("overload_hours", sa.Float(), nullable=False),
        sa.Column("currency", sa.Text(), nullable=False),
        sa.Column("workbook_name", sa.Text(), nullable=False),
        sa.Column("workbook", sa.String(64), sa.ForeignKey("workbooks.sha256"), nullable=False),
        sa.Column("plan_file", sa.LargeBinary(), nullable=False),
        sa.Column("plan_file_sha256", sa.String(64), nullable=False),
        sa.Column("settings", sa.Text(), nullable=False),
        sa.Column("follows", sa.Integer(), sa.ForeignKey("plans.id")),
        sa.Column("saved_by", sa.Text(), nullable=False),
        sa.Column("saved_at", sa.DateTime(timezone=True), nullable=False),
        sa.UniqueConstraint("base", "first_day", "version", name="one_version"),
    )
    op.create_index(
        "one_agreed",
        "plans",
        ["base", "first_day"],
        unique=True,
        sqlite_where=sa.text("status = 'agreed'"),
        postgresql_where=sa.text("status = 'agreed'"),
    )
    op.create_table(
        "events",
        sa.Column("id", sa.Integer(), primary_key=True, autoincrement=True),
        sa.Column("plan", sa.Integer(), sa.ForeignKey("plans.id"), nullable=False),
        sa.Column("what", sa.String(20), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("by", sa.Text(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
    )
    op.create_index("ix_events_plan", "events", ["plan"])


def downgrade() -> None:
    """Take all tables away."""
    for table in ("events", "plans", "workbooks", "people", "bases"):
        op.drop_table(table)
