"""Work shared out to several cores is what one makes of it, whatever becomes of the others."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from reportkit.base.cores import cores, several, shared_out

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="work is shared out on Linux alone")


def told(item):
    """Return an item's square and who made it."""
    return item * item, os.getpid()


@pytest.mark.parametrize("at_once", [1, 2, 3, 9])
@pytest.mark.parametrize("count", [0, 1, 2, 7])
def test_the_order_stays(at_once, count):
    """As many processes as there are shares, this one among them, and every item once, in its place."""
    with several(at_once):
        made = shared_out(told, range(count))
    assert [square for square, _ in made] == [number * number for number in range(count)]
    makers = {maker for _, maker in made}
    assert len(makers) == min(at_once, count)
    assert not count or os.getpid() in makers


def test_nothing_is_shared_out_unasked():
    """Outside the block this process does all of it, and it has cores to do it on."""
    with several(2):
        pass
    assert {maker for _, maker in shared_out(told, range(4))} == {os.getpid()}
    assert cores() == len(os.sched_getaffinity(0))


def test_a_share_whose_child_is_killed_is_done_here():
    """Killed as for want of memory, before it answers."""
    home = os.getpid()

    def work(item):
        if os.getpid() != home:
            os.kill(os.getpid(), signal.SIGKILL)
        return told(item)

    with several(2):
        assert shared_out(work, [1, 2, 3]) == [(1, home), (4, home), (9, home)]


def children():
    """Return this process's children, those that other tests have started among them (proc(5))."""
    return {
        child for path in Path("/proc/self/task").glob("*/children") for child in path.read_text().split()
    }


def test_an_error_of_a_share_is_raised_here():
    """As if it had been done here, with its own words; no child is left."""

    def work(item):
        if item == 1:
            raise ValueError(f"no {item}")
        return item

    before = children()
    with several(2), pytest.raises(ValueError, match="no 1"):
        shared_out(work, [0, 1])
    assert children() == before


def test_an_interrupt_ends_the_children():
    """Stopped at its own share, it does not wait for the others."""
    home = os.getpid()

    def work(item):
        if os.getpid() == home:
            raise KeyboardInterrupt
        time.sleep(60)

    begun, before = time.monotonic(), children()
    with several(2), pytest.raises(KeyboardInterrupt):
        shared_out(work, [0, 1])
    assert time.monotonic() - begun < 30
    assert children() == before


def test_numpy_works_in_a_child_beside_its_own_threads():
    """A product of matrices, whose library keeps threads, before and after the fork: the same bits."""
    code = (
        "import numpy as np\n"
        "from reportkit.base.cores import several, shared_out\n"
        "a = np.random.default_rng(1).normal(size=(400, 400))\n"
        "here = a @ a\n"
        "with several(3): made = shared_out(lambda one: a @ a, range(3))\n"
        "assert all((one == here).all() for one in made)\n"
    )
    subprocess.run([sys.executable, "-W", "error", "-c", code], check=True, timeout=60)
