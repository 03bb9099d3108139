"""The coordinator's end of the line to a side of the search."""

import pickle
import queue
import subprocess
import sys
import threading
from types import TracebackType
from typing import Self

from capacity.slots.messages import Choice, Failed, Message, Task


class Sides:
    """Both sides as child processes; their words arrive in one queue, None when one ends.

    Children rather than threads: a solver deep in its work can always be ended, and the
    compiled rounds and the proof each have a core to themselves. Not ``multiprocessing``,
    which would run a caller's unguarded script again in each child.
    """

    def __init__(self, task: Task) -> None:
        """Start the sides and hand them the task."""
        self.words: queue.SimpleQueue[tuple[str, Message | None]] = queue.SimpleQueue()
        self._children = {side: _start(side) for side in ("prove", "find")}
        self.running = set(self._children)
        for side, child in self._children.items():
            _send(child, task)
            threading.Thread(target=self._listen, args=(side, child), daemon=True).start()

    def __enter__(self) -> Self:
        """Return the sides themselves."""
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """End both sides, whatever they are doing."""
        for child in self._children.values():
            child.kill()
            child.wait()
            for stream in (child.stdin, child.stdout):
                if stream is not None:
                    stream.close()

    def pass_on(self, choice: Choice, found_by: str) -> None:
        """Tell the other side a choice."""
        for side, child in self._children.items():
            if side != found_by and side in self.running:
                _send(child, choice)

    def _listen(self, side: str, child: "subprocess.Popen[bytes]") -> None:
        assert child.stdout is not None
        try:
            while True:
                self.words.put((side, pickle.load(child.stdout)))
        except (EOFError, OSError, ValueError, pickle.UnpicklingError):
            if child.wait() > 0:
                self.words.put((side, Failed(f"the process ended with code {child.returncode}")))
            self.words.put((side, None))


def _start(side: str) -> "subprocess.Popen[bytes]":
    # A session of its own, so that Ctrl-C reaches the coordinator alone.
    return subprocess.Popen(
        [sys.executable, "-m", "capacity.slots.side", side],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        start_new_session=True,
    )


def _send(child: "subprocess.Popen[bytes]", message: Task | Choice) -> None:
    assert child.stdin is not None
    try:
        pickle.dump(message, child.stdin)
        child.stdin.flush()
    except (BrokenPipeError, ValueError):
        return  # the side has ended; its last word is on its way
