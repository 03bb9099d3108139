"""Who may do what with the store: asked in the same transaction as what they do.

As long as nobody has a role everybody may do everything: the store of one person needs none. Once
anybody has one, whoever has none may read.
"""

from collections.abc import Mapping

from sqlalchemy import Connection, delete, insert, select

from capacity.errors import NotAllowedError, StoreError
from capacity.store.tables import people
from capacity.store.values import Role

DOING = {Role.READ: "read", Role.PLAN: "save plans", Role.AGREE: "agree plans"}


def roles(connection: Connection) -> Mapping[str, Role]:
    """Return the role of everybody who has one."""
    rows = connection.execute(select(people.c.name, people.c.role).order_by(people.c.name))
    return {name: Role(role) for name, role in rows}


def role_of(connection: Connection, person: str) -> Role:
    """Return what somebody may do."""
    known = roles(connection)
    return known.get(person, Role.READ) if known else Role.AGREE


def require(connection: Connection, person: str, needed: Role) -> None:
    """Refuse somebody whose role does not reach; raises ``NotAllowedError``."""
    role = role_of(connection, person)
    if role.rank < needed.rank:
        raise NotAllowedError(
            f"{person} may not {DOING[needed]}: the role is '{role.value}', and this needs "
            f"'{needed.value}'. Ask somebody with the role '{Role.AGREE.value}'."
        )


def give(connection: Connection, by: str, person: str, role: Role | None) -> None:
    """Give somebody a role, or take it away; whoever gives the first becomes one who agrees.

    Raises
    ------
    NotAllowedError
        When ``by`` may not agree plans.
    StoreError
        When nobody would be left who may.
    """
    require(connection, by, Role.AGREE)
    known = {**roles(connection)}
    known = known or {by: Role.AGREE}
    known.pop(person, None)
    if role is not None:
        known[person] = role
    if known and Role.AGREE not in known.values():
        raise StoreError("somebody has to have the role 'agree': give it to another person first.")
    connection.execute(delete(people))
    if known:
        rows = [{"name": name, "role": one.value} for name, one in known.items()]
        connection.execute(insert(people), rows)
