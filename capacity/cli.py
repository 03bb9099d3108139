"""The command ``capacity``: finds the question that is asked and leaves with an exit code."""

import errno
import importlib
import sys
import traceback
from collections.abc import Sequence

import click

from capacity.address_space import refuse_too_little
from capacity.commands.exits import Ended, Exit
from capacity.errors import (
    AuditError,
    CapacityError,
    EngineError,
    InputError,
    OutputError,
    StoppedError,
)
from capacity.escaped import escaped, escaped_streams
from capacity.standard_streams import keep_their_numbers
from capacity.stopping import StopSignals

# Each is loaded when it is asked for: a quick check must not wait for solvers.
QUESTIONS = {
    "samples": "capacity.commands.samples",
    "new": "capacity.commands.new",
    "verify": "capacity.commands.verify",
    "plan": "capacity.commands.plan",
    "crews": "capacity.commands.crews",
    "overtime": "capacity.commands.overtime",
    "enquiry": "capacity.commands.enquiry",
    "replan": "capacity.commands.replan",
    "roll": "capacity.commands.roll",
    "compare": "capacity.commands.compare",
    "risk": "capacity.commands.risk",
    "explain": "capacity.commands.explain",
    "learn": "capacity.commands.learn",
    "scenarios": "capacity.commands.scenarios",
    "network": "capacity.commands.network",
    "store": "capacity.commands.store",
    "dashboard": "capacity.commands.dashboard",
}
LOAD_NO_SOLVER = {"new", "verify", "store", "dashboard"}


class Questions(click.Group):
    """The questions by name, in the order in which people come to ask them."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return all names."""
        return list(QUESTIONS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Load a question; None for one that is unknown."""
        if cmd_name not in QUESTIONS:
            return None
        if cmd_name not in LOAD_NO_SOLVER:
            refuse_too_little()
        command = getattr(importlib.import_module(QUESTIONS[cmd_name]), cmd_name)
        assert isinstance(command, click.Command)
        return command


@click.group(cls=Questions, no_args_is_help=True)
def app() -> None:
    """Slot plans for an aircraft heavy-maintenance base. It plans; it releases nothing."""


def main(arguments: Sequence[str] | None = None) -> None:
    """Run the command and leave with its exit code; whatever it prints is escaped.

    Without ``arguments`` they are those of this process, which then has nothing else to do:
    signals are heard to its very end.
    """
    is_the_process = arguments is None
    if is_the_process:
        keep_their_numbers()
    signals = StopSignals()
    with escaped_streams(), signals.heard(to_the_end=is_the_process):
        _main(arguments, signals)


def _main(arguments: Sequence[str] | None, signals: StopSignals) -> None:
    try:
        code = app.main(args=arguments, prog_name="capacity", standalone_mode=False, obj=signals)
    except Ended as ended:
        sys.exit(ended.code)
    except click.UsageError as wrong:
        wrong.show()
        sys.exit(Exit.USAGE)
    except (click.Abort, KeyboardInterrupt, StoppedError):
        click.echo("Stopped before there was an answer.", err=True)
        sys.exit(Exit.OUT_OF_TIME)
    except OutputError as fault:
        click.echo(f"error {escaped(str(fault))}", err=True)
        sys.exit(Exit.CANNOT_WRITE)
    except InputError as faults:
        for message in faults.messages:
            click.echo(str(message), err=True)
        sys.exit(Exit.INPUT_ERRORS)
    except (AuditError, EngineError):  # a fault of the program: say all that is known
        traceback.print_exc()
        sys.exit(Exit.FAULT)
    except CapacityError as fault:
        click.echo(f"error {escaped(str(fault))}", err=True)
        sys.exit(Exit.INPUT_ERRORS)
    except Exception as fault:
        if _is_want_of_memory(fault):
            click.echo(f"error there is not enough memory ({escaped(str(fault))}).", err=True)
            click.echo("Close other programs, raise the limit, or plan fewer checks.", err=True)
            sys.exit(Exit.NO_MEMORY)
        traceback.print_exc()
        sys.exit(Exit.FAULT)
    lost = getattr(sys.stdout, "fault", None)
    if lost is not None:
        click.echo(f"error the answer could not be printed ({lost.strerror}).", err=True)
        sys.exit(Exit.CANNOT_WRITE)
    sys.exit(code)


def _is_want_of_memory(fault: Exception) -> bool:
    """Return whether a fault says that memory, or a thread that takes some, is not to be had."""
    if isinstance(fault, OSError):
        return fault.errno == errno.ENOMEM
    if isinstance(fault, ImportError):  # a library that finds no room
        return any(words in str(fault) for words in ("map segment", "allocate memory"))
    return isinstance(fault, MemoryError) or "start new thread" in str(fault)
