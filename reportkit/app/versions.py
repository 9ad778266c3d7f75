"""With what a run was made: this program's code, Python, and the version of every package it can import from.

``versions.txt`` in a run is a list of requirements that pip understands, so that the same environment can be
built again from it.
"""

from __future__ import annotations

import hashlib
import platform
import re
from collections.abc import Mapping
from functools import lru_cache
from importlib import metadata
from pathlib import Path
from typing import Any

import reportkit
from reportkit import __version__
from reportkit.documents.layouts.templates import template_folder

#: What belongs to the code, by its ending: whatever else lies in the package has no say in a result.
_CODE = (".py", ".mo", ".csv", ".yaml", ".j2", ".typ", ".js", ".css", ".ipynb")

#: Packages whose version can change a number or a document; the others only start, install or show something.
COUNTED = (
    "babel", "font-source-sans-pro", "fonttools", "icalendar", "jinja2", "matplotlib", "nbconvert", "numpy",
    "openpyxl", "pandas", "papermill", "pi-heif", "pillow", "plotly", "pvlib", "pydantic", "ruamel-yaml",
    "scipy", "timezonefinder", "typst", "tzdata",
)  # fmt: skip


@lru_cache(maxsize=1)
def packages() -> dict[str, str]:
    """Return the version of every installed package that this program needs, directly or not, by its name."""
    versions: dict[str, str] = {}
    seen: set[tuple[str, str]] = set()
    wanted = [("reportkit", "")]
    while wanted:
        name, extra = wanted.pop()
        if (name, extra) in seen:
            continue
        seen.add((name, extra))
        try:
            one = metadata.distribution(name)
        except metadata.PackageNotFoundError:  # asked for on another system only
            continue
        version, requires = _told(one)
        versions[name] = version
        for line in requires:
            needed, _, condition = line.partition(";")
            asked = re.search(r"extra\s*==\s*[\"']([^\"']+)", condition)
            match = re.match(r"\s*([A-Za-z0-9][\w.-]*)\s*(?:\[([^\]]*)\])?", needed)
            if match and (asked[1] if asked else "") in ("", extra):
                more = [part.strip() for part in (match[2] or "").split(",")]
                wanted += [(plain(match[1]), part) for part in {"", *more}]
    return {name: version for name, version in sorted(versions.items()) if name != "reportkit"}


def _told(one: metadata.Distribution) -> tuple[str, list[str]]:
    """Return a package's version and what it requires, from the head of its METADATA (PyPA, core metadata).

    The library parses the long text below the head, too: of over a hundred packages, a tenth of a second.
    """
    head = (one.read_text("METADATA") or "").partition("\n\n")[0].splitlines()
    fields = [line.partition(": ") for line in head]
    told = [value.strip() for name, _, value in fields if name == "Version"]
    if not told:  # an older form
        return one.version, list(one.requires or ())
    return told[0], [value for name, _, value in fields if name == "Requires-Dist"]


def made_with() -> dict[str, Any]:
    """Return what a manifest says: ``tool`` (name, version, digest of its code), ``python``, ``packages``."""
    return {
        "tool": {"name": "reportkit", "version": __version__, "code": code()},
        "python": platform.python_version(),
        "packages": packages(),
    }


def lock(made: Mapping[str, Any]) -> str:
    """Return the text of ``versions.txt``: requirements for pip, told where they belong.

    Parameters
    ----------
    made
        What `made_with` returns.
    """
    head = (
        f"# reportkit {made['tool']['version']} on Python {made['python']}. To build the same again: make an"
        " environment with that Python,\n# pip install -r versions.txt, then reportkit with --no-deps.\n"
    )
    return head + "".join(f"{name}=={version}\n" for name, version in made["packages"].items())


@lru_cache(maxsize=1)
def code() -> str:
    """Return a digest of this program's own files, 16 hex digits: it tells states of one version apart."""
    home = Path(reportkit.__file__).resolve().parent
    templates = template_folder()  # inside the package or beside it: the same digest
    files = [path for path in home.rglob("*") if not path.is_relative_to(templates)]
    named = [(path.relative_to(home).as_posix(), path) for path in files]
    named += [(path.relative_to(templates).as_posix(), path) for path in templates.rglob("*")]
    total = hashlib.sha256()
    for name, path in sorted(named):
        if path.suffix in _CODE and path.is_file():
            total.update(f"{name}\0{hashlib.sha256(path.read_bytes()).hexdigest()}\n".encode())
    return total.hexdigest()[:16]


def plain(name: str) -> str:
    """Return a package's name in its one spelling (PyPA, normalized names)."""
    return re.sub(r"[-_.]+", "-", name).lower()
