"""Documents made in a process beside a run are those made in it, and its end is no loss."""

import os
import signal
import time

import pytest

from reportkit.app.printing import Order, Printer, printed
from reportkit.base.errors import RunError
from reportkit.documents.layouts.clean import clean

DOCUMENTS = ("proposal", "letters", "labels")


@pytest.fixture
def order(book_of):
    """Return an order for some documents of a demo job."""
    return Order(clean(book_of("hill-studio")), "0001", DOCUMENTS)


def gone(process):
    """Return whether a process ends within five seconds."""
    until = time.monotonic() + 5
    while time.monotonic() < until:
        try:
            os.kill(process, 0)
        except ProcessLookupError:
            return True
        time.sleep(0.05)
    return False


def test_both_make_the_same_bytes(order):
    """HTML and PDF of what the job has something for, and the process ends with its printer."""
    with Printer(beside=True) as printer:
        processes = [process.pid for process in printer.processes.values()]
        assert len({os.getpid(), *processes}) == 3
        printer.begin(order)
        beside = printer.finished()
    assert all(gone(process) for process in processes)
    assert {"proposal.html", "proposal.pdf", "labels.pdf"} <= set(beside) and "fitting.pdf" not in beside
    assert beside == printed(order)


@pytest.mark.parametrize("before", [True, False])
@pytest.mark.parametrize("of", ["html", "pdf"])
def test_a_process_that_is_killed_is_no_loss(order, of, before):
    """Killed before it has the order or at it, as for want of memory: the same documents are made here."""
    with Printer(beside=True) as printer:
        killed = printer.processes[of].pid
        if before:
            os.kill(killed, signal.SIGKILL)
        printer.begin(order)
        if not before:
            os.kill(killed, signal.SIGKILL)
        assert printer.finished() == printed(order)


def test_its_errors_are_raised_here():
    """A notebook without results: the same words from the process as from here, its place in a note."""
    empty = Order(clean({"cells": [], "metadata": {}}), "0001", ("proposal",))
    with pytest.raises(RunError) as here:
        printed(empty)
    with Printer(beside=True) as printer, pytest.raises(RunError) as beside:
        printer.begin(empty)
        printer.finished()
    assert str(beside.value) == str(here.value)
    assert "in printed" in beside.value.__notes__[0]


def test_a_printer_without_an_order_ends_at_once(capfd):
    """A run that fails before its documents: nothing is left running, nothing is said."""
    with Printer(beside=True, only="pdf") as printer:
        (process,) = printer.processes.values()
        time.sleep(0.5)
    assert gone(process.pid)
    assert capfd.readouterr() == ("", "")
