"""papermill's engine that runs a notebook in this very process.

A run's notebook is the program's own template: it needs no kernel of its own to be protected from, and a
kernel costs a second interpreter with every import, sockets, and a process that can be left behind. The
cells run in IPython's shell as a kernel would run them; what they display is kept as nbformat keeps it.
What they print is not: nothing of the reasoning is printed, and a stream may name this machine.

papermill finds the engine by its entry point, ``papermill.engine``: any notebook may be run with it,
``papermill --engine reportkit``.
"""

from __future__ import annotations

import atexit
import base64
import builtins
import io
import shutil
import traceback
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, redirect_stderr, redirect_stdout
from typing import Any

from IPython.core.displayhook import DisplayHook
from IPython.core.displaypub import DisplayPublisher
from IPython.core.interactiveshell import InteractiveShell
from nbformat import from_dict
from papermill.engines import Engine
from traitlets.config import Config

from reportkit.base.maker import scratch

#: Nothing of whoever's machine this is: no history, no settings.
_SETTINGS = {"HistoryManager": {"enabled": False}, "InteractiveShell": {"colors": "nocolor"}}

#: What IPython's shell adds to Python's own names for good (its manual, ``init_builtins``).
_ADDED = ("__IPYTHON__", "display")


class InProcess(Engine):
    """Run each code cell in a shell of this process, and stop at the first that fails."""

    @classmethod
    def execute_managed_notebook(cls, nb_man: Any, kernel_name: str, **options: Any) -> None:
        """Execute the notebook that papermill manages.

        Parameters
        ----------
        nb_man
            papermill's own ``NotebookExecutionManager``; its notebook is filled in place.
        kernel_name
            Which kernel the notebook asks for: a Python one, this one.
        options
            Those of other engines; none counts here.

        Raises
        ------
        KeyboardInterrupt, SystemExit
            If a cell was interrupted. Every other error of a cell stays in the notebook, where papermill
            reads it.
        """
        with _shell() as shell:
            for number, cell in enumerate(nb_man.nb.cells):
                nb_man.cell_start(cell, number)
                failed = cell.cell_type == "code" and not _run(shell, cell)
                if failed:
                    nb_man.cell_exception(cell, number)
                nb_man.cell_complete(cell, number)
                if failed:
                    break


class _Last(DisplayHook):
    """Keeps the value of a cell's last line."""

    shell: _Shell

    def write_output_prompt(self) -> None:
        """Print no prompt."""

    def write_format_data(self, format_dict: Mapping[str, Any], md_dict: Any = None) -> None:
        """Keep a value's forms."""
        self.shell.shown.append({"output_type": "execute_result", "data": _encoded(format_dict)})

    def flush(self) -> None:
        """Leave what was shown to the shell's own end, rather than search all of memory for it."""


class _Displayed(DisplayPublisher):
    """Keeps what a cell displays."""

    shell: _Shell

    def publish(self, data: Mapping[str, Any], *args: Any, **kwargs: Any) -> None:
        """Keep a display's forms."""
        self.shell.shown.append({"output_type": "display_data", "data": _encoded(data)})


class _Shell(InteractiveShell):
    """IPython's shell, which keeps what its cell shows as nbformat's outputs."""

    displayhook_class = _Last
    display_pub_class = _Displayed

    def __init__(self, **settings: Any) -> None:
        self.shown: list[dict[str, Any]] = []
        super().__init__(**settings)  # type: ignore[no-untyped-call] # ships no types

    def close(self) -> None:
        """Remove what the shell keeps until the process ends, and what tells others that there is one."""
        atexit.unregister(self.atexit_operations)
        self.atexit_operations()
        type(self).clear_instance()
        for name in _ADDED:
            vars(builtins).pop(name, None)


@contextmanager
def _shell() -> Iterator[_Shell]:
    folder = scratch("shell")
    shell = _Shell.instance(config=Config(_SETTINGS), ipython_dir=str(folder))
    try:
        yield shell
    finally:
        shell.close()
        shutil.rmtree(folder, ignore_errors=True)


def _run(shell: _Shell, cell: Any) -> bool:
    """Run one cell and fill in its outputs; whether it succeeded."""
    shell.shown.clear()
    printed = io.StringIO()
    with redirect_stdout(printed), redirect_stderr(printed):
        result = shell.run_cell(cell.source, store_history=True)
    count = cell.execution_count = result.execution_count
    error = result.error_before_exec or result.error_in_exec
    if isinstance(error, (KeyboardInterrupt, SystemExit)):
        raise error
    outputs = [{"metadata": {}, **shown} for shown in shell.shown]
    for output in outputs:
        if output["output_type"] == "execute_result":
            output["execution_count"] = count
    if error is not None:
        lines = "".join(traceback.format_exception(error)).splitlines()
        outputs.append(
            {"output_type": "error", "ename": type(error).__name__, "evalue": str(error), "traceback": lines}
        )
    cell.outputs = from_dict(outputs)
    return error is None


def _encoded(data: Mapping[str, Any]) -> dict[str, Any]:
    """Return a display's data as nbformat holds it: bytes in base64."""
    return {
        kind: base64.b64encode(value).decode("ascii") if isinstance(value, bytes) else value
        for kind, value in data.items()
    }
