"""The rows of the architecture: a module imports from lower rows or its own, never from a higher one.

No two modules import each other by any way round, and what is imported inside a function is listed.
"""

import ast
from functools import cache
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

import reportkit

PACKAGE = Path(reportkit.__file__).parent

#: Row of each module or package directly under reportkit.
ROWS = {
    "": 6,
    "__main__": 6,
    "app": 5,
    "documents": 4,
    "findings": 3,
    "study": 3,
    "physics": 2,
    "cutting": 2,
    "work": 2,
    "money": 2,
    "job": 1,
    "climate": 1,
    "base": 0,
}

#: Within row 2: what each package may import of its neighbours.
PURE = {
    "physics": set(),
    "cutting": set(),
    "work": {"cutting"},
    "money": {"cutting", "work"},
}

#: Within physics the same: the sun knows no glass, the glass no room.
PHYSICS = {"sun": set(), "glass": {"sun"}, "room": {"sun", "glass"}}

#: Row 2 takes arrays and numbers: nothing that reads files, clocks or logs.
FORBIDDEN_IN_PURE = {"pathlib", "os", "io", "time", "logging", "requests", "shutil", "datetime.now"}


#: What may be imported inside a function: a package that is slow to start and needed for few commands.
SLOW = {
    "PIL": "photographs only",
    "babel": "loads its data of all languages",
    "distributed": "a cluster only; an extra",
    "pyarrow": "tables for other programs only; an extra",
    "fontTools": "letters of printed documents only",
    "font_source_sans_pro": "printed documents only; an extra",
    "icalendar": "the calendar file only",
    "jupyter_client": "a kernel of its own only",
    "jupyter_server": "the page of the consultation only",
    "matplotlib": "figures only",
    "nbclient": "runs a notebook only",
    "pygeomag": "a compass alone; its model is a large table",
    "openpyxl": "spreadsheets only",
    "pandas": "a second to start",
    "papermill": "runs a notebook only",
    "pi_heif": "photographs only",
    "platformdirs": "only where something may have been kept",
    "plotly": "five megabytes of text, the interactive page only",
    "pvlib": "brings pandas and scipy",
    "requests": "downloads only",
    "ruamel": "written files only",
    "scipy": "half a second to start",
    "timezonefinder": "loads a map; places only",
    "typst": "printed documents only",
    "voila": "the page of the consultation only; an extra",
}

#: Modules that may import ours inside a function, and why.
STARTS_FAST = {
    "app.arguments": "loads the data of all languages only for the command that takes one",
    "app.checks": "a faulty job is told before weather and film are read",
    "app.commands": "help, and what is wrong with a command, are shown before anything is computed",
    "app.printing": "the process that asks for documents does not import what makes them",
    "app.run": "faults of a job are told before what runs and prints it is imported",
    "job.reading.reader": "a new job is written without what tells its place, which brings numpy",
    "app.telling": "a job in English is told of without what other languages need",
    "app.archive": "imported before the job is read",
}


def modules(package=PACKAGE):
    """Return every module of a package as its dotted parts and file."""
    for path in sorted(package.rglob("*.py")):
        parts = path.relative_to(package).with_suffix("").parts
        yield tuple(part for part in parts if part != "__init__"), path


def named(node, path, parts):
    """Return the dotted names that a statement imports, relative ones made absolute; none if it does not."""
    if isinstance(node, ast.Import):
        return [alias.name for alias in node.names]
    if not isinstance(node, ast.ImportFrom):
        return []
    base = node.module or ""
    if node.level:
        is_package = path.name == "__init__.py"
        home = ["reportkit", *parts][: len(parts) + 1 - (node.level - (1 if is_package else 0))]
        base = ".".join([*home, *([base] if base else [])])
    return [f"{base}.{alias.name}" for alias in node.names]


@cache
def parsed(text):
    """Return the syntax of a module, parsed once."""
    return ast.parse(text)


def imports(path, parts):
    """Return the dotted names a module imports, in functions and for types too."""
    tree = parsed(path.read_text(encoding="utf-8"))
    return [name for node in ast.walk(tree) for name in named(node, path, parts)]


def imports_in_functions(path, parts):
    """Return the dotted names a module imports inside its functions."""
    tree = parsed(path.read_text(encoding="utf-8"))
    functions = [node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)]
    return {name for one in functions for node in ast.walk(one) for name in named(node, path, parts)}


def graph(package=PACKAGE):
    """Return for every module of a package those of the package that it imports, by dotted name.

    A package counts as imported where something is taken from its own file, not where only a module in it is.
    """
    found = {".".join(("reportkit", *parts)): imports(path, parts) for parts, path in modules(package)}

    def module(name):
        return name if name in found else name.rpartition(".")[0]

    return {name: {module(one) for one in names} & (set(found) - {name}) for name, names in found.items()}


def circle(edges):
    """Return a circle in a graph, first and last the same, each imported by the next; empty if none."""
    try:
        TopologicalSorter(edges).prepare()
    except CycleError as error:
        return error.args[1]
    return []


def unlisted(package=PACKAGE):
    """Return the imports inside functions that are neither slow packages nor the command line's own."""
    return sorted(
        f"{'.'.join(parts)}: {name}"
        for parts, path in modules(package)
        for name in imports_in_functions(path, parts)
        if name.split(".")[0] not in SLOW
        and not (name.startswith("reportkit.") and ".".join(parts) in STARTS_FAST)
    )


def own(names):
    """Return the part of reportkit that each import of ours names."""
    for name in names:
        if name == "reportkit" or name.startswith("reportkit."):
            rest = name.split(".")[1:]
            yield rest[0] if rest and rest[0] in ROWS else ""


def test_every_part_has_a_row():
    """A new package or module must be given its row here."""
    tops = {parts[0] if parts else "" for parts, _ in modules()}
    assert tops >= set(ROWS)
    assert tops <= set(ROWS), f"no row for {tops - set(ROWS)}"


def test_no_module_imports_from_a_higher_row():
    """Imports go down or stay in the row; the package's own root holds the version only."""
    for parts, path in modules():
        part = parts[0] if parts else ""
        for target in own(imports(path, parts)):
            if target and target != part:
                assert ROWS[target] <= ROWS[part], f"{'.'.join(parts)} (row {ROWS[part]}) imports {target}"


def test_within_the_pure_row_imports_go_one_way():
    """sun -> glass -> room within physics, cutting -> work -> money, and no other way."""
    for parts, path in modules():
        names = imports(path, parts)
        if parts and parts[0] in PURE:
            used = {t for t in own(names) if t in PURE and t != parts[0]}
            assert used <= PURE[parts[0]], f"{'.'.join(parts)} imports {used - PURE[parts[0]]}"
        if len(parts) > 1 and parts[0] == "physics":
            used = {name.split(".")[2] for name in names if name.startswith("reportkit.physics.")}
            used -= {parts[1]}
            assert used <= PHYSICS[parts[1]], f"{'.'.join(parts)} imports {used - PHYSICS[parts[1]]}"


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
    found = circle(edges)
    assert not found, " is imported by ".join(found)


def test_no_module_imports_itself_by_any_way_round():
    """Imports have one direction between modules everywhere, those in functions and for types counted."""
    found = circle(graph())
    assert not found, " is imported by ".join(found)


def test_a_circle_is_told_from_a_line():
    """Three names in a ring are a circle, and in a row or a diamond they are none (made up)."""
    assert circle({"a": {"b", "c"}, "b": {"c"}, "c": set()}) == []
    assert sorted(set(circle({"a": {"b"}, "b": {"c"}, "c": {"a"}, "d": {"a"}}))) == ["a", "b", "c"]


@pytest.mark.parametrize(
    "way",
    [
        "from reportkit.two import thing",
        "from reportkit import two",
        "from . import two",
        "import reportkit.two",
        "def late():\n    from reportkit.two import thing",
        "if TYPE_CHECKING:\n    from reportkit.two import Thing",
    ],
)
def test_every_way_to_import_counts(tmp_path, way):
    """Two made-up modules that import each other are a circle, whichever way one of them does it."""
    (tmp_path / "__init__.py").write_text("")
    (tmp_path / "one.py").write_text(way)
    (tmp_path / "two.py").write_text("")
    assert circle(graph(tmp_path)) == []
    (tmp_path / "two.py").write_text("from reportkit.one import late")
    assert set(circle(graph(tmp_path))) == {"reportkit.one", "reportkit.two"}


def test_imports_inside_functions_are_listed():
    """An import inside a function saves the time to start, and its reason is listed; it hides no circle."""
    assert unlisted() == []


def test_an_unlisted_import_is_found(tmp_path):
    """Ours and quick ones are named, those at the top and the listed ones are not (made up)."""
    (tmp_path / "one.py").write_text(
        "import json\ndef late():\n    import pandas\n    from scipy import stats"
    )
    assert unlisted(tmp_path) == []
    late = "class A:\n    def late(self):\n        import json\n        from reportkit.two import thing"
    (tmp_path / "one.py").write_text(late)
    (tmp_path / "app").mkdir()
    (tmp_path / "app" / "commands.py").write_text("def late():\n    from reportkit.two import thing")
    assert unlisted(tmp_path) == ["one: json", "one: reportkit.two.thing"]


def test_nothing_is_listed_that_is_not_imported_so():
    """A reason whose import is gone goes, too."""
    used = {name.split(".")[0] for parts, path in modules() for name in imports_in_functions(path, parts)}
    assert set(SLOW) <= used
    late = {".".join(parts) for parts, path in modules() if imports_in_functions(path, parts)}
    assert set(STARTS_FAST) <= late


def test_a_module_is_one_noun_of_400_lines_at_most():
    """A module that outgrows 400 lines is two nouns."""
    for parts, path in modules():
        lines = len(path.read_text(encoding="utf-8").splitlines())
        assert lines <= 400, f"{'.'.join(parts)} has {lines} lines"
