"""From a job folder to a finished run: load, run the notebook once, export, archive.

The notebook is run by papermill with one parameter, the folder of the run's own copy of the inputs, so
what is archived is what was computed. Every document is a view of that one executed notebook.
"""

from __future__ import annotations

import contextlib
import json
import logging
import os
import shutil
import tempfile
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

from reportkit.app.archive import Run, close, copy_inputs, new_run, write_json
from reportkit.app.grammars import without_grammars
from reportkit.app.machine import refusal_told
from reportkit.app.printing import Only, Order, Printer
from reportkit.app.stopping import told_to_stop
from reportkit.base.cores import several
from reportkit.base.durable import replace_file
from reportkit.base.errors import Fault, InputError, JobError, RunError
from reportkit.base.maker import scratch
from reportkit.base.rings import sought_seldom
from reportkit.base.translatable import translatable

if TYPE_CHECKING:
    from reportkit.documents.layouts.assemble import Kind
    from reportkit.documents.layouts.clean import Cleaned
    from reportkit.job import LoadedJob
    from reportkit.job.model import Job

#: The documents of an offer; after the work there is the review.
OFFER: tuple[Kind, ...] = ("proposal", "basis", "letters", "fitting", "labels")
Progress = Callable[[str], None]

#: Our engine's name in papermill's list (:mod:`reportkit.app.engine`).
ENGINE = "reportkit"

#: Errors of the person's own that show only while computing, such as film that cannot be cut.
_MISTAKES = frozenset({"InputError", *(kind.__name__ for kind in InputError.__subclasses__())})


def make(
    job_dir: Path,
    *,
    documents: Sequence[Kind] = OFFER,
    only: Only | None = None,
    static: bool = False,
    kernel: bool = False,
    anonymous: bool = False,
    at_once: int = 1,
    progress: Progress = lambda text: None,
) -> Path:
    """Run a job and archive it.

    Parameters
    ----------
    job_dir
        The job's folder.
    documents
        Which kinds of documents to write: those of an offer, or ``("review",)`` after the work.
    only
        Write only the HTML or only the PDF documents; both when None.
    static
        Write the HTML documents without scripts, small enough to e-mail.
    kernel
        Run the notebook on a kernel of its own instead of in this process.
    anonymous
        Leave out who the client is and everything written freely, in the inputs too.
    at_once
        Cores that the run may use. With more than one, rooms are shared out, and the documents are made in
        processes of their own, which get ready while this one computes.
    progress
        Called with a few words at each stage.

    Returns
    -------
    Path
        The run's folder.

    Raises
    ------
    JobError
        If the job holds faults, or a review is asked for and there are no readings; nothing is written.
    UnavailableError
        If weather has to be fetched and cannot be.
    RunError
        If the notebook or an export fails. The notebook is kept as ``runs/.failed.ipynb``.
    """
    progress("reading the job")
    loaded = read(job_dir)
    if "review" in documents:
        _must_have_readings(loaded)
    with new_run(job_dir) as run, several(at_once), Printer(beside=at_once > 1, only=only) as printer:
        if anonymous:
            loaded = _anonymous(loaded, run.inputs)
        else:
            copy_inputs(loaded, run.inputs)
        fill(run, loaded.job, documents, only, static, kernel=kernel, progress=progress, printer=printer)
        close(run, anonymous=anonymous)
        return run.keep()


def fill(
    run: Run,
    job: Job,
    documents: Sequence[Kind] = OFFER,
    only: Only | None = None,
    static: bool = False,
    *,
    kernel: bool = False,
    progress: Progress = lambda text: None,
    printer: Printer | None = None,
) -> None:
    """Compute a run whose inputs stand in its folder, and write what comes out beside them.

    Parameters
    ----------
    run
        The run; its number stands in the documents.
    job
        The job that was read from its inputs.
    documents, only, static, kernel, progress
        As for :func:`make`.
    printer
        What makes the documents; this process if None.

    Raises
    ------
    JobError, RunError
        As of :func:`make`.
    """
    sought_seldom()
    progress("computing")
    notebook = _executed(run, job.language, kernel)
    progress("writing the documents")
    (run.folder / "reasoning.ipynb").write_bytes(notebook.file)
    printer = printer or Printer()
    printer.begin(Order(notebook, run.name, documents, only, static))
    _write(notebook, run, job, documents)
    for name, content in printer.finished().items():
        (run.folder / name).write_bytes(content)


def read(job_dir: Path) -> LoadedJob:
    """Read the job; weather it asks to be fetched is fetched once and kept beside it."""
    from reportkit.job import load_job

    loaded = load_job(job_dir)
    if loaded.job.weather.use == "pvgis" and loaded.weather_file is None:
        from reportkit.climate import fetch_pvgis

        fetch_pvgis(loaded.latitude, loaded.longitude, folder=loaded.folder)
        loaded = load_job(job_dir)
    return loaded


def _anonymous(loaded: LoadedJob, into: Path) -> LoadedJob:
    """Copy a job without what tells who the client is, and return the copy."""
    from reportkit.documents.language.words import Words
    from reportkit.job import load_job

    copy_inputs(loaded, into, client=Words(loaded.job.language)("the client").capitalize())
    try:
        return load_job(into)
    except JobError as error:
        rule = translatable("this job cannot be made anonymous: without its free text it has these faults")
        raise JobError(rule, error.faults) from error


def _must_have_readings(loaded: LoadedJob) -> None:
    """Refuse a review of work after which nothing was read."""
    from reportkit.job.reading.readings import FORM, READINGS_FILE

    if not loaded.job.readings:
        rule = translatable("must hold the readings that a review is about")
        hint = translatable(
            "one row for each pair, below a row of columns: {names}", names=",".join(FORM.columns)
        )
        raise JobError(faults=[Fault(READINGS_FILE, 0, "", rule, None, hint)])


def consultation(job_dir: Path) -> Path:
    """Put the notebook to open beside the client into a job's folder, unless it is there already.

    Parameters
    ----------
    job_dir
        The job's folder. The notebook finds the job beside itself, so the folder may be moved.

    Returns
    -------
    Path
        ``consultation.ipynb``.

    Raises
    ------
    JobError
        If the job holds faults; nothing is written.
    UnavailableError
        If weather has to be fetched and cannot be.
    """
    from reportkit.documents.language.markdown import spoken
    from reportkit.documents.language.words import Words
    from reportkit.documents.layouts.clean import serialised
    from reportkit.documents.layouts.templates import template

    loaded = read(job_dir)
    place = job_dir / "consultation.ipynb"
    if not place.exists():
        notebook = json.loads(template("consultation.ipynb").read_text(encoding="utf-8"))
        replace_file(place, serialised(spoken(notebook, Words(loaded.job.language))))
    return place


def _executed(run: Run, language: str, kernel: bool) -> Cleaned:
    """Run the notebook on the run's inputs and return it in a language, cleaned of what varies."""
    with without_grammars():
        import papermill
        from nbclient.exceptions import DeadKernelError
        from papermill.exceptions import PapermillExecutionError
    from reportkit.documents.language.markdown import spoken
    from reportkit.documents.language.words import Words
    from reportkit.documents.layouts.clean import Cleaned, clean
    from reportkit.documents.layouts.templates import template

    logging.getLogger("papermill").setLevel(logging.ERROR)
    output = run.folder / "reasoning.ipynb"
    try:
        with _own_kernel() if kernel else contextlib.nullcontext({"engine_name": ENGINE}) as how:
            notebook = papermill.execute_notebook(
                template("reasoning.ipynb"),
                output,
                parameters={"job_dir": str(run.inputs.resolve())},
                progress_bar=False,
                request_save_on_cell_execute=False,  # the run's notebook is written once, whole
                **how,
            )
    except (PapermillExecutionError, DeadKernelError) as error:
        if stop := told_to_stop():  # of which the kernel died
            raise stop from error
        from reportkit.app.checks import checked

        kept = run.job_dir / "runs" / ".failed.ipynb"
        if getattr(error, "ename", "") in _MISTAKES:
            checked(run.inputs)  # has the same faults, and not as text alone
            raise JobError(str(getattr(error, "evalue", error))) from error
        refused = refusal_told(getattr(error, "ename", ""), str(getattr(error, "evalue", "")))
        if refused is not None:
            raise refused from error
        output.replace(kept)
        cell = getattr(error, "exec_count", None)
        reason = f"{getattr(error, 'ename', type(error).__name__)}: {getattr(error, 'evalue', error)}"
        raise RunError(f"cell {cell} of the notebook failed: {reason} (kept as runs/{kept.name})") from error
    return Cleaned(spoken(clean(notebook), Words(language)))


@contextmanager
def _own_kernel() -> Iterator[dict[str, Any]]:
    """Give papermill a kernel that keeps its files where they are swept, reads nobody's own, and ends first.

    One that is still starting when its folder goes would make another (IPython, ``get_ipython_dir``): in the
    process's folder, if it cannot be ended here.
    """
    from jupyter_client.manager import AsyncKernelManager

    started: list[AsyncKernelManager] = []

    class Kernel(AsyncKernelManager):
        """A kernel that is known before it starts."""

        def __init__(self, **settings: Any) -> None:
            super().__init__(**settings)
            started.append(self)

    folder = scratch("kernel")
    wanted = {"JUPYTER_RUNTIME_DIR": folder, "IPYTHONDIR": folder.parent}
    before = {name: os.environ.get(name) for name in wanted}
    temporary = tempfile.tempdir
    os.environ.update({name: str(path) for name, path in wanted.items()})
    tempfile.tempdir = str(folder)  # there its connection is written (jupyter_client)
    try:
        yield {"kernel_manager_class": Kernel}
    finally:
        for kernel in started:
            process = getattr(kernel.provisioner, "process", None)
            if process is not None:
                process.kill()
                process.wait()
        tempfile.tempdir = temporary
        for name, value in before.items():
            if value is None:
                del os.environ[name]
            else:
                os.environ[name] = value
        shutil.rmtree(folder, ignore_errors=True)


def _write(notebook: Cleaned, run: Run, job: Job, documents: Sequence[Kind]) -> None:
    """Write the results and the calendar."""
    from reportkit.documents.calendar import calendar
    from reportkit.documents.layouts.assemble import assemble
    from reportkit.documents.page import Page
    from reportkit.findings.findings import StoredFindings

    results = assemble(notebook, documents[0]).results
    write_json(run.folder / "results.json", results)
    if "fitting" in documents:
        days = calendar(Page(StoredFindings(job, results)))
        if days is not None:
            (run.folder / "fitting.ics").write_bytes(days)
