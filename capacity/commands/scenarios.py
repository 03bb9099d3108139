"""``capacity scenarios``: many what-ifs of a workbook and its plan, planned in a batch."""

from collections.abc import Iterable
from pathlib import Path

import click

from capacity.commands.common import (
    WORKBOOK,
    as_of_plans,
    file_option,
    opened,
    out_option,
    refuse_wrong_outputs,
    seconds_option,
    seed_option,
    show,
    stop_heeded,
)
from capacity.commands.exits import Exit
from capacity.commands.option_types import FILE
from capacity.commands.outputs import Outputs
from capacity.errors import SettingsError, StoreError
from capacity.escaped import escaped
from capacity.inputs.limited import read_scenarios
from capacity.reports.plan_files.asked_plan import read_plan
from capacity.scenarios.cluster import cluster, workers_of
from capacity.scenarios.kept_answers import keeping, kept_answers
from capacity.scenarios.one_scenario import standing_answer
from capacity.scenarios.running import answers, processes, usual_workers
from capacity.scenarios.text import scenarios_in_words
from capacity.scenarios.values import ScenarioAnswer, Standing, Task
from capacity.scenarios.workbook import write_scenarios_workbook
from capacity.store.person import user_of_this_computer
from capacity.store.store import PlanStore


@click.command()
@WORKBOOK
@click.argument("scenarios_path", metavar="SCENARIOS.xlsx", type=FILE)
@file_option("--plan", "plan_path", "PLAN.json", "Plan file of the plan as it is.", required=True)
@seconds_option(10.0, "Time to search for the plan of each scenario.")
@seed_option()
@click.option(
    "--workers",
    type=click.IntRange(1, 10_000),
    help="Scenarios at the same time; without it one for every two cores, which a search takes, or "
    "as many as a cluster has workers.",
)
@click.option(
    "--cluster",
    "address",
    metavar="ADDRESS",
    help="Scheduler of a Dask cluster, such as tcp://10.0.0.5:8786, to plan them there.",
)
@click.option(
    "--store",
    "named",
    metavar="STORE",
    help="Store that keeps answers as they come: asked again, only what is missing is planned.",
)
@out_option("ANSWERS.xlsx", "Workbook of the answers.")
def scenarios(
    workbook: Path,
    scenarios_path: Path,
    plan_path: Path,
    seconds: float,
    seed: int,
    workers: int | None,
    address: str | None,
    named: str | None,
    out: Path | None,
) -> Exit:
    """Plan every scenario in SCENARIOS.xlsx, beginning with what still stands of the plan.

    Its sheet Scenarios has the columns Scenario, Sheet, Row, Column, Change and Value: what is to
    stand in which cell of WORKBOOK instead. Rows of the same scenario go together.
    """
    refuse_wrong_outputs([workbook, scenarios_path, plan_path], ("--out", out, ".xlsx"))
    base, _ = opened(workbook, as_of_plans(plan_path))
    asked = read_plan(base, plan_path)
    show(asked.notes)
    tasks = [
        Task(one.name, one.edits, one.words, seconds, seed)
        for one in read_scenarios(scenarios_path, workbook)
    ]
    standing = Standing(
        workbook.name if workbook.is_dir() else f"workbook{workbook.suffix}",
        _content(workbook),
        plan_path.read_text(encoding="utf-8"),
    )
    as_it_is = standing_answer(standing)
    make = processes if address is None else cluster(address)
    store = None if named is None else PlanStore(named, user_of_this_computer())
    found: list[ScenarioAnswer] = []
    left = tasks
    if store is not None:
        found, left = kept_answers(tasks, standing, store)
    if found:
        click.echo(f"{len(found)} of {len(tasks)} are answered in the store already.", err=True)
    coming: Iterable[ScenarioAnswer] = ()
    if left:
        at_once = workers or (usual_workers() if address is None else workers_of(address))
        coming = answers(left, standing, min(at_once, len(left)), stop_heeded(), make)
    if store is not None:
        coming = keeping(coming, left, standing, store)
    try:
        for answer in coming:
            found.append(answer)
            click.echo(f"{len(found)} of {len(tasks)}: {answer.name}, {answer.ended}", err=True)
    except (SettingsError, StoreError) as fault:
        if not found:
            raise
        click.echo(f"error {escaped(str(fault))}", err=True)
    outputs = Outputs()
    outputs.write(
        out,
        lambda path: write_scenarios_workbook(as_it_is, found, base, asked.plan, path),
    )
    click.echo(scenarios_in_words(as_it_is, found, base, len(tasks)))
    return outputs.end(Exit.PLANNED if found else Exit.OUT_OF_TIME)


def _content(workbook: Path) -> bytes | dict[str, bytes]:
    if not workbook.is_dir():
        return workbook.read_bytes()
    return {path.name: path.read_bytes() for path in sorted(workbook.glob("*.csv"))}
