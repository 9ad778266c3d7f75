"""The rows of the architecture: a module imports from lower rows or its own, never from a higher one."""

import ast
from pathlib import Path

import reportkit

PACKAGE = Path(reportkit.__file__).parent

#: Row of each module or package directly under reportkit.
ROWS = {
    "": 6,
    "__main__": 6,
    "cli": 6,
    "pipeline": 5,
    "archive": 5,
    "kernel": 5,
    "report": 4,
    "study": 3,
    "findings": 3,
    "sun": 2,
    "glass": 2,
    "room": 2,
    "fitting": 2,
    "money": 2,
    "job": 1,
    "climate": 1,
    "errors": 0,
    "told": 0,
    "units": 0,
}

#: Within row 2: what each package may import of its neighbours.
PURE = {
    "sun": set(),
    "glass": {"sun"},
    "room": {"sun", "glass"},
    "fitting": set(),
    "money": {"fitting"},
}

#: Row 2 takes arrays and numbers: nothing that reads files, clocks or logs.
FORBIDDEN_IN_PURE = {"pathlib", "os", "io", "time", "logging", "requests", "shutil", "datetime.now"}


def modules():
    """Return every module of the package as its dotted parts and file."""
    for path in sorted(PACKAGE.rglob("*.py")):
        parts = path.relative_to(PACKAGE).with_suffix("").parts
        yield tuple(part for part in parts if part != "__init__"), path


def imports(path, parts):
    """Return the dotted names a module imports, relative ones made absolute; typing-only ones too."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    is_package = path.name == "__init__.py"
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = node.module or ""
            if node.level:
                home = ["reportkit", *parts][: len(parts) + 1 - (node.level - (1 if is_package else 0))]
                base = ".".join([*home, *([base] if base else [])])
            if base == "reportkit":
                yield from (f"reportkit.{alias.name}" for alias in node.names)
            else:
                yield base


def own(names):
    """Return the part of reportkit that each import of ours names."""
    for name in names:
        if name == "reportkit" or name.startswith("reportkit."):
            rest = name.split(".")[1:]
            yield rest[0] if rest and rest[0] in ROWS else ""


def test_every_part_has_a_row():
    """A new package or module must be given its row here."""
    tops = {parts[0] if parts else "" for parts, _ in modules()}
    assert tops <= set(ROWS), f"no row for {tops - set(ROWS)}"


def test_no_module_imports_from_a_higher_row():
    """Imports go down or stay in the row; the package's own root holds the version only."""
    for parts, path in modules():
        part = parts[0] if parts else ""
        for target in own(imports(path, parts)):
            if target and target != part:
                assert ROWS[target] <= ROWS[part], f"{'.'.join(parts)} (row {ROWS[part]}) imports {target}"


def test_within_the_pure_row_imports_go_one_way():
    """sun -> glass -> room and fitting -> money, and no other way."""
    for parts, path in modules():
        if parts and parts[0] in PURE:
            used = {t for t in own(imports(path, parts)) if t in PURE and t != parts[0]}
            assert used <= PURE[parts[0]], f"{'.'.join(parts)} imports {used - PURE[parts[0]]}"


def test_the_pure_row_reads_nothing():
    """Row 2 touches no file, clock or log."""
    for parts, path in modules():
        if parts and parts[0] in PURE:
            names = {name.split(".")[0] for name in imports(path, parts)}
            assert not names & FORBIDDEN_IN_PURE, f"{'.'.join(parts)} imports {names & FORBIDDEN_IN_PURE}"


def test_no_cycles_between_parts_of_one_row():
    """Parts of one row may use each other, but not in a circle."""
    edges = {}
    for parts, path in modules():
        part = parts[0] if parts else ""
        for target in own(imports(path, parts)):
            if target and target != part and ROWS[target] == ROWS[part]:
                edges.setdefault(part, set()).add(target)
    for start in edges:
        seen, todo = set(), set(edges[start])
        while todo:
            here = todo.pop()
            assert here != start, f"{start} imports itself through {seen}"
            if here not in seen:
                seen.add(here)
                todo |= edges.get(here, set())


def test_a_module_is_one_noun_of_400_lines_at_most():
    """A module that outgrows 400 lines is two nouns."""
    for parts, path in modules():
        lines = len(path.read_text(encoding="utf-8").splitlines())
        assert lines <= 400, f"{'.'.join(parts)} has {lines} lines"
