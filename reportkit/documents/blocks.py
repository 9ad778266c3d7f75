"""The document model: what a report says, as plain data, before it takes any form.

A block holds text that is already worded, formatted and localised: no number is formatted after it has
entered a block, and no markup is ever read out of it. HTML, Typst and JupyterLab each render the same
data. A `Section` is what a notebook cell shows; its blocks cross the notebook as JSON under `BLOCKS_MIME`.

Not covered: choosing words (that is the sections' task), drawing figures, any layout, and what concerns the
document as a whole (`reportkit.documents.record`).
"""

from __future__ import annotations

import base64
import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, fields, is_dataclass
from typing import Any, Literal

from reportkit.documents.layouts.shown import shown
from reportkit.documents.runs import Text, one_of, runs


class Block:
    """Base of everything that may stand in a section."""

    def _repr_mimebundle_(self, include: Any = None, exclude: Any = None) -> dict[str, Any]:
        return shown([plain(self)])


@dataclass(frozen=True)
class Heading(Block):
    """A heading; level 1 is a part of the document (the document's own title stands above it)."""

    text: str
    level: int = 1
    id: str = ""

    def __post_init__(self) -> None:
        """Check the level."""
        if not 1 <= self.level <= 4:
            raise ValueError(f"level must be 1 to 4 (got {self.level})")
        if not self.text.strip():
            raise ValueError("text of a heading must not be empty")


@dataclass(frozen=True)
class Paragraph(Block):
    """A paragraph. ``role`` is body, lead (the sentence one must read) or note (small)."""

    text: Text
    role: Literal["body", "lead", "note"] = "body"

    def __post_init__(self) -> None:
        """Normalise the text to runs."""
        one_of("role", self.role, ("body", "lead", "note"))
        object.__setattr__(self, "text", runs(self.text))


@dataclass(frozen=True)
class Bullets(Block):
    """An unordered list; ``marker`` is a dot, a box to tick by hand, or a stop sign."""

    points: Sequence[Text]
    marker: Literal["dot", "tick", "stop"] = "dot"

    def __post_init__(self) -> None:
        """Normalise the points to runs."""
        one_of("marker", self.marker, ("dot", "tick", "stop"))
        object.__setattr__(self, "points", tuple(runs(point) for point in self.points))


@dataclass(frozen=True)
class Steps(Block):
    """An ordered list."""

    points: Sequence[Text]

    def __post_init__(self) -> None:
        """Normalise the points to runs."""
        object.__setattr__(self, "points", tuple(runs(point) for point in self.points))


@dataclass(frozen=True)
class Fact:
    """A label, its value and, where useful, a short note under it."""

    label: str
    value: str
    note: str = ""


@dataclass(frozen=True)
class Facts(Block):
    """Label and value pairs: a strip of key numbers, a list of two columns, or a narrow stack."""

    facts: Sequence[Fact]
    style: Literal["strip", "list", "stack"] = "strip"

    def __post_init__(self) -> None:
        """Accept pairs and triples beside `Fact`."""
        one_of("style", self.style, ("strip", "list", "stack"))
        made = tuple(item if isinstance(item, Fact) else Fact(*item) for item in self.facts)
        object.__setattr__(self, "facts", made)


@dataclass(frozen=True)
class Column:
    """A column of a table.

    Parameters
    ----------
    key
        Its name in a row given as a mapping.
    title
        The words above it.
    align
        left, right, center, or decimal: numbers aligned on the decimal mark.
    width
        Relative width as a share of what is left, or 0 for as wide as its text.
    content
        text; tick (an empty box to tick); write (a line to write on). The last two need no cell text.
    """

    key: str
    title: str
    align: Literal["left", "right", "center", "decimal"] = "left"
    width: float = 0.0
    content: Literal["text", "tick", "write"] = "text"

    def __post_init__(self) -> None:
        """Check the choices."""
        one_of("align", self.align, ("left", "right", "center", "decimal"))
        one_of("content", self.content, ("text", "tick", "write"))


@dataclass(frozen=True)
class Row:
    """A row of a table; ``emphasis`` is none, strong (the one recommended), total, or muted."""

    cells: Sequence[Text] | Mapping[str, Text]
    emphasis: Literal["none", "strong", "total", "muted"] = "none"

    def __post_init__(self) -> None:
        """Check the emphasis."""
        one_of("emphasis", self.emphasis, ("none", "strong", "total", "muted"))


@dataclass(frozen=True)
class Table(Block):
    """A table with a caption that says what it shows.

    Parameters
    ----------
    columns
        The columns, left to right.
    rows
        Each a `Row`, a sequence of texts in the order of the columns, or a mapping by column key (a
        missing key is an empty cell).
    caption
        What the table shows; also its accessible name.
    note
        Small text under it: source, conditions, what a mark means.
    row_headers, fine
        Whether the first column names the row; whether it is small print on paper, to be looked up.
    decimal_mark
        The mark decimal columns align on; empty takes the document's.
    """

    columns: Sequence[Column]
    rows: Sequence[Row | Sequence[Text] | Mapping[str, Text]]
    caption: str
    note: str = ""
    id: str = ""
    row_headers: bool = True
    decimal_mark: str = ""
    fine: bool = False

    def __post_init__(self) -> None:
        """Bring every row to the order of the columns and every cell to runs."""
        columns = tuple(self.columns)
        if not columns:
            raise ValueError("columns must not be empty")
        keys = [column.key for column in columns]
        if len(set(keys)) != len(keys):
            raise ValueError(f"column keys must differ (got {keys})")
        object.__setattr__(self, "columns", columns)
        object.__setattr__(self, "rows", tuple(_row(row, columns) for row in self.rows))


@dataclass(frozen=True)
class Figure(Block):
    """A picture whose title states the finding.

    Parameters
    ----------
    id
        Short name, unique in the document: lower-case letters, digits and hyphens.
    title
        The finding, as a sentence.
    alt
        What a person who cannot see the picture should be told.
    svg
        The static picture, self-contained.
    plotly
        The interactive picture as Plotly's JSON (``figure.to_plotly_json()``), or None.
    caption
        Small text under it.
    width
        full, or half where two may stand side by side.
    """

    id: str
    title: str
    alt: str
    svg: str
    plotly: Mapping[str, Any] | None = field(default=None, compare=False)
    caption: str = ""
    width: Literal["full", "half"] = "full"

    def __post_init__(self) -> None:
        """Check what accessibility needs."""
        one_of("width", self.width, ("full", "half"))
        for name in ("id", "title", "alt"):
            if not str(getattr(self, name)).strip():
                raise ValueError(f"{name} of a figure must not be empty")
        if "<svg" not in self.svg:
            raise ValueError("svg must hold an SVG picture")
        if self.plotly is not None:
            object.__setattr__(self, "plotly", _data(self.plotly))


@dataclass(frozen=True)
class Picture(Block):
    """A photo, as the file itself: it stands in the document, nothing is fetched.

    Parameters
    ----------
    alt
        What a person who cannot see the picture should be told.
    data
        The file's bytes in base64.
    source
        Its name among the record's inputs, where it is one of them: the notebook then keeps it there only.
    media_type
        ``image/jpeg`` or ``image/png``.
    caption
        Small text under it.
    width
        Its share of the width it stands in, over 0 to 1; on paper it is at most 75 mm high.
    """

    alt: str
    data: str
    media_type: Literal["image/jpeg", "image/png"] = "image/jpeg"
    source: str = ""
    caption: str = ""
    width: float = 1.0

    def __post_init__(self) -> None:
        """Check what accessibility needs, and that the file is what it claims to be."""
        one_of("media_type", self.media_type, ("image/jpeg", "image/png"))
        if not self.alt.strip():
            raise ValueError("alt of a picture must not be empty")
        if not 0 < self.width <= 1:
            raise ValueError(f"width must be over 0 and at most 1 (got {self.width})")
        start = {"image/jpeg": b"\xff\xd8\xff", "image/png": b"\x89PNG\r\n\x1a\n"}[self.media_type]
        try:
            content = base64.b64decode(self.data, validate=True)
        except ValueError:
            content = b""
        if not content.startswith(start):
            raise ValueError(f"data must hold a picture of type {self.media_type}, in base64")


@dataclass(frozen=True)
class Caution(Block):
    """Something to heed: what, why, and who decides."""

    title: str
    text: Text
    who: str = ""

    def __post_init__(self) -> None:
        """Normalise the text to runs."""
        object.__setattr__(self, "text", runs(self.text))


@dataclass(frozen=True)
class Signature(Block):
    """Lines to sign on, each with the words under the line."""

    lines: Sequence[str]

    def __post_init__(self) -> None:
        """Keep the lines as a tuple."""
        object.__setattr__(self, "lines", tuple(self.lines))


@dataclass(frozen=True)
class PageBreak(Block):
    """What follows starts a page on paper."""


@dataclass(frozen=True)
class Group(Block):
    """Blocks that stay together on one page; ``frame`` sets them off from what surrounds them."""

    blocks: Sequence[Block]
    frame: bool = False

    def __post_init__(self) -> None:
        """Keep the blocks as a tuple."""
        object.__setattr__(self, "blocks", _blocks(self.blocks))


@dataclass(frozen=True)
class Columns(Block):
    """Groups of blocks side by side (one under the other where the page is narrow)."""

    columns: Sequence[Sequence[Block]]
    shares: Sequence[float] = ()

    def __post_init__(self) -> None:
        """Check that each column has its share."""
        columns = tuple(_blocks(column) for column in self.columns)
        shares = tuple(float(share) for share in self.shares) or (1.0,) * len(columns)
        if len(shares) != len(columns):
            raise ValueError(f"shares must be as many as columns (got {len(shares)} for {len(columns)})")
        object.__setattr__(self, "columns", columns)
        object.__setattr__(self, "shares", shares)


@dataclass(frozen=True)
class Section:
    """What one notebook cell contributes to the documents, and words of the frame it is shown in."""

    id: str
    blocks: Sequence[Block]
    words: Mapping[str, str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Keep the blocks as a tuple."""
        object.__setattr__(self, "blocks", _blocks(self.blocks))

    def __iter__(self) -> Iterator[Block]:
        """Walk the blocks."""
        return iter(self.blocks)

    def _repr_mimebundle_(self, include: Any = None, exclude: Any = None) -> dict[str, Any]:
        return shown([plain(block) for block in self.blocks], self.id, self.words)


def plain(value: Any) -> Any:
    """Return blocks, runs and records as plain JSON data; a block says its ``type``."""
    if is_dataclass(value) and not isinstance(value, type):
        data = {item.name: plain(getattr(value, item.name)) for item in fields(value)}
        if isinstance(value, Block):
            data = {"type": type(value).__name__.lower(), **data}
        return data
    if isinstance(value, Mapping):
        return {str(key): plain(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [plain(item) for item in value]
    return value


def _blocks(blocks: Iterable[Block]) -> tuple[Block, ...]:
    made = tuple(blocks)
    for block in made:
        if not isinstance(block, Block):
            raise TypeError(f"a section holds blocks only (got {type(block).__name__})")
    return made


def _data(value: Any) -> Any:
    """Return a figure's parts as JSON data: arrays as lists, times as text, no-data as null."""
    if isinstance(value, Mapping):
        return {str(key): _data(item) for key, item in value.items()}
    if hasattr(value, "tolist"):
        return _data(value.tolist())
    if isinstance(value, list | tuple):
        return [_data(item) for item in value]
    if isinstance(value, float) and not math.isfinite(value):
        return None
    return value if isinstance(value, str | int | float | bool | None) else str(value)


def _row(row: Row | Sequence[Text] | Mapping[str, Text], columns: Sequence[Column]) -> Row:
    mark: Any = "none"
    cells: Any = row
    if isinstance(row, Row):
        mark, cells = row.emphasis, row.cells
    if isinstance(cells, Mapping):
        unknown = sorted(set(cells) - {column.key for column in columns})
        if unknown:
            raise ValueError(f"row has cells for no column: {unknown}")
        cells = [cells.get(column.key, "") for column in columns]
    if len(cells) != len(columns):
        raise ValueError(f"a row must have {len(columns)} cells (got {len(cells)})")
    return Row(tuple(runs(cell) for cell in cells), mark)
