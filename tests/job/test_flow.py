"""The three rooms of the job package: the model stands alone, reading uses it, writing uses both."""

import ast
from pathlib import Path

import pytest

import reportkit.job

HOME = Path(reportkit.job.__file__).parent
#: What each room may import of the package.
MAY = {"model": {"model"}, "reading": {"model", "reading"}, "writing": {"model", "reading", "writing"}}


def rooms_imported(path: Path) -> set[str]:
    """Return the rooms a module imports from, in functions and for types too."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("reportkit.job"):
            found |= {(node.module or "").split(".")[2] if node.module != "reportkit.job" else "the face"}
    return found


@pytest.mark.parametrize("room", MAY)
def test_a_room_imports_from_the_rooms_before_it(room: str) -> None:
    """No module looks ahead, nor takes a name from the package's face, which imports every room."""
    seen = set()
    for path in (HOME / room).rglob("*.py"):
        found = rooms_imported(path)
        assert found <= MAY[room], f"{path.name} imports from {found - MAY[room]}"
        seen |= found
    assert seen == MAY[room]


def test_nothing_stands_outside_the_rooms() -> None:
    """The package's own folder holds its face alone."""
    assert {path.name for path in HOME.glob("*.py")} == {"__init__.py"}
    assert {path.parent.name for path in HOME.glob("*/__init__.py")} == set(MAY)
