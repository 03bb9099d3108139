"""Many scenarios on many processes by ``concurrent.futures``; a lost one's work is done again.

An executor is whatever has ``submit``: processes of this machine, or a cluster's.
"""

import multiprocessing
import os
import signal
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import (
    FIRST_COMPLETED,
    BrokenExecutor,
    CancelledError,
    Executor,
    Future,
    ProcessPoolExecutor,
    wait,
)
from threading import Event, Thread

from capacity.cores import FEWEST_WORKERS, cores_at_hand
from capacity.errors import CapacityError, SettingsError
from capacity.scenarios.one_scenario import answer_of
from capacity.scenarios.values import Ended, ScenarioAnswer, Standing, Task

MOST_TIMES = 3
"""So often a scenario is begun whose process was lost, before it is said to have failed."""

SECONDS_BETWEEN_LOOKS = 0.2

MakeExecutor = Callable[[int], Executor]
"""Makes an executor with so many workers."""

Work = Callable[[Task, Standing], ScenarioAnswer]


def usual_workers() -> int:
    """Return how many scenarios go on at once: each search has two processes."""
    return max(1, cores_at_hand() // FEWEST_WORKERS)


def processes(workers: int) -> Executor:
    """Return processes of this machine, which hear no Ctrl-C of the terminal themselves."""
    context = multiprocessing.get_context("spawn")
    return ProcessPoolExecutor(workers, mp_context=context, initializer=_begin)


def answers(
    tasks: Sequence[Task],
    standing: Standing,
    workers: int,
    stop: Event | None = None,
    make: MakeExecutor = processes,
    work: Work = answer_of,
) -> Iterator[ScenarioAnswer]:
    """Yield the answer of each task as it comes; once ``stop`` is set, no more of them.

    A process that is lost takes with it what it worked on, of some executors what all others
    worked on too: that is begun again. What loses its process ``MOST_TIMES`` is said to have
    failed, and was the last time alone, so that it was no other that took it along.

    Raises
    ------
    SettingsError
        When no process can be started.
    """
    begun = dict.fromkeys(range(len(tasks)), 0)
    new, alone = deque(begun), deque[int]()
    waiting: dict[Future[ScenarioAnswer], int] = {}
    executor = make(workers)
    try:
        while (new or alone or waiting) and not (stop and stop.is_set()):
            source, most = (new, workers) if new else (alone, 1)
            is_broken = False
            while source and len(waiting) < most and not is_broken:
                number = source.popleft()
                begun[number] += 1
                try:
                    waiting[executor.submit(work, tasks[number], standing)] = number
                except BrokenExecutor:
                    begun[number] -= 1
                    source.appendleft(number)
                    is_broken = True
                except (OSError, RuntimeError) as fault:  # no process, or no thread to lead it
                    raise _cannot_start(str(fault)) from fault
            done, _ = wait(waiting, SECONDS_BETWEEN_LOOKS, FIRST_COMPLETED)
            if not done and _has_died(executor):
                raise _cannot_start("no thread that leads it")
            for future in sorted(done, key=waiting.__getitem__):
                number = waiting.pop(future)
                ended = _ended(future, tasks[number])
                if ended is not None:
                    yield ended
                    continue
                is_broken = True
                if begun[number] < MOST_TIMES - 1:
                    new.append(number)
                elif begun[number] < MOST_TIMES:
                    alone.append(number)
                else:
                    yield _failed(tasks[number], f"its process was lost {MOST_TIMES} times")
            if is_broken and not waiting:
                _end(executor)
                executor = make(workers)
    finally:
        _end(executor)


def _ended(future: "Future[ScenarioAnswer]", task: Task) -> ScenarioAnswer | None:
    """Return an answer; None where the process was lost, or the cluster's scheduler."""
    try:
        return future.result()
    except (BrokenExecutor, CancelledError):
        return None
    except CapacityError as fault:
        return _failed(task, str(fault))
    except MemoryError:
        return _failed(task, "there was not enough memory")
    except Exception as fault:  # of one scenario: it takes no other with it
        return _failed(task, f"{type(fault).__name__}: {fault}".partition("\n")[0])


def _cannot_start(why: str) -> SettingsError:
    return SettingsError(
        f"no further process could be started ({why}): raise the limit, or plan fewer scenarios at "
        "the same time."
    )


def _has_died(executor: Executor) -> bool:
    """Return whether the thread that leads a pool has broken down: it would wait for ever."""
    leader = getattr(executor, "_executor_manager_thread", None)
    return leader is not None and not leader.is_alive()


def _failed(task: Task, said: str) -> ScenarioAnswer:
    return ScenarioAnswer(task.name, task.words, Ended.FAILED, said=(said,))


def _end(executor: Executor) -> None:
    """Let go of what has not begun, and end the processes of what has."""
    running = list((getattr(executor, "_processes", None) or {}).values())
    executor.shutdown(wait=False, cancel_futures=True)
    for process in running:
        process.terminate()
    for process in running:
        process.join()


def _begin() -> None:
    """Hear no Ctrl-C, and end with the process that waits for the answers, however that ends."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    parent = multiprocessing.parent_process()

    def end_with_it() -> None:
        if parent is not None:
            parent.join()
            os._exit(1)

    Thread(target=end_with_it, daemon=True).start()
