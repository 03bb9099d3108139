"""What the commands share: reading a workbook, having a plan of it, where answers may go."""

from collections.abc import Callable, Sequence
from contextlib import AbstractContextManager, nullcontext, suppress
from datetime import datetime
from pathlib import Path
from threading import Event
from typing import Any, TypeVar

import click

from capacity.commands.exits import Ended, Exit
from capacity.commands.option_types import DAY, FILE, SECONDS, WORKERS
from capacity.commands.outputs import Outputs
from capacity.commands.saved_meanwhile import Writer
from capacity.errors import AuditError, InputError
from capacity.facts import Base
from capacity.inputs import Book
from capacity.inputs.limited import read_book
from capacity.inputs.reading.as_of import AsOf, as_of_plan
from capacity.messages import Level, Message
from capacity.planning import plan as make_plan
from capacity.plans.outcome import Impossible, OutOfTime, Planned
from capacity.plans.plan import Plan
from capacity.progress_line import ProgressLine
from capacity.questions.asking.as_outcome import as_outcome
from capacity.reports import report
from capacity.reports.kit.whole_file import refuse_unwritable
from capacity.reports.plan_files.asked_plan import read_plan
from capacity.reports.plan_files.written import read_plan_file
from capacity.settings import Settings
from capacity.stopping import StopSignals

Command = TypeVar("Command", bound=Callable[..., Any])
DEFAULTS = Settings()
WORKBOOK = click.argument("workbook", metavar="WORKBOOK", type=FILE)


def seconds_option(default: float, what: str) -> Callable[[Command], Command]:
    """Return the option ``--seconds`` with what the time is for."""
    return click.option(
        "--seconds",
        type=SECONDS,
        default=default,
        show_default=True,
        help=what,
    )


def seed_option() -> Callable[[Command], Command]:
    """Return the option ``--seed``."""
    return click.option(
        "--seed",
        type=click.IntRange(min=0, max=2**31 - 1),
        default=DEFAULTS.seed,
        show_default=True,
        help="Seed of the random search.",
    )


def workers_option(of: str = "") -> Callable[[Command], Command]:
    """Return the option ``--workers``, with what is searched where not all of a command is."""
    return click.option(
        "--workers",
        type=WORKERS,
        metavar="NUMBER",
        help=f"Processes that search{of}: one proves, the others look for plans. Unless set, all "
        "processor cores but one, and two at the least.",
    )


def file_option(
    name: str, argument: str, metavar: str, what: str, *, required: bool = False
) -> Callable[[Command], Command]:
    """Return an option that names a file to be read, given to the command as ``argument``."""
    path = FILE
    return click.option(name, argument, metavar=metavar, type=path, required=required, help=what)


PLAN = file_option(
    "--plan",
    "plan_path",
    "PLAN.json",
    "Plan file of the plan to ask about; without it a plan is made first.",
)


def out_option(metavar: str, what: str, name: str = "--out") -> Callable[[Command], Command]:
    """Return an option that names a file to be written."""
    return click.option(name, metavar=metavar, type=FILE, help=what)


def plan_out_option(what: str) -> Callable[[Command], Command]:
    """Return the option ``--plan-out``, which names the plan file to be written."""
    return out_option("PLAN.json", what, "--plan-out")


PLAN_OUT = plan_out_option("Plan file of the plan that is made first, where --plan names none.")


def opened(workbook: Path, as_of: AsOf | None = None) -> tuple[Base, Book]:
    """Return the base of a workbook; messages are shown, and errors end the command.

    Work left on checks counts from the first day of the plan, or the day ``as_of`` which the
    workbook is read.
    """
    read = read_book(workbook, as_of=as_of)
    show(read.messages)
    return base_read(read, "The workbook"), read


def base_read(read: Book, named: str) -> Base:
    """Return the base that was read; errors, which have been shown, end the command."""
    if read.base is None:
        click.echo(f"{named} has errors; nothing was done.", err=True)
        raise Ended(Exit.INPUT_ERRORS)
    return read.base


READ_ON = click.option(
    "--today",
    type=DAY,
    help="Read it as for a re-plan on this day: progress may be as of it, and work left counts "
    "from it.",
)
IN_FORCE = file_option(
    "--plan",
    "plan_path",
    "PLAN.json",
    "Plan file of the plan in force: with --today, checks that are in by it are in work.",
)


def as_of_day(today: datetime | None, plan_path: Path | None) -> AsOf | None:
    """Return as of which day a workbook is read that no question is asked of; None without one."""
    if today is None:
        if plan_path is not None:
            raise click.UsageError("--plan is for a re-plan: give --today too.")
        return None
    if plan_path is None:
        return AsOf(today.date())
    return as_of_plan(read_plan_file(plan_path).plan, today.date())


def as_of_plans(*paths: Path | None) -> AsOf | None:
    """Return as of which day plan files were re-planned, the latest one; None where none was.

    What is wrong with a file is said when it is asked about.
    """
    found = None
    for path in paths:
        with suppress(InputError):
            file = None if path is None else read_plan_file(path)
            day = file.made.work_counts_from if file and file.made else None
            if file and day and (found is None or day > found.today):
                found = as_of_plan(file.plan, day)
    return found


def base_of(workbook: Path, as_of: AsOf | None = None) -> Base:
    """Return the base of a further workbook; only errors are shown, and they end the command."""
    read = read_book(workbook, as_of=as_of)
    if read.base is None:
        show([message for message in read.messages if message.level is Level.ERROR])
    return base_read(read, str(workbook))


def stop_heeded() -> Event:
    """Return the event of a wish to stop; from now on no signal breaks into the command."""
    signals = click.get_current_context().find_object(StopSignals)
    return Event() if signals is None else signals.heeded()


def stop_breaks_in() -> AbstractContextManager[None]:
    """Let a signal end work that looks at no event of a wish to stop."""
    signals = click.get_current_context().find_object(StopSignals)
    return nullcontext() if signals is None else signals.breaking_in()


def planned(
    base: Base,
    book: Book,
    plan_path: Path | None,
    settings: Settings,
    outputs: Outputs,
    plan_out: Path | None = None,
) -> tuple[Plan, Base]:
    """Return the plan of a plan file, or one made now with ``settings``, and its base.

    The base of a plan file has the day from which work left counts there; what has changed
    in the workbook since is said, and a plan whose figures cannot be right ends the command.
    A plan made now is written to ``plan_out`` where one is asked for. Else it is held by the
    outputs, to be kept if the question about it breaks down; it is kept at once when its search
    was stopped, since more such wishes may follow.
    """
    if plan_path is not None:
        return asked(plan_path, base)
    made = planned_now(base, settings, lambda plan: outputs.hold(plan_file(plan, base, book)))
    outputs.hold(lambda path: report(base, made, path, book.messages, where=book.where))
    outputs.write_plan(plan_out)
    if stop_heeded().is_set():
        outputs.keep_plan()
    return made.plan, base


def planned_now(
    base: Base, settings: Settings, on_plan: Callable[[Plan], None] | None = None
) -> Planned:
    """Return the outcome of planning now; where there is no plan the command ends."""
    click.echo(f"No plan is given: planning first, {settings.seconds:g} s at the most.", err=True)
    with ProgressLine(base.currency, settings.seconds) as line:
        outcome = make_plan(base, settings, line.show, stop_heeded(), on_plan=on_plan)
    if isinstance(outcome, OutOfTime):
        click.echo("Stopped before there was a plan to ask about.", err=True)
        raise Ended(Exit.OUT_OF_TIME)
    if isinstance(outcome, Impossible):
        click.echo("There is no plan to ask about; capacity plan says why.", err=True)
        raise Ended(Exit.IMPOSSIBLE)
    return outcome


def plan_file(plan: Plan, base: Base, book: Book, settings: Settings = DEFAULTS) -> Writer:
    """Return what writes the plan file of a plan whose search has not come to its end.

    The ``base`` may be another than the book's, such as one in which work counts from later on.
    """

    def write(path: Path) -> None:
        outcome = as_outcome(plan, base, settings, 0.0, "fault")
        if outcome.audit.broken:
            raise AuditError(outcome.audit.broken)
        report(base, outcome, path, book.messages, where=book.where, workbook=book.base)

    return write


def asked(plan_path: Path, base: Base) -> tuple[Plan, Base]:
    """Return the plan of a plan file and its base; say what has changed since it was made."""
    read = read_plan(base, plan_path)
    show(read.notes)
    return read.plan, read.base


def show(messages: Sequence[Message]) -> None:
    """Print messages; errors go to the error stream."""
    for message in messages:
        click.echo(str(message), err=message.level is Level.ERROR)


def refuse_wrong_answer(
    workbook: Path, plan_path: Path | None, out: Path | None, plan_out: Path | None
) -> None:
    """Refuse wrong places for an answer and for the plan that is made first, if one is made.

    Raises what ``refuse_wrong_outputs`` does.
    """
    if plan_path is not None and plan_out is not None:
        raise click.UsageError("--plan-out writes the plan that is made first: leave out --plan.")
    refuse_wrong_outputs(
        [workbook, plan_path], ("--out", out, ".xlsx"), ("--plan-out", plan_out, ".json")
    )


def refuse_wrong_outputs(
    inputs: Sequence[Path | None], *outputs: tuple[str, Path | None, str]
) -> None:
    """Find out before the work, not after it, that an answer has nowhere to go.

    ``outputs`` are the option, its path and the ending that it must have. Raises
    ``OutputError`` for a place that may not be written to.
    """
    for option, path, ending in outputs:
        if path is None:
            continue
        if not _is_name(path):
            raise click.BadParameter("no file can have this name", param_hint=option)
        if path.suffix.lower() != ending:
            raise click.BadParameter(f"name a file that ends in {ending}", param_hint=option)
        if any(given is not None and _is_same(path, given) for given in inputs):
            raise click.BadParameter("the input is never written to", param_hint=option)
        if not path.resolve().parent.is_dir():
            raise click.BadParameter(f"there is no folder {path.parent}", param_hint=option)
        if _is_folder(path):
            raise click.BadParameter(f"{path} is a folder", param_hint=option)
        refuse_unwritable(path)


def _is_name(path: Path) -> bool:
    try:
        path.resolve().parent.is_dir()
    except (OSError, RuntimeError, ValueError):  # too long, links in a ring, a zero byte
        return False
    return True


def _is_same(path: Path, other: Path) -> bool:
    return _is_name(other) and path.resolve() == other.resolve()


def _is_folder(path: Path) -> bool:
    try:
        return path.is_dir()
    except OSError:  # a name that no file system takes; writing says so
        return False
