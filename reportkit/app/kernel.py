"""A kernel that boots while the job is being read, and papermill's engine that runs a notebook on it.

Booting a kernel takes about as long as importing papermill and reading a job, and there are two cores.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

from reportkit.base.maker import Maker, scratch

if TYPE_CHECKING:
    from jupyter_client.manager import AsyncKernelManager

#: The engine's name in papermill's list.
ENGINE = "reportkit"

#: What the kernel does while it waits for the notebook: it imports what every run needs.
PREPARED = (
    "import pvlib.iotools, reportkit.documents.view, reportkit.study; "
    "import reportkit.app.kernel; reportkit.app.kernel.end_without('{maker}')"
)


@contextmanager
def booting() -> Iterator[AsyncKernelManager]:
    """Start a kernel and end it with the block, whatever happens in it."""
    from jupyter_client.manager import AsyncKernelManager
    from jupyter_core.utils import run_sync

    folder = scratch("kernel")
    manager = AsyncKernelManager(kernel_name="python3", connection_file=str(folder / "connection.json"))
    # errors only: the kernel's own warnings are not the user's
    run_sync(manager.start_kernel)(
        extra_arguments=[
            "--IPKernelApp.log_level=40",
            f"--IPKernelApp.exec_lines={PREPARED.format(maker=Maker.this())}",
        ],
        env=_surroundings(folder),
    )
    try:
        yield manager
    finally:
        if manager.has_kernel:
            run_sync(manager.shutdown_kernel)(now=True)
        shutil.rmtree(folder, ignore_errors=True)


def end_without(maker: str) -> None:
    """End this kernel where whoever started it has gone already; from now on its own watch ends it."""
    started_by = Maker.read(maker)
    if started_by is not None and started_by.gone():
        os._exit(1)


def _surroundings(folder: Path) -> dict[str, str]:
    """Return the environment of the kernel: nothing of a person's own start-up files, styles or history."""
    plain = folder / "matplotlibrc"
    plain.touch()
    return {**os.environ, "IPYTHONDIR": str(folder / "ipython"), "MATPLOTLIBRC": str(plain)}


def register() -> None:
    """Make the engine known to papermill."""
    from papermill.clientwrap import PapermillNotebookClient
    from papermill.engines import NBClientEngine, papermill_engines
    from papermill.log import logger

    class OnBootedKernel(NBClientEngine):
        """Papermill's own engine, on a kernel that is there already."""

        @classmethod
        def execute_managed_notebook(
            cls, nb_man: Any, kernel_name: str, *, manager: AsyncKernelManager, **options: Any
        ) -> None:
            """Run the notebook; the client then shuts the kernel down as it would its own."""
            client = PapermillNotebookClient(
                nb_man,
                km=manager,
                kernel_name=kernel_name,
                startup_timeout=60,
                shutdown_kernel="immediate",  # it holds nothing that is not in the notebook
                log=logger,
            )
            client.owns_km = True
            client.execute()

    papermill_engines.register(ENGINE, OnBootedKernel)
