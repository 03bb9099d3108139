"""The same work on a cluster: its workers are processes of other machines."""

from concurrent.futures import Executor, Future
from typing import Any

from capacity.errors import SettingsError
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
    try:
        from distributed import Client  # an extra of its own
    except ImportError:
        raise SettingsError(
            "a cluster needs a library that is not installed: "
            "pip install 'hangar-capacity[cluster]'."
        ) from None

    def make(workers: int) -> Executor:
        try:
            client = Client(address, timeout=SECONDS_TO_ANSWER)
        except (OSError, ValueError) as fault:
            raise SettingsError(f"no scheduler answers at {address} ({fault}).") from fault
        return _OnCluster(client)

    return make


class _OnCluster(Executor):
    """A cluster's client as an executor, which lets go of the cluster when it is shut down."""

    def __init__(self, client: Any) -> None:
        self._client = client
        self._executor = client.get_executor(pure=False)

    def submit(self, fn: Any, /, *args: Any, **kwargs: Any) -> Future[Any]:
        """Have a function called on a worker."""
        future: Future[Any] = self._executor.submit(fn, *args, **kwargs)
        return future

    def shutdown(self, wait: bool = True, *, cancel_futures: bool = False) -> None:
        """Wait for what has begun unless it is cancelled, and let go of the cluster."""
        self._executor.shutdown(wait=wait and not cancel_futures)
        self._client.close()
