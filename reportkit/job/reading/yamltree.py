"""YAML read as a tree of texts that remembers where each stood.

Every scalar stays the text a person sees (``no``, ``1e3`` and ``012`` are not turned into anything
else); an empty plain scalar, ``~`` and ``null`` are "not given". Anchors, aliases and ``<<`` merges work;
tags, a second document, keys given twice, tabs as indentation, and trees too deep or too large (an alias
counts at its full size) are faults. Grammar: YAML 1.2, by ruamel.yaml's parser, but for one sign: ``?``
begins a text, as people write it for what they do not know, and never a key.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from reportkit.base.errors import Fault
from reportkit.base.translatable import translatable
from reportkit.job.reading.files import UNPRINTABLE, clipped

if TYPE_CHECKING:
    from ruamel.yaml import YAML

Path = tuple[str | int, ...]
_NOT_GIVEN = ("", "~", "null", "Null", "NULL")
DEEPEST = 30
MOST_NODES = 50_000


@dataclass
class Tree:
    """A file's content and the place of every entry: file and line, in a workbook sheet, column and row."""

    shown: str
    value: dict[str, Any] = field(default_factory=dict)
    positions: dict[Path, tuple[str, int]] = field(default_factory=dict)

    def at(self, path: Path) -> tuple[str, int]:
        """Return the file and line of a path; line 0 where it stands nowhere."""
        return self.positions.get(path, (self.shown, 0))


@dataclass
class _Node:
    kind: str
    line: int
    text: str = ""
    plain: bool = True
    pairs: list[tuple[_Node, _Node]] = field(default_factory=list)
    items: list[_Node] = field(default_factory=list)
    size: int = 1


class _Refused(Exception):
    def __init__(self, line: int, rule: str, found: str | None = None, hint: str | None = None) -> None:
        super().__init__(rule)
        self.line, self.rule, self.found, self.hint = line, rule, found, hint


def read_tree(shown: str, text: str) -> tuple[Tree | None, list[Fault]]:
    """Return the tree of a YAML text whose top is a mapping, and its faults.

    Parameters
    ----------
    shown
        The file's name as messages show it.
    text
        The file's text.

    Returns
    -------
    tuple
        The tree, or None where the text is not YAML at all, and every fault found.
    """
    from ruamel.yaml import YAML
    from ruamel.yaml.error import MarkedYAMLError, YAMLError

    try:
        root = _compose(asking(YAML(typ="safe", pure=True)).parse(text))
    except _Refused as refused:
        return None, [Fault(shown, refused.line, "", refused.rule, refused.found, refused.hint)]
    except MarkedYAMLError as error:
        return None, _syntax(shown, text, error)
    except (YAMLError, ValueError, RecursionError) as error:
        position = getattr(error, "position", None)
        line = text[:position].count("\n") + 1 if isinstance(position, int) else 0
        hint = translatable("remove the sign that does not print") if position is not None else None
        return None, [
            Fault(
                shown, line, "", translatable("must be text that can be read"), clipped(_reason(error)), hint
            )
        ]
    if root is None or (root.kind == "scalar" and root.plain and root.text in _NOT_GIVEN):
        return None, [
            Fault(
                shown,
                0,
                "",
                translatable("must not be empty"),
                None,
                translatable("fields such as id: and units: go here"),
            )
        ]
    if root.kind != "mapping":
        found = translatable("a list") if root.kind == "sequence" else clipped(root.text)
        rule = translatable("must hold fields at its top, each written name: value")
        return None, [
            Fault(shown, root.line, "", rule, found, translatable("start with a line such as id: my-job"))
        ]
    tree = Tree(shown)
    faults: list[Fault] = []
    tree.value = _plain(root, (), tree, faults)
    return tree, faults


def asking(yaml: YAML) -> YAML:
    """Return a reader of YAML that takes ``?`` for a text, by itself too."""
    from ruamel.yaml.scanner import Scanner

    usual: Any = yaml.Scanner or Scanner
    own = {
        "check_key": lambda scanner: False,
        "check_plain": lambda scanner: scanner.reader.peek() == "?" or usual.check_plain(scanner),
    }
    yaml.Scanner = type("Asking", (usual,), own)
    return yaml


def _reason(error: Exception) -> str:
    return str(getattr(error, "reason", "") or "").replace("#x0", "") or type(error).__name__


def _compose(events: Iterator[Any]) -> _Node | None:
    from ruamel.yaml import events as ev

    anchors: dict[str, _Node | None] = {}
    stack: list[_Node] = []
    pending: list[_Node | None] = []
    root: _Node | None = None
    total = 0

    def place(node: _Node) -> None:
        nonlocal root, total
        total += node.size
        if total > MOST_NODES:
            raise _Refused(
                node.line,
                translatable(
                    "must have at most {count} entries, each alias counted in full",
                    count=MOST_NODES,
                ),
            )
        if not stack:
            root = node
            return
        parent = stack[-1]
        parent.size += node.size
        if parent.kind == "sequence":
            parent.items.append(node)
        elif pending[-1] is None:
            pending[-1] = node
        else:
            parent.pairs.append((pending[-1], node))
            pending[-1] = None

    for event in events:
        line = event.start_mark.line + 1
        if isinstance(event, ev.DocumentStartEvent) and root is not None:
            hint = translatable("keep one document; a line of --- starts another")
            raise _Refused(line, translatable("must hold one document"), translatable("a second one"), hint)
        if isinstance(event, ev.AliasEvent):
            if event.anchor not in anchors:
                raise _Refused(
                    line, translatable("must refer to an anchor above it"), f"*{event.anchor}", _STAR
                )
            node = anchors[event.anchor]
            if node is None:
                raise _Refused(line, translatable("must not refer to itself"), f"*{event.anchor}", _STAR)
            place(node)
            continue
        if getattr(event, "tag", None) is not None and not _implied(event):
            raise _Refused(
                line,
                translatable("must have no tags"),
                clipped(event.tag),
                translatable("remove the word that starts with !"),
            )
        if isinstance(event, ev.ScalarEvent):
            # JSON writes a sign beyond U+FFFF as two halves (RFC 8259, 7); a half alone is none
            text = event.value.encode("utf-16", "surrogatepass").decode("utf-16", "replace")
            odd = UNPRINTABLE.search(event.value if "\ufffd" in text else text)
            if odd:
                raise _Refused(
                    line,
                    translatable("must hold only signs that print"),
                    f"U+{ord(odd[0]):04X}",
                    translatable("remove it"),
                )
            node = _Node("scalar", line, text, not event.style)
            if event.anchor:
                anchors[event.anchor] = node
            place(node)
        elif isinstance(event, (ev.MappingStartEvent, ev.SequenceStartEvent)):
            kind = "mapping" if isinstance(event, ev.MappingStartEvent) else "sequence"
            node = _Node(kind, line)
            if event.anchor:
                anchors[event.anchor] = None
                node.text = event.anchor
            stack.append(node)
            pending.append(None)
            if len(stack) > DEEPEST:
                raise _Refused(
                    line,
                    translatable("must be nested at most {deepest} deep", deepest=DEEPEST),
                    hint=translatable("indent it no further than the field that it belongs to asks"),
                )
        elif isinstance(event, (ev.MappingEndEvent, ev.SequenceEndEvent)):
            node = stack.pop()
            pending.pop()
            if node.text:
                anchors[node.text] = node
            place(node)
    return root


def _implied(event: Any) -> bool:
    implicit = getattr(event, "implicit", None)
    return bool(implicit and (implicit is True or any(implicit)))


def _plain(node: _Node, path: Path, tree: Tree, faults: list[Fault]) -> Any:
    tree.positions.setdefault(path, (tree.shown, node.line))
    if node.kind == "scalar":
        return None if node.plain and node.text in _NOT_GIVEN else node.text
    if node.kind == "sequence":
        values = []
        for index, item in enumerate(node.items):
            values.append(_plain(item, (*path, index), tree, faults))
        return values
    result: dict[str, Any] = {}
    merged: list[_Node] = []
    first: dict[str, int] = {}
    for key, value in node.pairs:
        if key.kind != "scalar":
            rule = translatable("must have a single word as its name")
            hint = translatable("put a text that begins with [ or {{ between quotation marks")
            faults.append(Fault(tree.shown, key.line, _dotted(path), rule, _kind(key), hint))
            continue
        if key.text == "<<" and key.plain:
            merged += value.items if value.kind == "sequence" else [value]
            continue
        name = key.text
        if name in first and not _cut_number(key, value):
            hint = translatable("keep one; the first is in line {line}", line=first[name])
            rule = translatable("must be given once")
            faults.append(
                Fault(tree.shown, key.line, _dotted((*path, name)), rule, translatable("a second one"), hint)
            )
            continue
        if _cut_number(key, value):
            rule = translatable("must not be cut by a comma: inside {{ }} and [ ] a comma separates fields")
            hint = translatable("put the value between quotation marks, or write the number with a point")
            faults.append(Fault(tree.shown, key.line, _dotted(path), rule, clipped(name), hint))
            continue
        first[name] = key.line
        tree.positions[*path, name] = (tree.shown, key.line)
        result[name] = _plain(value, (*path, name), tree, faults)
    for source in merged:
        if source.kind != "mapping":
            faults.append(
                Fault(
                    tree.shown,
                    source.line,
                    _dotted(path),
                    translatable("must name a group of fields to take over"),
                    _kind(source),
                    translatable("take out the line that starts with <<, and write its fields themselves"),
                )
            )
            continue
        for key, value in source.pairs:
            if key.kind == "scalar" and key.text not in result and key.text != "<<":
                tree.positions[*path, key.text] = (tree.shown, key.line)
                result[key.text] = _plain(value, (*path, key.text), tree, faults)
    return result


def _cut_number(key: _Node, value: _Node) -> bool:
    """Return whether a field is the tail of a number with a decimal comma, as in ``{width: 1,5 m}``."""
    return key.plain and key.text[:1].isdigit() and value.plain and value.kind == "scalar" and not value.text


def _dotted(path: Path) -> str:
    return ".".join(str(part + 1) if isinstance(part, int) else part for part in path)


def _kind(node: _Node) -> str:
    """Return what a part of a file is, as a fault says what it found."""
    kinds = {"mapping": translatable("a group of fields"), "sequence": translatable("a list")}
    return kinds.get(node.kind) or clipped(node.text)


_STAR = translatable("put a text that begins with * between quotation marks, or write the value itself")
_UNREADABLE = translatable("it cannot be read")
#: What the parser says of a text, by a part of it, in words of one who never saw YAML.
_PROBLEMS = {
    "mapping values are not allowed": translatable("a second colon on a line, or a line too far in or out"),
    "could not find expected ':'": translatable("a name without its colon, here or in the line above"),
    "expected <block end>": translatable("a line further in or out than those it belongs with"),
    "unexpected end of stream": translatable("a quotation mark that is never closed"),
    "expected ',' or ']'": translatable("a square bracket that is not closed, or a comma left out"),
    "expected ',' or '}'": translatable("a curly bracket that is not closed, or a comma left out"),
    "cannot start any token": translatable("a value that starts with a sign kept for other uses"),
    "expected the node content": translatable("a sign where a value must stand"),
    "unknown escape character": translatable("a backslash inside double quotation marks"),
}


def _syntax(shown: str, text: str, error: Any) -> list[Fault]:
    rows = text.split("\n")
    mark = error.problem_mark or error.context_mark
    line = min(mark.line + 1, len(rows)) if mark is not None else 0
    tabbed = [number for number, row in enumerate(rows, 1) if "\t" in row[: len(row) - len(row.lstrip())]]
    problem = str(error.problem or error.context or "")
    if "\\t" in problem or (tabbed and line and min(abs(number - line) for number in tabbed) <= 1):
        rule = translatable("must be indented with spaces, not with tabs")
        return [
            Fault(
                shown,
                number,
                "",
                rule,
                clipped(rows[number - 1].strip()),
                translatable("put two spaces for each tab"),
            )
            for number in tabbed or [line]
        ]
    found = clipped(rows[line - 1].strip()) or None if line else None
    told = next((said for part, said in _PROBLEMS.items() if part in problem), clipped(problem, 120))
    rule = translatable("must be YAML ({problem})", problem=told or _UNREADABLE)
    hint = translatable(
        "check the indentation, and put text with a colon or a quotation mark in it between quotation marks"
    )
    return [Fault(shown, line, "", rule, found, hint)]
