"""The templates are found in a wheel and in a checkout."""

import zipfile
from pathlib import Path

import pytest

from reportkit.base.errors import ProgramError
from reportkit.documents.layouts.templates import template, template_folder


def _put(folder: Path) -> Path:
    (folder / "typst").mkdir(parents=True)
    (folder / "html").mkdir()
    return folder


def test_inside_the_package_as_in_a_wheel(tmp_path: Path) -> None:
    """A wheel holds the templates inside the package, and those win."""
    package = tmp_path / "site" / "reportkit"
    inside = _put(package / "templates")
    _put(tmp_path / "site" / "templates")
    assert template_folder(package) == inside


def test_beside_the_package_as_in_a_checkout(tmp_path: Path) -> None:
    """A checkout, or an editable install, has them beside the package."""
    package = tmp_path / "reportkit"
    package.mkdir()
    beside = _put(tmp_path / "templates")
    assert template_folder(package) == beside


def test_missing_templates_are_said_plainly(tmp_path: Path) -> None:
    """A broken installation is named as such."""
    with pytest.raises(ProgramError, match="install the package again"):
        template_folder(tmp_path / "reportkit")
    with pytest.raises(ProgramError, match="is missing"):
        template("typst/absent.typ")
    assert template("typst/document.typ").read_text(encoding="utf-8")


def test_a_zip_of_the_wheel_layout_works(tmp_path: Path) -> None:
    """Files unpacked from an archive with the wheel's layout are found with their content."""
    archive = tmp_path / "r.whl"
    with zipfile.ZipFile(archive, "w") as wheel:
        for name in ("typst/document.typ", "html/document.html.j2"):
            wheel.write(template(name), f"reportkit/templates/{name}")
    with zipfile.ZipFile(archive) as wheel:
        wheel.extractall(tmp_path / "site")
    found = template_folder(tmp_path / "site" / "reportkit")
    assert (found / "typst" / "document.typ").read_bytes() == template("typst/document.typ").read_bytes()
