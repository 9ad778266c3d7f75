"""Time one demo job's whole `make` beside papermill and nbconvert on an empty notebook of twelve cells.

Both are whole processes, run in turn, median of five (three with --short); peak memory is the largest of
the process and its kernel. Run by hand: ``python tests/benchmarks/make.py [--short]``.
"""

import argparse
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

JOBS = Path(__file__).parent.parent.parent / "jobs"

EMPTY = """
import sys, nbformat, papermill
from nbconvert import HTMLExporter
from nbformat.v4 import new_code_cell, new_notebook
source, output, page = sys.argv[1:]
book = new_notebook(cells=[new_code_cell("") for _ in range(12)])
book.metadata["kernelspec"] = {"name": "python3", "display_name": "Python 3", "language": "python"}
nbformat.write(book, source)
done = papermill.execute_notebook(source, output, progress_bar=False)
body, _ = HTMLExporter().from_notebook_node(done)
open(page, "w", encoding="utf-8").write(body)
"""

MEMORY = """
import resource, subprocess, sys
subprocess.run(sys.argv[1:], check=True, capture_output=True)
print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024)
"""


def seconds(command):
    """Return how long a command takes [s]; it must succeed."""
    start = time.perf_counter()
    subprocess.run(command, check=True, capture_output=True)
    return time.perf_counter() - start


def main():
    """Print the table."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--short", action="store_true")
    parser.add_argument("--job", default="harbour-house")
    arguments = parser.parse_args()
    rounds = 3 if arguments.short else 5
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder)
        shutil.copytree(JOBS / "_shared", home / "_shared")
        shutil.copytree(JOBS / arguments.job, home / arguments.job, ignore=shutil.ignore_patterns("runs"))
        make = [sys.executable, "-m", "reportkit", "make", str(home / arguments.job)]
        empty = [sys.executable, "-c", EMPTY, *(str(home / n) for n in ("in.ipynb", "out.ipynb", "out.html"))]
        seconds(make), seconds(empty)  # warm the file cache
        pairs = [(seconds(make), seconds(empty)) for _ in range(rounds)]
        ours, floor = (statistics.median(column) for column in zip(*pairs, strict=True))
        print(f"make {arguments.job}: {ours:.2f} s   empty: {floor:.2f} s   ratio {ours / floor:.2f}")
        if sys.platform != "win32":
            done = subprocess.run(
                [sys.executable, "-c", MEMORY, *make], check=True, capture_output=True, text=True
            )
            print(f"largest process of make: {float(done.stdout):.0f} MB")


if __name__ == "__main__":
    main()
