"""The same parcels on many machines: handed to a Dask cluster, whose client speaks in futures, too.

Start one ``dask scheduler`` and, on each machine with this program, ``dask worker ADDRESS --nthreads N``:
each thread of a worker keeps a nursery of its own, so that N jobs are computed at once there. No disk is
shared. A worker that dies has its jobs done by another; that is the cluster's own doing.
"""

from __future__ import annotations

import threading
import uuid
from concurrent.futures import Future
from typing import Any

from reportkit.app.nursery import Nursery
from reportkit.app.parcel import Made, Parcel
from reportkit.base.errors import UnavailableError

#: The nursery of each thread of a worker.
_OWN = threading.local()

#: A worker may die so often over one job before the job is told as failed.
DEATHS = 3


class Cluster:
    """A Dask cluster, by the address of its scheduler.

    Raises
    ------
    UnavailableError
        If the extra ``cluster`` is not installed, nobody answers there, or no worker is there.
    """

    def __init__(self, address: str) -> None:
        try:
            import distributed
        except ImportError as error:
            raise UnavailableError("a scheduler needs the extra: pip install 'reportkit[cluster]'") from error
        try:
            self._client = distributed.Client(address, set_as_default=False, timeout="20s")
        except (OSError, ValueError) as error:
            raise UnavailableError(f"no scheduler answers at {address} ({error})") from error
        threads = sum(self._client.nthreads().values())
        if not threads:
            self._client.close()
            raise UnavailableError(f"the scheduler at {address} has no workers: start dask worker {address}")
        # two for each thread: one in work, one on its way; no more than that waits in the scheduler
        self.at_once = 2 * threads
        self._there: dict[str, Any] = {}

    def submit(self, parcel: Parcel) -> Future[Made]:
        """Return the answer to come."""
        answer: Future[Made] = Future()
        key = f"{parcel.name}-{uuid.uuid4()}"
        there = self._client.submit(made_there, parcel, key=key, pure=False, retries=DEATHS)
        self._there[key] = there  # the cluster forgets what nobody holds

        def arrived(future: Any) -> None:
            try:
                answer.set_result(future.result())
            except Exception as error:
                answer.set_exception(error)
            finally:
                self._there.pop(key, None)

        there.add_done_callback(arrived)
        return answer

    def close(self) -> None:
        """Let go of the cluster; it goes on without us."""
        self._client.close()


def made_there(parcel: Parcel) -> Made:
    """Make a parcel on a worker, in a child of its thread's nursery."""
    if not hasattr(_OWN, "nursery"):
        _OWN.nursery = Nursery()
    answer: Made = _OWN.nursery.made(parcel)
    return answer
