"""Files of a person read in a child process of bounded time and memory.

``capacity.inputs`` reads in this process, within bounds that count what a file holds. Whatever
a file of somebody else may still do to the libraries that read it, it does in a child then, and
the worst is a message that the file was not read.
"""

import os
import pickle
import signal
import subprocess
import time
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from datetime import date
from pathlib import Path
from threading import Thread
from typing import IO, TYPE_CHECKING, cast

from capacity.child_process import out_of_reach, python_command
from capacity.errors import CapacityError, InputError
from capacity.facts import Base, Check, Package, SharedEnquiry
from capacity.inputs.book import Book
from capacity.inputs.limited_child import Ended, Limits
from capacity.inputs.reading.as_of import AsOf
from capacity.messages import Level, Message

if TYPE_CHECKING:  # the libraries that they come with are the child's alone
    from capacity.inputs.network_workbook import NamedBase
    from capacity.inputs.reading.edited_copy import SheetEdit, SheetTable
    from capacity.inputs.reading.raw import RawBook
    from capacity.inputs.scenarios_workbook import Scenario

Wanted = Callable[[], bool]

LIMITS = Limits(cpu_seconds=20, bytes=2**30)

WALL_SECONDS = 300
"""Longer than this no file is waited for, also where processor time cannot be bounded."""

_SECONDS_BETWEEN_LOOKS = 0.2
_REMEDY = "Copy the tables into a new workbook, or save them as CSV files."
_REMEDY_OF_JSON = "Write the plan file anew with this program."


class NoLongerWantedError(CapacityError):
    """Whoever asked for the file has gone; its reading was ended."""


def always() -> bool:
    """Whether the answer is still wanted: yes."""
    return True


def read_book(path: Path, still_wanted: Wanted = always, as_of: AsOf | None = None) -> Book:
    """Return what ``capacity.inputs.read_book`` returns; its limits are messages too.

    Raises
    ------
    NoLongerWantedError
        When ``still_wanted`` says no before the file is read.
    """
    try:
        return cast(Book, _within_limits(still_wanted, "read_input:read_book", path, as_of))
    except InputError as fault:
        return Book(None, tuple(fault.messages))


def enquiries_and_messages(
    path: Path, base: Base, still_wanted: Wanted = always
) -> tuple[tuple[Check, ...], list[Message]]:
    """Return what ``enquiries_workbook.enquiries_and_messages`` returns."""
    try:
        answer = _within_limits(
            still_wanted, "enquiries_workbook:enquiries_and_messages", path, base
        )
        return cast(tuple[tuple[Check, ...], list[Message]], answer)
    except InputError as fault:
        return (), list(fault.messages)


def enquiry_rows(
    path: Path, base: Base, still_wanted: Wanted = always
) -> tuple[tuple[Mapping[str, object], ...], list[Message]]:
    """Return what ``enquiries_workbook.rows_and_messages`` returns."""
    try:
        answer = _within_limits(still_wanted, "enquiries_workbook:rows_and_messages", path, base)
        return cast(tuple[tuple[Mapping[str, object], ...], list[Message]], answer)
    except InputError as fault:
        return (), list(fault.messages)


def read_scenarios(path: Path, workbook: Path) -> "tuple[Scenario, ...]":
    """Return what ``scenarios_workbook.read_scenarios`` returns, and raise what it raises."""
    answer = _within_limits(always, "scenarios_workbook:read_scenarios", path, workbook)
    return cast("tuple[Scenario, ...]", answer)


def bases_named(path: Path) -> "tuple[tuple[NamedBase, ...], list[Message]]":
    """Return what ``network_workbook.bases_named`` returns; its limits are messages too."""
    try:
        answer = _within_limits(always, "network_workbook:bases_named", path)
        return cast("tuple[tuple[NamedBase, ...], list[Message]]", answer)
    except InputError as fault:
        return (), list(fault.messages)


def shared_enquiries(
    path: Path, named: "Sequence[NamedBase]", bases: Mapping[str, Base]
) -> tuple[tuple[SharedEnquiry, ...], list[Message]]:
    """Return what ``network_workbook.shared_enquiries`` returns; its limits are messages too."""
    try:
        work = "network_workbook:shared_enquiries"
        answer = _within_limits(always, work, path, named, bases)
        return cast(tuple[tuple[SharedEnquiry, ...], list[Message]], answer)
    except InputError as fault:
        return (), list(fault.messages)


def sheet_tables(
    path: Path, sheets: Sequence[str], still_wanted: Wanted = always
) -> "tuple[SheetTable, ...]":
    """Return what ``edited_copy.sheet_tables`` returns, and raise what it raises."""
    answer = _within_limits(still_wanted, "reading.edited_copy:sheet_tables", path, sheets)
    return cast("tuple[SheetTable, ...]", answer)


def raw_book(path: Path, still_wanted: Wanted = always) -> "RawBook":
    """Return what ``edited_copy.raw_book`` returns, and raise what it raises."""
    return cast("RawBook", _within_limits(still_wanted, "reading.edited_copy:raw_book", path))


def edited(
    path: Path,
    edits: "Sequence[SheetEdit]",
    as_of: AsOf | None = None,
    still_wanted: Wanted = always,
) -> tuple[bytes, Book]:
    """Return what ``edited_book.edited_and_read`` returns, and raise what it raises."""
    answer = _within_limits(still_wanted, "edited_book:edited_and_read", path, edits, as_of)
    return cast(tuple[bytes, Book], answer)


def read_edited(path: Path, edits: "Sequence[SheetEdit]", as_of: AsOf | None = None) -> Book:
    """Return what ``edited_book.read_edited`` returns, and raise what it raises."""
    return cast(Book, _within_limits(always, "edited_book:read_edited", path, edits, as_of))


def booked(
    path: Path,
    checks: Sequence[Check],
    packages: Sequence[Package],
    still_wanted: Wanted = always,
) -> bytes:
    """Return what ``booked_copy.booked_copy`` returns, and raise what it raises."""
    work = "reading.booked_copy:booked_copy"
    return cast(bytes, _within_limits(still_wanted, work, path, checks, packages))


def held_copy(
    path: Path, held: Mapping[str, tuple[str | None, date | None]], still_wanted: Wanted = always
) -> bytes:
    """Return what ``held_copy.held_copy`` returns, and raise what it raises."""
    return cast(bytes, _within_limits(still_wanted, "reading.held_copy:held_copy", path, held))


def read_held(name: Path, content: bytes | Mapping[str, bytes], as_of: AsOf | None = None) -> Book:
    """Return what ``held_files.read_held`` returns; its limits are messages too."""
    try:
        return cast(Book, _within_limits(always, "held_files:read_held", name, content, as_of))
    except InputError as fault:
        return Book(None, tuple(fault.messages))


def copy_of(path: Path, edits: "Sequence[SheetEdit]") -> bytes | Mapping[str, bytes]:
    """Return what ``rolled_files.copy_of`` returns, and raise what it raises."""
    answer = _within_limits(always, "reading.rolled_files:copy_of", path, edits)
    return cast("bytes | Mapping[str, bytes]", answer)


def within_limits(work: str, path: Path, still_wanted: Wanted = always) -> object:
    """Return what ``module:function`` of a file comes to, its module named in full.

    Raises
    ------
    InputError
        When the work raises it, and when the child comes to the end of its limits.
    NoLongerWantedError
        When ``still_wanted`` says no meanwhile.
    """
    return _within_limits(still_wanted, work, path)


def _within_limits(still_wanted: Wanted, work: str, path: Path, *more: object) -> object:
    """Return what a function of this package, as ``module:function``, comes to in a child.

    Raises
    ------
    InputError
        When the work raises it, and when the child comes to the end of its limits.
    NoLongerWantedError
        When ``still_wanted`` says no meanwhile.
    """
    ended, answer = _ask(still_wanted, pickle.dumps((LIMITS, work, (path, *more))))
    if ended is Ended.DONE:
        return answer
    if ended is Ended.INPUT_ERROR:
        raise InputError(cast(Sequence[Message], answer))
    what = f"the file cannot be read: {answer}"
    if ended is Ended.OUT_OF_MEMORY:
        most = f"{LIMITS.bytes / 2**30:g} GiB of memory"
        what = f"the file takes more than {most} to read, and is not read."
    elif ended is Ended.FAILED and "\n" in str(answer):
        what = f"the file cannot be read ({str(answer).splitlines()[-1][:150]})."
    remedy = _REMEDY_OF_JSON if path.suffix.lower() == ".json" else _REMEDY
    raise InputError([Message(Level.ERROR, path.name or str(path), what, remedy)])


def _ask(still_wanted: Wanted, question: bytes) -> tuple[Ended, object]:
    try:
        child = subprocess.Popen(
            python_command("capacity.inputs.limited_child", str(os.getpid())),
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            env={**os.environ, "OPENBLAS_NUM_THREADS": "1"},  # whose threads take memory each
            **out_of_reach(),  # Ctrl-C reaches this process alone, which ends the child
        )
    except OSError as fault:
        return Ended.FAILED, f"no process for it can be started ({fault.strerror or fault})."
    until = time.monotonic() + WALL_SECONDS
    with child:
        try:
            told = _told(child, question, until, still_wanted)
        finally:
            child.kill()
    if told is None:
        return Ended.FAILED, f"it was not read within {WALL_SECONDS} s."
    if child.returncode < 0 and -child.returncode == getattr(signal, "SIGXCPU", None):
        return Ended.FAILED, f"that takes more than {LIMITS.cpu_seconds} s of processor time."
    if not told:
        # A library in C that gets no memory may end the process instead of saying so.
        return Ended.FAILED, f"the process that read it ended with code {child.returncode}."
    return cast(tuple[Ended, object], pickle.loads(told))


def _told(
    child: "subprocess.Popen[bytes]", question: bytes, until: float, still_wanted: Wanted
) -> bytes | None:
    """Return all that the child says; None when time is up."""
    # Not by ``communicate``: called again after a timeout it sends nothing more of a question that
    # is larger than a pipe holds, and the child would wait for the rest for ever.
    asking, child.stdin = child.stdin, None
    assert asking is not None
    sender = Thread(target=_send, args=(asking, question), name="question to a child", daemon=True)
    try:
        sender.start()
    except (RuntimeError, MemoryError):  # no further thread is to be had
        asking.close()
        raise
    while time.monotonic() < until:
        with suppress(subprocess.TimeoutExpired):
            return child.communicate(timeout=_SECONDS_BETWEEN_LOOKS)[0]
        if not still_wanted():
            raise NoLongerWantedError("Nobody waits for the file any more.")
    return None


def _send(asking: IO[bytes], question: bytes) -> None:
    """Send the whole question; a child that has ended before tells so by its code."""
    with suppress(OSError), asking:
        asking.write(question)
