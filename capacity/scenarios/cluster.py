"""The same work on a cluster: its workers are processes of other machines."""

from concurrent.futures import CancelledError, Executor, Future
from typing import Any

from capacity.errors import CapacityError, SettingsError
from capacity.scenarios.running import MakeExecutor

SECONDS_TO_ANSWER = 30


def cluster(address: str) -> MakeExecutor:
    """Return what makes an executor of the Dask cluster whose scheduler is at ``address``.

    Every worker needs this package in the same version, and does one scenario at a time. The
    cluster itself does the work of a lost worker again.

    Raises
    ------
    SettingsError
        When Dask is not installed; when an executor is made and no scheduler answers.
    """
    _the_library()
    return lambda workers: _OnCluster(_client(address))


def workers_of(address: str) -> int:
    """Return how many scenarios the workers that a cluster has now do at once, at least 1.

    Raises
    ------
    SettingsError
        When Dask is not installed or no scheduler answers.
    """
    with _client(address) as client:
        threads: dict[str, int] = client.nthreads()
    return max(1, sum(threads.values()))


def _the_library() -> Any:
    try:
        import distributed  # an extra of its own
    except ImportError:
        raise SettingsError(
            "a cluster needs a library that is not installed: "
            "pip install 'hangar-capacity[cluster]'."
        ) from None
    return distributed


def _client(address: str) -> Any:
    try:
        return _the_library().Client(address, timeout=SECONDS_TO_ANSWER)
    except (OSError, ValueError) as fault:
        raise SettingsError(f"no scheduler answers at {address} ({fault}).") from fault


class _OnCluster(Executor):
    """A cluster's client as an executor, which lets go of the cluster when it is shut down."""

    def __init__(self, client: Any) -> None:
        self._client = client
        self._executor = client.get_executor(pure=False)
        self._given_up = _the_library().KilledWorker

    def submit(self, fn: Any, /, *args: Any, **kwargs: Any) -> Future[Any]:
        """Have a function called on a worker; what the cluster gives up is a ``CapacityError``."""
        told: Future[Any] = Future()

        def pass_on(found: "Future[Any]") -> None:
            if found.cancelled():  # the scheduler was lost, and knows of it no more
                told.set_exception(CancelledError())
            elif (fault := found.exception()) is None:
                told.set_result(found.result())
            elif isinstance(fault, self._given_up):
                told.set_exception(CapacityError("one worker after another was lost with it"))
            else:
                told.set_exception(fault)

        self._executor.submit(fn, *args, **kwargs).add_done_callback(pass_on)
        return told

    def shutdown(self, wait: bool = True, *, cancel_futures: bool = False) -> None:
        """Wait for what has begun unless it is cancelled, and let go of the cluster."""
        self._executor.shutdown(wait=wait and not cancel_futures)
        self._client.close()
