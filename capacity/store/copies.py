"""The whole store as files, and a store from such files: for a backup, or to go elsewhere."""

import hashlib
import json
import secrets
import shutil
from datetime import date, datetime
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Date, Table, func, insert, select, text

from capacity.errors import OutputError, StoreError
from capacity.store.opening import reading, said_plainly, writing
from capacity.store.roles import require
from capacity.store.store import PlanStore
from capacity.store.tables import Moment, bases, events, people, plans, workbooks
from capacity.store.values import Role

LISTED = "store.json"
FORM = 1
"""Of ``store.json``: raised when what is in it changes."""


def copy_out(store: PlanStore, folder: Path) -> int:
    """Write all that the store has into a new folder, whole or not at all; return the plans.

    Workbooks and plan files are there as they were saved, and ``store.json`` says of what they
    are. All is of one moment, whoever saves meanwhile.

    Raises
    ------
    OutputError
        When the folder is there already, or cannot be written.
    """
    if folder.exists():
        raise OutputError(f"{folder} is there already: name a new folder.")
    beside = folder.with_name(f".{folder.name}-{secrets.token_hex(4)}")
    try:
        (beside / "workbooks").mkdir(parents=True)
        (beside / "plans").mkdir()
        with said_plainly(store.named), reading(store.engine) as connection:
            told: dict[str, Any] = {"form": FORM}
            for table in (bases, people, events):
                rows = connection.execute(select(table).order_by(*table.primary_key))
                told[table.name] = [_told(dict(row._mapping)) for row in rows]
            for sha256, content in connection.execute(select(workbooks)):
                (beside / "workbooks" / sha256).write_bytes(content)
            told["plans"] = []
            for row in connection.execute(select(plans).order_by(plans.c.id)):
                values = dict(row._mapping)
                (beside / "plans" / f"{row.id}.json").write_bytes(values.pop("plan_file"))
                told["plans"].append(_told(values))
        (beside / LISTED).write_text(json.dumps(told, indent=1) + "\n", encoding="utf-8")
        beside.rename(folder)
    except OSError as fault:
        raise OutputError(f"{folder} could not be written ({fault.strerror}).") from fault
    finally:
        shutil.rmtree(beside, ignore_errors=True)
    return len(told["plans"])


def copy_in(store: PlanStore, folder: Path) -> int:
    """Fill a store in which nothing is with the files that ``copy_out`` wrote; return the plans.

    Raises
    ------
    StoreError
        When something is in the store, or the files are not whole.
    """
    told = _listed(folder)
    with said_plainly(store.named), writing(store.engine) as connection:
        require(connection, store.person, Role.AGREE)
        for table in (bases, people, plans):
            if connection.execute(select(table).limit(1)).first() is not None:
                raise StoreError("there is something in this store: name a new one.")
        _insert(connection, bases, told["bases"])
        _insert(connection, people, told["people"])
        kept = {plan["workbook"] for plan in told["plans"]}
        for sha256 in sorted(kept):
            content = _file(folder / "workbooks" / sha256, sha256)
            connection.execute(insert(workbooks).values(sha256=sha256, content=content))
        for plan in told["plans"]:
            content = _file(folder / "plans" / f"{plan['id']}.json", plan["plan_file_sha256"])
            _insert(connection, plans, [{**plan, "plan_file": content}])
        _insert(connection, events, told["events"])
        _count_on(connection)
    return len(told["plans"])


def _listed(folder: Path) -> dict[str, list[dict[str, Any]]]:
    try:
        told: dict[str, Any] = json.loads((folder / LISTED).read_text(encoding="utf-8"))
        if told["form"] != FORM:
            raise StoreError(f"{folder / LISTED} is of another version ({told['form']}).")
        return {name: told[name] for name in ("bases", "people", "events", "plans")}
    except (OSError, ValueError, KeyError, TypeError) as fault:
        raise StoreError(f"{folder / LISTED} is none that a store wrote: {fault}.") from fault


def _told(values: dict[str, Any]) -> dict[str, Any]:
    """Return a row as JSON has it."""
    days = (date, datetime)
    return {k: v.isoformat() if isinstance(v, days) else v for k, v in values.items()}


def _insert(connection: Connection, table: Table, rows: list[dict[str, Any]]) -> None:
    """Insert rows as JSON has them."""
    for row in rows:
        values = dict(row)
        for column in table.c:
            told = values.get(column.name)
            if told is not None and isinstance(column.type, Moment):
                values[column.name] = datetime.fromisoformat(told)
            elif told is not None and isinstance(column.type, Date):
                values[column.name] = date.fromisoformat(told)
        connection.execute(insert(table).values(values))


def _file(path: Path, sha256: str) -> bytes:
    try:
        content = path.read_bytes()
    except OSError as fault:
        raise StoreError(f"{path} cannot be read ({fault.strerror}).") from fault
    if hashlib.sha256(content).hexdigest() != sha256:
        raise StoreError(f"{path} is not what was copied out: it was changed.")
    return content


def _count_on(connection: Connection) -> None:
    """Let the database number what comes next behind what is there; SQLite does so by itself."""
    if connection.dialect.name != "postgresql":
        return
    for table in (plans, events):
        last = connection.execute(select(func.max(table.c.id))).scalar()
        if last:
            name = f"pg_get_serial_sequence('{table.name}', 'id')"
            connection.execute(text(f"SELECT setval({name}, {int(last)})"))
