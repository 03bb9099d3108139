"""The store as somebody uses it: what each step does, it does whole or not at all."""

import hashlib
import json
from collections.abc import Collection, Iterable, Mapping
from datetime import UTC, datetime
from types import TracebackType
from typing import Any, Self

from sqlalchemy import Connection, Row, Select, func, insert, select, update
from sqlalchemy.dialects import postgresql, sqlite

from capacity.errors import ChangedMeanwhileError, StoreError
from capacity.store.opening import opened_engine, reading, said_plainly, writing
from capacity.store.roles import give, require, role_of, roles
from capacity.store.tables import answers, bases, events, plans, workbooks
from capacity.store.values import (
    Event,
    Figures,
    NewPlan,
    Role,
    SavedPlan,
    Status,
    WorkbookFile,
)
from capacity.words import day, listed

IN_SHORT = [column for column in plans.c if column.name != "plan_file"]

MOST_CHARACTERS = 2_000
"""Of a comment."""


class PlanStore:
    """A store, and the person who uses it.

    ``named`` is the path of a file or the URL of a PostgreSQL database. Every method raises
    ``StoreError`` where the store cannot be reached, or there is no such plan, and
    ``NotAllowedError`` where the person may not do it; nothing is changed then.
    """

    def __init__(self, named: str, person: str) -> None:
        """Open the store, and make it where there is none."""
        self.named, self.person = named, person
        self.engine = opened_engine(named)

    def __enter__(self) -> Self:
        """Use the store until the end of a ``with``."""
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Let go of all connections."""
        self.close()

    def close(self) -> None:
        """Let go of all connections."""
        self.engine.dispose()

    def role(self) -> Role:
        """Return what the person may do."""
        with said_plainly(self.named), reading(self.engine) as connection:
            return role_of(connection, self.person)

    def roles(self) -> Mapping[str, Role]:
        """Return the role of everybody who has one; none where everybody may do everything."""
        with said_plainly(self.named), reading(self.engine) as connection:
            return roles(connection)

    def give_role(self, person: str, role: Role | None) -> None:
        """Give somebody a role, or take it away."""
        with said_plainly(self.named), writing(self.engine) as connection:
            give(connection, self.person, person, role)

    def save(self, new: NewPlan, comment: str = "") -> SavedPlan:
        """Save a plan as a draft, and its workbook where the store does not have it.

        Saved a second time, after an answer that was lost, say, it is the one that is there.
        """
        digest = _sha256(new.plan_file)
        with said_plainly(self.named), writing(self.engine) as connection:
            require(connection, self.person, Role.PLAN)
            follows = None if new.follows is None else _one(connection, new.follows)
            if follows is not None and follows.base != new.base:
                raise StoreError(
                    f"plan {follows.id} is of the base '{follows.base}', not '{new.base}'."
                )
            workbook = self._keep_workbook(connection, new.workbook)
            _insert_new(connection, bases, {"name": new.base, "changes": 0})
            _wait_for_others(connection, new.base)
            same = connection.execute(
                select(plans.c.id).where(
                    plans.c.base == new.base,
                    plans.c.workbook == workbook,
                    plans.c.plan_file_sha256 == digest,
                )
            ).scalar()
            if same is None:
                same = self._insert(connection, new, workbook, digest)
                self._tell(connection, same, "saved", "")
            if comment:
                self._tell(connection, same, "comment", _short(comment))
            return _one(connection, same)

    def comment(self, plan: int, text: str) -> None:
        """Say something about a plan."""
        if not text.strip():
            raise StoreError("a comment needs some words.")
        with said_plainly(self.named), writing(self.engine) as connection:
            require(connection, self.person, Role.PLAN)
            _one(connection, plan)
            self._tell(connection, plan, "comment", _short(text))

    def agree(self, plan: int, on_top_of: Collection[int] | None = None) -> SavedPlan:
        """Let a plan be the one in force on its days; those agreed before are superseded.

        ``on_top_of`` are the agreed plans of these days whose place it is meant to take; None for
        the one that it follows, or for none. So a plan is never agreed over the head of somebody
        who agreed another one meanwhile. One that was superseded can be agreed again.

        Raises
        ------
        ChangedMeanwhileError
            When other plans are agreed for some of its days; who agreed them is said.
        """
        with said_plainly(self.named), writing(self.engine) as connection:
            require(connection, self.person, Role.AGREE)
            mine = _one(connection, plan)
            _wait_for_others(connection, mine.base)
            mine = _one(connection, plan)
            in_force = _in_force(connection, mine)
            if mine.status is Status.AGREED:
                return mine
            if on_top_of is None:
                on_top_of = () if mine.follows is None else (mine.follows,)
                on_top_of = [id for id in on_top_of if id in {one.id for one in in_force}]
            unseen = [one for one in in_force if one.id not in on_top_of]
            gone = sorted(set(on_top_of) - {one.id for one in in_force})
            if unseen or gone:
                raise ChangedMeanwhileError(_changed(connection, mine, unseen, gone))
            for one in in_force:
                self._set(connection, one.id, Status.SUPERSEDED, f"by plan {mine.id}")
            was = mine.status
            takes = f"in the place of plan {listed([str(o.id) for o in in_force])}"
            again = "again, " if was is Status.SUPERSEDED else ""
            self._set(connection, mine.id, Status.AGREED, again + (takes if in_force else ""))
            return _one(connection, mine.id)

    def plans(self, base: str | None = None, status: Status | None = None) -> tuple[SavedPlan, ...]:
        """Return the plans, the newest first."""
        asked = select(*IN_SHORT).order_by(plans.c.id.desc())
        if base is not None:
            asked = asked.where(plans.c.base == base)
        if status is not None:
            asked = asked.where(plans.c.status == status.value)
        with said_plainly(self.named), reading(self.engine) as connection:
            require(connection, self.person, Role.READ)
            return tuple(map(_saved, connection.execute(asked)))

    def stamp(self) -> tuple[int, int]:
        """Return what is another pair of numbers whenever anything was done with a plan."""
        # Not the highest number alone: who began earlier may end later.
        asked = select(func.count(events.c.id), func.max(events.c.id))
        with said_plainly(self.named), reading(self.engine) as connection:
            require(connection, self.person, Role.READ)
            done, last = connection.execute(asked).one()
            return done, last or 0

    def plan(self, plan: int) -> SavedPlan:
        """Return a plan by its number in the store."""
        with said_plainly(self.named), reading(self.engine) as connection:
            return _one(connection, plan)

    def found(self, named: str) -> SavedPlan:
        """Return the plan with a number in the store, or the newest with a plan number."""
        with said_plainly(self.named), reading(self.engine) as connection:
            if named.isdecimal():
                return _one(connection, int(named))
            asked = select(*IN_SHORT).where(plans.c.plan_number == named.upper())
            row = connection.execute(asked.order_by(plans.c.id.desc())).first()
            if row is None:
                raise StoreError(f"there is no plan '{named}' in the store.")
            return _saved(row)

    def chain(self, plan: int) -> tuple[SavedPlan, ...]:
        """Return a plan, the one it was made from, and so on."""
        found: list[SavedPlan] = []
        with said_plainly(self.named), reading(self.engine) as connection:
            following: int | None = plan
            while following is not None:
                found.append(_one(connection, following))
                following = found[-1].follows
        return tuple(found)

    def history(self, plan: int) -> tuple[Event, ...]:
        """Return what was done with a plan and said of it, the oldest first."""
        asked = select(events).where(events.c.plan == plan).order_by(events.c.id)
        with said_plainly(self.named), reading(self.engine) as connection:
            return tuple(
                Event(row.plan, row.what, row.text, row.by, row.at)
                for row in connection.execute(asked)
            )

    def plan_file(self, plan: int) -> bytes:
        """Return a plan's plan file, as it was saved."""
        asked = select(plans.c.plan_file, plans.c.plan_file_sha256).where(plans.c.id == plan)
        with said_plainly(self.named), reading(self.engine) as connection:
            row = connection.execute(asked).first()
        if row is None:
            raise StoreError(f"there is no plan {plan} in the store.")
        return _sound(row[0], row[1], f"the plan file of plan {plan}")

    def workbook(self, plan: int) -> WorkbookFile:
        """Return the workbook that a plan was made for, as it was saved."""
        asked = (
            select(plans.c.workbook_name, workbooks.c.content, workbooks.c.sha256)
            .join(workbooks, workbooks.c.sha256 == plans.c.workbook)
            .where(plans.c.id == plan)
        )
        with said_plainly(self.named), reading(self.engine) as connection:
            row = connection.execute(asked).first()
        if row is None:
            raise StoreError(f"there is no plan {plan} in the store.")
        return WorkbookFile(row[0], _sound(row[1], row[2], f"the workbook of plan {plan}"))

    def keep_answer(self, key: str, content: str) -> None:
        """Keep an answer by the hash of all that it depends on; one that is there stays."""
        values = {"key": key, "content": content, "by": self.person, "at": _now()}
        with said_plainly(self.named), writing(self.engine) as connection:
            require(connection, self.person, Role.PLAN)
            _insert_new(connection, answers, values)

    def answer(self, key: str) -> str | None:
        """Return the answer that is kept by a key; None where there is none."""
        asked = select(answers.c.content).where(answers.c.key == key)
        with said_plainly(self.named), reading(self.engine) as connection:
            found: str | None = connection.execute(asked).scalar()
        return found

    def _keep_workbook(self, connection: Connection, content: bytes) -> str:
        digest = _sha256(content)
        _insert_new(connection, workbooks, {"sha256": digest, "content": content})
        return digest

    def _insert(self, connection: Connection, new: NewPlan, workbook: str, digest: str) -> int:
        last = connection.execute(
            select(func.max(plans.c.version)).where(
                plans.c.base == new.base, plans.c.first_day == new.first_day
            )
        ).scalar()
        values = {
            "base": new.base,
            "first_day": new.first_day,
            "until": new.until,
            "version": (last or 0) + 1,
            "plan_number": new.plan_number,
            "status": Status.DRAFT.value,
            "days_past": new.figures.days_past,
            "cost": new.figures.cost,
            "overload_hours": new.figures.overload_hours,
            "currency": new.currency,
            "workbook_name": new.workbook_name,
            "workbook": workbook,
            "plan_file": new.plan_file,
            "plan_file_sha256": digest,
            "settings": json.dumps(dict(new.settings), sort_keys=True),
            "follows": new.follows,
            "saved_by": self.person,
            "saved_at": _now(),
        }
        id: int = connection.execute(
            insert(plans).values(values).returning(plans.c.id)
        ).scalar_one()
        return id

    def _set(self, connection: Connection, plan: int, status: Status, text: str) -> None:
        connection.execute(update(plans).where(plans.c.id == plan).values(status=status.value))
        self._tell(connection, plan, status.value, text.removesuffix(", "))

    def _tell(self, connection: Connection, plan: int, what: str, text: str) -> None:
        values = {"plan": plan, "what": what, "text": text, "by": self.person, "at": _now()}
        connection.execute(insert(events).values(values))


def _wait_for_others(connection: Connection, base: str) -> None:
    """Let whoever else changes plans of the base be through with it, and keep others waiting."""
    counted = bases.c.changes + 1
    connection.execute(update(bases).where(bases.c.name == base).values(changes=counted))


def _one(connection: Connection, plan: int) -> SavedPlan:
    row = connection.execute(select(*IN_SHORT).where(plans.c.id == plan)).first()
    if row is None:
        raise StoreError(f"there is no plan {plan} in the store.")
    return _saved(row)


def _in_force(connection: Connection, mine: SavedPlan) -> list[SavedPlan]:
    """Return the agreed plans of the base that have a day of this one."""
    asked: Select[Any] = select(*IN_SHORT).where(
        plans.c.base == mine.base,
        plans.c.status == Status.AGREED.value,
        plans.c.first_day < mine.until,
        plans.c.until > mine.first_day,
        plans.c.id != mine.id,
    )
    return [_saved(row) for row in connection.execute(asked.order_by(plans.c.id))]


def _changed(
    connection: Connection, mine: SavedPlan, unseen: Iterable[SavedPlan], gone: Collection[int]
) -> str:
    """Say what is in force instead of what was thought to be, who agreed it, and what to do."""
    said = []
    for one in unseen:
        agreed = connection.execute(
            select(events.c.by, events.c.at)
            .where(events.c.plan == one.id, events.c.what == Status.AGREED.value)
            .order_by(events.c.id.desc())
        ).first()
        by = "" if agreed is None else f" by {agreed[0]} on {day(agreed[1].date())}"
        said.append(f"plan {one.id} ({one.plan_number}) was agreed{by}")
    said += [f"plan {id} is not in force any more" for id in gone]
    ids = [str(one.id) for one in unseen]
    over = f", or agree it in the place of plan {listed(ids)}, naming it" if ids else ""
    return (
        f"plan {mine.id} was not agreed: {listed(said)}. Compare the two; re-plan from what is in "
        f"force{over}."
    )


def _insert_new(connection: Connection, table: Any, values: dict[str, object]) -> None:
    """Insert a row unless one with its key is there, whoever inserts it at the same moment."""
    dialect = postgresql if connection.dialect.name == "postgresql" else sqlite
    connection.execute(dialect.insert(table).values(values).on_conflict_do_nothing())


def _saved(row: Row[Any]) -> SavedPlan:
    return SavedPlan(
        id=row.id,
        base=row.base,
        first_day=row.first_day,
        until=row.until,
        version=row.version,
        plan_number=row.plan_number,
        status=Status(row.status),
        figures=Figures(row.days_past, row.cost, row.overload_hours),
        currency=row.currency,
        workbook_name=row.workbook_name,
        workbook=row.workbook,
        settings=json.loads(row.settings),
        follows=row.follows,
        saved_by=row.saved_by,
        saved_at=row.saved_at,
    )


def _sound(content: bytes, digest: str, what: str) -> bytes:
    """Return what was kept, once it is seen to be what was saved."""
    content = bytes(content)
    if _sha256(content) != digest:
        raise StoreError(f"{what} is damaged in the store: take it from a backup.")
    return content


def _short(text: str) -> str:
    text = text.strip()
    if len(text) > MOST_CHARACTERS:
        raise StoreError(f"a comment has {MOST_CHARACTERS:,} characters at the most.")
    return text


def _sha256(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


def _now() -> datetime:
    return datetime.now(UTC)
