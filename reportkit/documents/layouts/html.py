"""A document as one HTML file that loads nothing, and blocks as HTML for the notebook.

Jinja2 escapes every string; only the pictures (drawn by this package) and the page's own style and scripts
pass as they are. A content security policy in the page names the hashes of its own scripts, so that no
other script can run and nothing can be fetched. Meets WCAG 2.2 AA in structure and contrast: language,
landmarks, a way to skip, heading order, named tables and figures, visible focus, no sideways scroll of the
page from 360 px.
"""

from __future__ import annotations

import base64
import hashlib
import json
import re
from collections.abc import Mapping, Sequence
from functools import lru_cache
from html import unescape
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup, escape

from reportkit.documents.frame import FRAME_WORDS
from reportkit.documents.layouts.finish import Finisher
from reportkit.documents.layouts.fonts import web_faces
from reportkit.documents.layouts.lettering import POINT, width_mm
from reportkit.documents.layouts.templates import template, template_folder
from reportkit.documents.runs import characters_of, words_of


@lru_cache(maxsize=1)
def _environment() -> Environment:
    return Environment(
        loader=FileSystemLoader(template_folder() / "html", encoding="utf-8"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        keep_trailing_newline=True,
    )


@lru_cache(maxsize=8)
def _text(name: str) -> str:
    return template(f"html/{name}").read_text(encoding="utf-8")


def fragment(
    blocks: Sequence[Mapping[str, Any]], words: Mapping[str, str] | None = None, *, images: bool = False
) -> str:
    """Return blocks as light HTML for JupyterLab: static pictures, no scripts, no embedded fonts.

    A dollar in it stays a dollar: MathJax passes over what carries its two classes (its manual, "options for
    what to process", ``ignoreClass`` of version 2 and ``ignoreHtmlClass`` of 3 and 4).

    Parameters
    ----------
    blocks
        Blocks as JSON data (`reportkit.documents.blocks.plain`).
    words
        Words of the frame that differ from the English ones.
    images
        Put pictures in as image files: a notebook that nobody trusts yet shows those, and no drawing.
    """
    finished = _drawn(Finisher().finish([dict(block) for block in blocks]), {}, live=False, images=images)
    page = _environment().get_template("fragment.html.j2")
    return page.render(
        blocks=finished, words={**FRAME_WORDS, **(words or {})}, css=Markup(_text("blocks.css"))
    )


def prepare() -> None:
    """Read what every document needs: templates, letters, the script of pictures that can be pointed at."""
    _plotly()
    _environment().get_template("document.html.j2")
    web_faces("")
    width_mm("0")


def document(page: Mapping[str, Any], *, static: bool = False) -> str:
    """Return a document as one self-contained HTML page.

    Parameters
    ----------
    page
        The document as `reportkit.documents.layouts.assemble.assemble` makes it.
    static
        Leave scripts and interactive pictures out.

    Returns
    -------
    str
        The page.
    """

    live = not static and _has_live(page["blocks"])
    scripts = []
    if live:
        scripts = [_plotly(), _inline(_text("document.js"))]
    blocks = _drawn(page["blocks"], {}, live=live)
    made = _environment().get_template("document.html.j2")
    return made.render(
        page={**page, "blocks": blocks},
        live=live,
        scripts=[Markup(script) for script in scripts],
        policy=_policy(scripts),
        css=Markup(_text("blocks.css") + _text("document.css")),
        faces=web_faces(
            characters_of(page, skip=("svg", "plotly", "data")) | _picture_characters(page["blocks"])
        ),
        contents=[b for b in page["blocks"] if b["type"] == "heading" and b["level"] == 1],
        direction="rtl" if page["lang"].split("-")[0] in ("ar", "fa", "he", "ur") else "ltr",
    )


@lru_cache(maxsize=1)
def _plotly() -> str:
    from plotly.offline import get_plotlyjs  # five megabytes of text

    return _inline(get_plotlyjs())


def _inline(script: str) -> str:
    """Return a script so that the parser of a page finds no end or comment inside it."""
    script = script.strip().replace("</script", "<\\/script").replace("<!--", "<\\!--")
    return f"\n{script}\n"


def _policy(scripts: Sequence[str]) -> str:
    hashes = [
        "'sha256-" + base64.b64encode(hashlib.sha256(script.encode("utf-8")).digest()).decode("ascii") + "'"
        for script in scripts
    ]
    allowed = " ".join(hashes) or "'none'"
    return (
        f"default-src 'none'; style-src 'unsafe-inline'; font-src data:; img-src data: blob:; "
        f"script-src {allowed}; base-uri 'none'; form-action 'none'"
    )


def _walk(blocks: Sequence[Any]) -> list[Mapping[str, Any]]:
    flat: list[Mapping[str, Any]] = []
    for block in blocks:
        flat.append(block)
        if block["type"] == "group":
            flat += _walk(block["blocks"])
        elif block["type"] == "columns":
            flat += [inner for column in block["columns"] for inner in _walk(column)]
    return flat


def _has_live(blocks: Sequence[Any]) -> bool:
    return any(block["type"] == "figure" and block["plotly"] for block in _walk(blocks))


def _picture_characters(blocks: Sequence[Any]) -> set[str]:
    characters: set[str] = set()
    for block in _walk(blocks):
        if block["type"] == "figure":
            characters |= set(re.sub(r"data:[^\"']+", "", block["svg"]))
            for switch in (block["plotly"] or {}).get("switches", ()):
                characters |= set(_labels(switch))
    return characters


def _labels(switch: Mapping[str, Any]) -> str:
    return str(switch["title"]) + "".join(choice["label"] for choice in switch["choices"])


def _drawn(
    blocks: Sequence[Any], counts: dict[str, int], *, live: bool, images: bool = False
) -> list[dict[str, Any]]:
    """Return blocks with what a template cannot compute: safe pictures, data for scripts, widest tails."""
    made = []
    for given in blocks:
        block = dict(given)
        if block["type"] == "figure":
            counts["figures"] = counts.get("figures", 0) + 1
            inline = scoped(block["svg"], f"p{counts['figures']}-", block["alt"])
            block["drawing"] = Markup(image(block["svg"], block["alt"]) if images else inline)
            if live and block["plotly"]:
                data = json.dumps(block["plotly"], ensure_ascii=False, separators=(",", ":"))
                for sign in "<>&\u2028\u2029":
                    data = data.replace(sign, f"\\u{ord(sign):04x}")
                block["plotly_json"] = Markup(data)
        elif block["type"] == "table":
            tails = [
                [row["splits"][number][1] for row in block["rows"] if row["splits"][number]]
                for number in range(len(block["columns"]))
            ]
            block["widest"] = [max(column, key=len, default="") for column in tails]
            # a column of sentences keeps a readable width; the table then scrolls in its own frame
            block["sentences"] = [
                column["align"] == "left"
                and any(len(words_of(row["cells"][number])) > 24 for row in block["rows"])
                for number, column in enumerate(block["columns"])
            ]
        elif block["type"] == "group":
            block["blocks"] = _drawn(block["blocks"], counts, live=live, images=images)
        elif block["type"] == "columns":
            block["columns"] = [
                _drawn(column, counts, live=live, images=images) for column in block["columns"]
            ]
        made.append(block)
    return made


_TEXT = re.compile(r'<text (style="([^"]*)"[^>]*)>([^<]+)</text>')
_SIZE = re.compile(r"font(?:-size)?:[^;]*?([\d.]+)px")


def _measured(match: re.Match[str]) -> str:
    """Return a text of a picture that takes the width planned for it, whatever typeface the reader has."""

    look, style, text = match.groups()
    size = _SIZE.search(style)
    wide = width_mm(unescape(text), float(size[1]), bold="font-weight: 600" in style) / POINT if size else 0
    if not wide:
        return match[0]
    return f'<text {look} textLength="{wide:.2f}" lengthAdjust="spacingAndGlyphs">{text}</text>'


_BOX = re.compile(r'viewBox="[-\d.]+ [-\d.]+ ([\d.]+) [\d.]+"')


def image(svg: str, alt: str) -> str:
    """Return an SVG as an image of its own, at its own size; its letters as `scoped` has them.

    Parameters
    ----------
    svg
        The picture, a viewBox in points.
    alt
        What a person who cannot see the picture is told.
    """
    drawn = _TEXT.sub(_measured, svg[svg.index("<svg") :].strip())
    data = base64.b64encode(drawn.encode("utf-8")).decode("ascii")
    box = _BOX.search(drawn)
    width = f' width="{float(box[1]) * 96 / 72:.0f}"' if box else ""
    return f'<img{width} alt="{escape(alt)}" src="data:image/svg+xml;base64,{data}">'


_REFERENCE = re.compile(r'(\bid="|href="#|url\(#)([^")]+)')


def scoped(svg: str, prefix: str, alt: str) -> str:
    """Return an SVG to stand inside a page: its own identifiers, its own name, the page's width.

    Its letters stay text, to be read out and searched. A notebook brings no typeface along and the reader's
    may be wider, so each text says how wide it is: it is squeezed then, never cut.

    Parameters
    ----------
    svg
        The picture.
    prefix
        Put before each identifier, which must be unique in the page.
    alt
        What a person who cannot see the picture is told.
    """
    svg = svg[svg.index("<svg") :].strip()
    head, tail = svg[: svg.index(">")], svg[svg.index(">") :]
    head = re.sub(r'\s(?:width|height|role|aria-label)="[^"]*"', "", head)
    head += f' role="img" aria-label="{escape(alt)}"'
    return _REFERENCE.sub(rf"\g<1>{prefix}\g<2>", head + _TEXT.sub(_measured, tail))
