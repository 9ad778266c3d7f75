"""The consultation as a page: the notebook served to this machine's own browser, without code or menus.

Voila runs the notebook on a kernel of its own for each visit and shows what its cells show. The server
listens on this machine alone, answers to no other name than its own, and shows and does nothing without the
key in the address it prints: the page holds a client's data and may write into the job. The page may load
from its own server only, by a policy in its headers.
"""

from __future__ import annotations

import importlib.util
import os
import secrets
import signal
import webbrowser
from collections.abc import Callable
from pathlib import Path
from typing import Any

from traitlets.config import Config

from reportkit.documents.language.words import Words
from reportkit.documents.layouts.templates import template, template_folder
from reportkit.job import load_job

#: The only place listened at and answered for.
HERE = "127.0.0.1"

#: What the page may load: widgets are made by scripts that write styles and build functions.
POLICY = (
    "default-src 'none'; script-src 'self' 'unsafe-inline' 'unsafe-eval'; style-src 'self' 'unsafe-inline'; "
    "font-src 'self' data:; img-src 'self' data: blob:; connect-src 'self' ws://127.0.0.1:*; "
    "base-uri 'none'; form-action 'self'; frame-ancestors 'none'"
)

#: The one extension of JupyterLab that the page needs: it draws the controls.
WIDGETS = ("@jupyter-widgets/jupyterlab-manager", "@voila-dashboards/widgets-manager8")


def installed() -> bool:
    """Return whether what serves the page is installed (the extra ``table``)."""
    return importlib.util.find_spec("voila") is not None


def serve(notebook: Path, *, tell: Callable[[str], None], browser: bool) -> None:
    """Serve a notebook as a page until Ctrl-C, or a signal to end; then its kernels end.

    Parameters
    ----------
    notebook
        The notebook, in its job's folder.
    tell
        Called with the address, its key in it, once it answers.
    browser
        Whether to open it in the browser.
    """
    from jupyter_server.services.kernels.kernelmanager import AsyncMappingKernelManager
    from voila.app import Voila

    job = load_job(notebook.parent).job
    words = Words(job.language)
    ours = str(template_folder() / "table")
    before = os.environ.get("JUPYTER_PATH")
    os.environ["JUPYTER_PATH"] = ours if before is None else os.pathsep.join((ours, before))
    key = secrets.token_urlsafe(24)

    class Table(Voila):  # type: ignore[misc] # it has no types
        """The server, which opens the address with the key in it."""

        def launch_browser(self) -> None:
            """Tell the address, and open it."""
            address = f"http://{HERE}:{self.port}/?token={key}"
            tell(address)
            if browser:
                webbrowser.open(address)

    class Kernels(AsyncMappingKernelManager):
        """Kernels whose own warnings are not the user's."""

        async def start_kernel(self, **options: Any) -> str:  # type: ignore[override] # as theirs is
            """Start one that tells errors only."""
            quiet = ["--IPKernelApp.log_level=40"]
            return str(await super().start_kernel(extra_arguments=quiet, **options))

    resources = {
        "title": words("At the table: {job}", job=job.title or job.id),
        "lang": words.language,
        "css": template("html/table.css").read_text(encoding="utf-8"),
        "waiting": words("Working out the sun on every window …"),
        "scripts": words("This page needs scripts: allow them for it, and load it again."),
    }
    config: dict[str, Any] = {
        "Voila": {
            "ip": HERE,
            "token": key,
            "log_level": "ERROR",
            "config_file_paths": [],  # settings of another program that lie about
            "tornado_settings": {
                "allow_remote_access": False,
                "ws_ping_timeout": 30_000,  # [ms], not over the time from one to the next
                "headers": {"Content-Security-Policy": POLICY, "Referrer-Policy": "no-referrer"},
            },
        },
        "VoilaConfiguration": {
            "multi_kernel_manager_class": Kernels,
            "template": "table",
            "allow_template_override": "NO",
            "allow_theme_override": "NO",
            "strip_sources": True,
            "file_allowlist": [],  # nothing of the job's folder
            "extension_allowlist": list(WIDGETS),
            "extension_denylist": [],
            "resources": {"table": resources},
        },
    }
    table = Table(config=Config(config))
    table.initialize([str(notebook.resolve())])
    signal.signal(
        signal.SIGINT, signal.default_int_handler
    )  # also where a script started it in the background
    if hasattr(signal, "SIGHUP"):
        signal.signal(signal.SIGHUP, table._handle_signal_stop)
    try:
        table.start()
    finally:
        if before is None:
            del os.environ["JUPYTER_PATH"]
        else:
            os.environ["JUPYTER_PATH"] = before
