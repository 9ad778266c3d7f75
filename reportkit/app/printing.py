"""A run's documents from its executed notebook, and the processes beside a run that make them.

What they stand on (typesetting, letters, templates, the script of the pictures) is got ready there while the
notebook is still computed here. The bytes are the same whichever process makes them.
"""

from __future__ import annotations

import contextlib
import os
import signal
import sys
import threading
import traceback
from collections.abc import Sequence
from dataclasses import dataclass, replace
from queue import SimpleQueue
from typing import TYPE_CHECKING, Any, Literal

from reportkit.app.beside import Beside, answers, hand, received
from reportkit.app.grammars import without_grammars
from reportkit.app.stopping import stoppable
from reportkit.base.rings import sought_seldom

if TYPE_CHECKING:
    from reportkit.documents.layouts.assemble import Kind
    from reportkit.documents.layouts.clean import Cleaned

Only = Literal["html", "pdf"]

#: What documents are made as.
FORMATS: tuple[Only, ...] = ("html", "pdf")


@dataclass(frozen=True)
class Order:
    """Documents that are wanted of a cleaned notebook; ``run`` is printed in them.

    ``only`` and ``static`` as in `reportkit.app.run.make`.
    """

    notebook: Cleaned
    run: str
    documents: Sequence[Kind]
    only: Only | None = None
    static: bool = False


def printed(order: Order) -> dict[str, bytes]:
    """Return the documents that a job has something for, by the names of their files.

    Raises
    ------
    RunError
        If one cannot be made.
    """
    with without_grammars():
        from reportkit.documents.layouts import exporters
    from reportkit.documents.layouts.assemble import present

    notebook: Any = order.notebook  # nbconvert's type knows its own class alone
    files: dict[str, bytes] = {}
    for name, exporter in exporters.BY_FILE.items():
        wanted = exporter.kind in order.documents and present(notebook, exporter.kind)
        if wanted and (order.only is None or name.endswith(order.only)):
            settings = {"static": order.static} if name.endswith("html") else {}
            content: Any  # text or bytes, by the exporter
            content, _ = exporter(run=order.run, **settings).from_notebook_node(notebook)
            files[name] = content.encode("utf-8") if isinstance(content, str) else content
    return files


def prepare(formats: Sequence[Only] = FORMATS) -> None:
    """Import what documents of some formats need; read their templates and letters."""
    with without_grammars():
        from reportkit.documents.layouts import exporters  # noqa: F401 # imported for later
    if "html" in formats:
        from reportkit.documents.layouts import html

        html.prepare()
    if "pdf" in formats:
        from reportkit.documents.layouts import pdf

        pdf.prepare()


class Printer:
    """Makes documents in processes beside this one, one a format, ready before the notebook is; or here.

    Parameters
    ----------
    beside
        Whether to start those processes.
    only
        What will be asked for.
    """

    def __init__(self, *, beside: bool = False, only: Only | None = None) -> None:
        formats = (only,) if only else FORMATS
        self.processes = {name: Beside(__name__, alone=True) for name in formats if beside}
        self._orders: dict[Only, Order] = {}
        for name, process in self.processes.items():
            process.give(name)

    def begin(self, order: Order) -> None:
        """Hand an order over."""
        self._orders = {name: replace(order, only=name) for name in FORMATS if order.only in (None, name)}
        for name, process in self.processes.items():
            process.give(self._orders[name])

    def finished(self) -> dict[str, bytes]:
        """Return the documents of the order handed over, by the names of their files.

        Raises
        ------
        RunError
            If one cannot be made.
        """
        files: dict[str, bytes] = {}
        for name, order in self._orders.items():
            answer = self.processes[name].answer() if name in self.processes else None
            if isinstance(answer, Exception):
                raise answer
            files |= printed(order) if answer is None else answer
        return files

    def __enter__(self) -> Printer:
        """Return it."""
        return self

    def __exit__(self, *error: object) -> None:
        """End its processes."""
        for process in self.processes.values():
            process.close()


def main() -> None:
    """Get ready, and answer one order; end at once where whoever started this has ended."""
    sought_seldom()
    answer_to = answers()
    with contextlib.suppress(KeyboardInterrupt, BrokenPipeError), stoppable():
        given: SimpleQueue[Any] = SimpleQueue()
        threading.Thread(target=_listen, args=(given,), daemon=True).start()
        prepare((given.get(),))
        hand(answer_to, _answer(given.get()))


def _listen(given: SimpleQueue[Any]) -> None:
    """Pass on what is handed in; when there will be no more, tell this process to stop."""
    with os.fdopen(os.dup(sys.stdin.fileno()), "rb") as stream:
        while (thing := received(stream)) is not None:
            given.put(thing)
    os.kill(os.getpid(), signal.SIGTERM)


def _answer(order: Order) -> dict[str, bytes] | Exception:
    """Return the documents, or the error to raise where they were asked for."""
    try:
        return printed(order)
    except Exception as error:
        error.add_note(traceback.format_exc())  # a pickle holds no traceback; --debug shows the note
        return error


if __name__ == "__main__":
    main()
