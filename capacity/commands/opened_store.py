"""The plan store that a command names, open for as long as the command works."""

from collections.abc import Callable
from functools import wraps
from typing import Any

import click

from capacity.commands.exits import Exit
from capacity.store.opening import default_store
from capacity.store.person import user_of_this_computer
from capacity.store.store import PlanStore

STORE = click.option(
    "--store",
    "named",
    metavar="STORE",
    help="File of the store, or URL of a PostgreSQL database (postgresql://...); without it what "
    "CAPACITY_STORE names, else a file of your own, which is made on first use.",
)
PLAN = click.argument("plan", metavar="PLAN")


def opened_store(named: str | None) -> PlanStore:
    """Return the store of that name, or the usual one, as the user of this computer has it.

    Raises ``StoreError`` where there is none to be had.
    """
    return PlanStore(named or default_store(), user_of_this_computer())


def in_store(command: Callable[..., Exit]) -> Callable[..., Exit]:
    """Return a command with the option ``--store``; it is given that store first, open."""

    @wraps(command)
    def with_store(*, named: str | None, **rest: Any) -> Exit:
        with opened_store(named) as kept:
            return command(kept, **rest)

    return STORE(with_store)


def of_plan(command: Callable[..., Exit]) -> Callable[..., Exit]:
    """Return a command with the argument ``PLAN``; it is given the store and that plan of it."""

    @PLAN
    @in_store
    @wraps(command)
    def with_plan(kept: PlanStore, *, plan: str, **rest: Any) -> Exit:
        return command(kept, kept.found(plan), **rest)

    return with_plan
