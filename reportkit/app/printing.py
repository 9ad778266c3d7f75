"""A run's documents from its executed notebook, and the process beside a run that makes them.

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
from dataclasses import dataclass
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

    files = {}
    for name, exporter in exporters.BY_FILE.items():
        wanted = exporter.kind in order.documents and present(order.notebook, exporter.kind)
        if wanted and (order.only is None or name.endswith(order.only)):
            settings = {"static": order.static} if name.endswith("html") else {}
            content, _ = exporter(run=order.run, **settings).from_notebook_node(order.notebook)
            files[name] = content.encode("utf-8") if isinstance(content, str) else content
    return files


def prepare(only: Only | Literal[""] = "") -> None:
    """Import what documents need, and cut the letters that every page holds."""
    with without_grammars():
        from reportkit.documents.layouts import exporters, fonts  # noqa: F401 # imported for later
    if only != "pdf":
        from plotly.offline import get_plotlyjs

        fonts.web_faces("")
        get_plotlyjs()
    if only != "html":
        import typst  # noqa: F401 # the same


class Printer:
    """Makes documents in a process beside this one, ready before the notebook is; or here.

    Parameters
    ----------
    beside
        Whether to start that process.
    only
        What will be asked for.
    """

    def __init__(self, *, beside: bool = False, only: Only | None = None) -> None:
        self.process = Beside(__name__, alone=True) if beside else None
        self._order: Order | None = None
        if self.process:
            self.process.give(only or "")

    def begin(self, order: Order) -> None:
        """Hand an order over."""
        self._order = order
        if self.process:
            self.process.give(order)

    def finished(self) -> dict[str, bytes]:
        """Return the documents of the order handed over, by the names of their files.

        Raises
        ------
        RunError
            If one cannot be made.
        """
        assert self._order is not None
        answer = self.process.answer() if self.process else None
        if isinstance(answer, Exception):
            raise answer
        return printed(self._order) if answer is None else dict(answer)

    def __enter__(self) -> Printer:
        """Return it."""
        return self

    def __exit__(self, *error: object) -> None:
        """End its process."""
        if self.process:
            self.process.close()


def main() -> None:
    """Get ready, and answer one order; end at once where whoever started this has ended."""
    sought_seldom()
    answer_to = answers()
    with contextlib.suppress(KeyboardInterrupt, BrokenPipeError), stoppable():
        given: SimpleQueue[Any] = SimpleQueue()
        threading.Thread(target=_listen, args=(given,), daemon=True).start()
        prepare(given.get())
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
