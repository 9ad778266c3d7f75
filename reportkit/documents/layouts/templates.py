"""Where the templates are: inside an installed package, or beside it in a checkout."""

from __future__ import annotations

from pathlib import Path

import reportkit
from reportkit.base.errors import ProgramError


def template_folder(package: Path | None = None) -> Path:
    """Return the folder that holds the templates.

    Parameters
    ----------
    package
        The package's folder; the running one if None.

    Returns
    -------
    pathlib.Path
        ``templates`` inside the package (an installed wheel), else beside it (a checkout).

    Raises
    ------
    ProgramError
        If neither is there: the installation is broken.
    """
    package = package or Path(reportkit.__file__).resolve().parent
    for folder in (package / "templates", package.parent / "templates"):
        if (folder / "typst").is_dir() and (folder / "html").is_dir():
            return folder
    raise ProgramError(f"no templates in or beside {package}: install the package again")


def template(name: str) -> Path:
    """Return the path of one template, such as ``typst/document.typ``."""
    path = template_folder().joinpath(*name.split("/"))
    if not path.is_file():
        raise ProgramError(f"the template {name} is missing: install the package again")
    return path
