"""A plan store as a base has one after some years: many plans, the newest of the sample quarter."""

import subprocess
import sys
from dataclasses import replace
from pathlib import Path

from capacity.reading import read
from capacity.store.new_plan import new_plan, workbook_file
from capacity.store.store import PlanStore

SECONDS_TO_SEARCH = 20


def filled_store(named: Path, book: Path, plan_file: Path, plans: int) -> None:
    """Fill a store with a plan many times over; every tenth is agreed on top of the one before.

    The newest is as it was made, the others have figures and files of their own.
    """
    base = read(book)
    new, _ = new_plan(base, workbook_file(book), plan_file.read_bytes())
    with PlanStore(str(named), "planner") as store:
        follows = None
        for number in range(plans, 0, -1):
            older = replace(
                new,
                plan_file=new.plan_file + b"\n" * (number - 1),
                figures=replace(new.figures, cost=new.figures.cost + 100.0 * (number - 1)),
                follows=follows,
            )
            saved = store.save(older, f"what changed in week {plans - number + 1}")
            if number % 10 == 1:
                store.agree(saved.id)
                follows = saved.id


def made_plan(folder: Path, book: Path) -> Path:
    """Return the plan file of a short search."""
    path = folder / "plan.json"
    command = [sys.executable, "-m", "capacity", "plan", str(book), "--plan-out", str(path)]
    subprocess.run(
        [*command, "--seconds", str(SECONDS_TO_SEARCH)], check=True, stdout=subprocess.DEVNULL
    )
    return path
