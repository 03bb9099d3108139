"""``capacity store``: plans of many people, which of them is agreed, who said so and when."""

from collections.abc import Sequence
from pathlib import Path

import click

from capacity.commands.common import as_of_plans, file_option, opened, show
from capacity.commands.exits import Exit
from capacity.commands.opened_store import STORE, in_store, of_plan, opened_store
from capacity.commands.option_types import FILE
from capacity.errors import InputError, OutputError
from capacity.messages import Level, Message
from capacity.reports.compare.text import comparison_in_words
from capacity.reports.kit.whole_file import write_whole
from capacity.store.copies import copy_in, copy_out
from capacity.store.new_plan import new_plan, workbook_file
from capacity.store.opening import default_store, shown
from capacity.store.opening import upgrade as bring_up
from capacity.store.read_back import compared
from capacity.store.store import PlanStore
from capacity.store.values import Role, SavedPlan, Status
from capacity.store.wording import event_in_words, plan_in_words, plans_in_words
from capacity.words import counted


@click.group(no_args_is_help=True)
def store() -> None:
    """Keep plans where others find them, and agree which of them is in force.

    PLAN is the number that a plan has in the store, or its plan number. What is saved is never
    changed or deleted; of the plans of one base one at the most is agreed for any day.
    """


@store.command()
@click.argument("workbook", metavar="WORKBOOK", type=FILE)
@file_option("--plan", "plan_path", "PLAN.json", "Plan file to save.", required=True)
@click.option("--follows", metavar="PLAN", help="The plan in the store that it was made from.")
@click.option("--comment", default="", metavar="TEXT", help="What others should know of it.")
@STORE
def save(
    workbook: Path, plan_path: Path, follows: str | None, comment: str, named: str | None
) -> Exit:
    """Save WORKBOOK and a plan of it as a draft; the audit sees it first."""
    file = workbook_file(workbook)
    base, _ = opened(workbook, as_of_plans(plan_path))
    if workbook_file(workbook) != file:
        what, remedy = "it was changed while it was read.", "Save it again."
        raise InputError([Message(Level.ERROR, str(workbook), what, remedy)])
    with opened_store(named) as kept:
        before = None if follows is None else kept.found(follows).id
        plan_file = workbook_file(plan_path).content
        new, asked = new_plan(base, file, plan_file, before, plan_path)
        show(asked.notes)
        click.echo(f"Saved: {plan_in_words(kept.save(new, comment))}")
    return Exit.PLANNED


@store.command()
@click.option("--base", metavar="BASE", help="Only plans of this base.")
@click.option(
    "--status",
    type=click.Choice([status.value for status in Status]),
    help="Only plans with this status.",
)
@in_store
def history(kept: PlanStore, base: str | None, status: str | None) -> Exit:
    """List the plans of the store, the newest first."""
    found = kept.plans(base, None if status is None else Status(status))
    click.echo(plans_in_words(found))
    return Exit.PLANNED


@store.command("show")
@of_plan
def show_plan(kept: PlanStore, found: SavedPlan) -> Exit:
    """Show a plan: what was done with it and said of it, and the plans it was made from."""
    click.echo(plan_in_words(found))
    for event in kept.history(found.id):
        click.echo(f"  {event_in_words(event)}")
    for before in kept.chain(found.id)[1:]:
        click.echo(f"made from: {plan_in_words(before)}")
    return Exit.PLANNED


@store.command()
@of_plan
@click.argument("text", metavar="TEXT")
def comment(kept: PlanStore, found: SavedPlan, text: str) -> Exit:
    """Comment on a plan."""
    kept.comment(found.id, text)
    click.echo(f"Commented on {plan_in_words(found)}")
    return Exit.PLANNED


@store.command()
@click.option(
    "--on-top-of",
    metavar="PLAN",
    multiple=True,
    help="The agreed plan whose place it takes, where that is not the one it was made from.",
)
@of_plan
def agree(kept: PlanStore, found: SavedPlan, on_top_of: Sequence[str]) -> Exit:
    """Let a plan be the one in force on its days; also to go back to one that was superseded.

    It takes the place of the agreed plan that it was made from. Where another one was agreed
    meanwhile it is refused, and nothing is changed. It plans: it releases no aircraft.
    """
    over = [kept.found(one).id for one in on_top_of] if on_top_of else None
    click.echo(f"Agreed: {plan_in_words(kept.agree(found.id, over))}")
    return Exit.PLANNED


@store.command()
@click.argument("first", metavar="FIRST")
@click.argument("second", metavar="SECOND")
@in_store
def compare(kept: PlanStore, first: str, second: str) -> Exit:
    """Compare two plans of the store: slots, costs, weeks with overload."""
    one, other = kept.found(first), kept.found(second)
    found, base, notes = compared(kept, one.id, other.id)
    show(notes)
    click.echo(comparison_in_words(found, base, (f"plan {one.id}", f"plan {other.id}")))
    return Exit.PLANNED


@store.command()
@of_plan
@click.argument("folder", metavar="FOLDER", type=FILE)
def take(kept: PlanStore, found: SavedPlan, folder: Path) -> Exit:
    """Write a plan's workbook and plan file into FOLDER, as they were saved."""
    workbook = kept.workbook(found.id)
    files = [
        (folder / f"{found.plan_number}.json", kept.plan_file(found.id)),
        (folder / _plain(workbook.name), workbook.content),
    ]
    there = [path for path, content in files if path.exists() and path.read_bytes() != content]
    if there:
        raise OutputError(f"{there[0]} is there already: name another folder.")
    for path, content in files:
        write_whole(content, path)
        click.echo(f"written: {path}")
    return Exit.PLANNED


@store.command("copy-out")
@click.argument("folder", metavar="FOLDER", type=FILE)
@in_store
def copy_all_out(kept: PlanStore, folder: Path) -> Exit:
    """Write all that is in the store into the new FOLDER: for a backup, or another store."""
    number = copy_out(kept, folder)
    click.echo(f"written: {folder} ({counted(number, 'plan')})")
    return Exit.PLANNED


@store.command("copy-in")
@click.argument("folder", metavar="FOLDER", type=FILE)
@in_store
def copy_all_in(kept: PlanStore, folder: Path) -> Exit:
    """Fill an empty store with what copy-out wrote into FOLDER."""
    click.echo(f"{counted(copy_in(kept, folder), 'plan')} now in {shown(kept.named)}")
    return Exit.PLANNED


@store.command()
@click.option("--give", metavar="PERSON", help="Who is to have the role.")
@click.option("--take-from", metavar="PERSON", help="Who is to have no role any more.")
@click.option("--role", type=click.Choice([role.value for role in Role]), help="What they may do.")
@STORE
def people(give: str | None, take_from: str | None, role: str | None, named: str | None) -> Exit:
    """Show who may read, plan or agree, or change it.

    As long as nobody has a role everybody may do everything; whoever gives the first one has
    'agree' from then on. People are named as this computer, or the sign-in, names them.
    """
    if (give is None) != (role is None):
        raise click.UsageError("Give --give PERSON and --role together.")
    with opened_store(named) as kept:
        if take_from is not None:
            kept.give_role(take_from, None)
        if give is not None and role is not None:
            kept.give_role(give, Role(role))
        known = kept.roles()
        for person, one in known.items():
            click.echo(f"{person}: {one.value}")
        if not known:
            click.echo("Nobody has a role: everybody may read, plan and agree.")
    return Exit.PLANNED


@store.command()
@STORE
def upgrade(named: str | None) -> Exit:
    """Bring the store up to date with this version; back it up first (copy-out)."""
    before, now = bring_up(named or default_store())
    if before == now:
        click.echo("The store is up to date.")
    else:
        click.echo(f"The store has the form {now} now; before, {before or 'none'}.")
    return Exit.PLANNED


def _plain(name: str) -> str:
    """Return a file's name without any folder in it: it comes out of a store of many people."""
    plain = Path(name.replace("\\", "/")).name
    return plain if plain not in ("", ".", "..") else "workbook.xlsx"
