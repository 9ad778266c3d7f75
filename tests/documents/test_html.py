"""The HTML document, parsed by a general library (lxml) and by the standard one."""

import base64
import json
import re
from itertools import pairwise
from typing import Any

import lxml.etree
import lxml.html
import pytest

from reportkit.documents import Paragraph, Section
from reportkit.documents.layouts.assemble import assemble
from reportkit.documents.layouts.html import document, fragment, scoped


@pytest.fixture(scope="module")
def live(samples: Any) -> str:
    """The proposal with scripts."""
    return document(assemble(samples.sample_notebook(), "proposal").page)


@pytest.fixture(scope="module")
def still(samples: Any) -> str:
    """The proposal without scripts."""
    return document(assemble(samples.sample_notebook(), "proposal").page, static=True)


def _without_scripts(page: str) -> Any:
    return lxml.html.document_fromstring(re.sub(r"<script>.*?</script>", "", page, flags=re.DOTALL))


def test_landmarks_language_and_headings(live: str) -> None:
    """WCAG 2.2: language (3.1.1), title (2.4.2), a way to skip (2.4.1), landmarks and headings (1.3.1)."""
    tree = _without_scripts(live)
    assert tree.get("lang") == "en-US"
    assert tree.findtext(".//title") == "Cooler by the east windows"
    for name in ("header", "main", "footer", "h1"):
        assert len(tree.findall(f".//body/{name}" if name != "h1" else ".//h1")) == 1
    skip = tree.find(".//body/a")
    assert skip.get("href") == "#" + tree.find(".//main").get("id")
    levels = [int(node.tag[1]) for node in tree.iter("h1", "h2", "h3", "h4", "h5")]
    assert levels[0] == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))
    meta = {node.get("name"): node.get("content") for node in tree.iter("meta")}
    assert "user-scalable" not in meta["viewport"]


def test_identifiers_are_unique_and_references_resolve(live: str) -> None:
    """No identifier stands twice, also inside pictures; every reference has its target."""
    tree = _without_scripts(live)
    identifiers = [node.get("id") for node in tree.iter() if isinstance(node.tag, str) and node.get("id")]
    assert len(identifiers) == len(set(identifiers))
    for node in tree.iter():
        if isinstance(node.tag, str):
            for name in ("href", "xlink:href", "aria-labelledby", "clip-path"):
                target = node.get(name)
                if target:
                    assert target.removeprefix("url(").rstrip(")").removeprefix("#") in identifiers


def test_every_picture_and_table_has_its_words(live: str) -> None:
    """A picture is an image with a name; a table has a caption, scopes, and a frame a keyboard reaches."""
    tree = _without_scripts(live)
    drawings = tree.xpath("//figure//svg")
    assert [node.get("aria-label") for node in drawings] == [
        "Two bars.",
        "Left words.",
        "First half.",
        "Second half.",
    ]
    assert all(node.get("role") == "img" for node in drawings)
    table = tree.find(".//table")
    assert table.find("caption").text_content() == "Panes by gain"
    assert [node.get("scope") for node in table.iter("th")] == ["col"] * 5 + ["row"] * 4
    frame = table.getparent()
    assert (frame.get("role"), frame.get("tabindex")) == ("region", "0")
    assert frame.get("aria-labelledby") == table.find("caption").get("id")
    assert table.xpath(".//td[contains(@class, 'decimal')]")[0].text_content() == "412.5 W"


def test_nothing_is_loaded(live: str, still: str) -> None:
    """No element names an outside address, no style imports one, and the page's own policy forbids it."""
    for page in (live, still):
        tree = _without_scripts(page)
        for node in tree.iter():
            if not isinstance(node.tag, str):
                continue
            assert node.tag not in ("link", "iframe", "object", "embed", "base", "img")
            for name, value in node.items():
                if name in ("src", "href", "xlink:href", "action", "data", "srcset", "poster"):
                    assert value.startswith("#")
        styles = "".join(node.text or "" for node in tree.iter("style"))
        assert "@import" not in styles
        assert all(url.startswith("data:font/woff;base64,") for url in re.findall(r"url\(([^)]*)\)", styles))
        policy = next(n.get("content") for n in tree.iter("meta") if n.get("http-equiv"))
        assert policy.startswith("default-src 'none'")
        assert "unsafe-inline' 'unsafe-eval" not in policy
        assert "http" not in policy


def test_one_plotting_script_whatever_the_figures(live: str, still: str) -> None:
    """Two interactive figures share one script; the static page has none, and both keep the still picture."""
    scripts = re.findall(r"<script>(.*?)</script>", live, flags=re.DOTALL)
    assert len(scripts) == 2
    assert sum(len(script) > 1_000_000 for script in scripts) == 1
    assert "<script" not in still
    assert "<button" not in still
    assert live.count('class="still"') == still.count('class="still"') == 4
    assert len(live.encode()) < 7_000_000
    assert len(still.encode()) < 1_500_000


def test_the_policy_names_the_page_s_own_scripts(live: str) -> None:
    """The hashes in the policy (CSP level 3) are those of the two scripts as they stand in the page."""
    import base64
    import hashlib

    policy = _without_scripts(live).xpath("//meta[@http-equiv]")[0].get("content")
    scripts = re.findall(r"<script>(.*?)</script>", live, flags=re.DOTALL)
    assert len(scripts) == policy.count("'sha256-") == 2
    for script in scripts:
        digest = base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()
        assert f"'sha256-{digest}'" in policy


def test_screen_data_survive_as_data(live: str, samples: Any) -> None:
    """A closing tag inside a figure's data cannot end the script, and the data come back the same."""
    found = re.findall(r'<script type="application/json" id="day-data">(.*?)</script>', live, flags=re.DOTALL)
    assert len(found) == 1
    assert json.loads(found[0]) == samples.PLOTLY


def test_what_was_typed_is_text(live: str, samples: Any) -> None:
    """Each nasty string reads back as typed, and none made an element."""
    tree = _without_scripts(live)
    paragraphs = [node.text_content() for node in tree.iter("p")]
    for typed in samples.NASTY:
        assert typed in paragraphs
    assert samples.NASTY[0] in [node.text_content() for node in tree.iter("th")]
    assert not tree.xpath("//b") and not tree.xpath("//label")


def test_same_page_twice(live: str, samples: Any) -> None:
    """The same notebook gives the same page."""
    assert document(assemble(samples.sample_notebook(), "proposal").page) == live


def test_alternative_words_are_escaped_in_pictures() -> None:
    """Words for a picture cannot leave the attribute they stand in."""
    drawn = scoped(
        '<?xml version="1.0"?><svg width="9pt" viewBox="0 0 1 1"><g id="a"/></svg>', "p1-", '"><x>&'
    )
    assert drawn.startswith('<svg viewBox="0 0 1 1" role="img" aria-label="&#34;&gt;&lt;x&gt;&amp;">')
    assert 'id="p1-a"' in drawn
    assert lxml.html.fragment_fromstring(drawn).get("aria-label") == '"><x>&'


def test_right_to_left_languages_turn_the_page(samples: Any) -> None:
    """An Arabic document runs from right to left; the fitting sheet says which kind it is."""
    run = samples.executed(
        (Section("s", [Paragraph("x")]), {"fitting": 1}), last=samples.record("ar-EG", "a4")
    )
    page = lxml.html.document_fromstring(document(assemble(run, "fitting").page))
    assert (page.get("dir"), page.get("lang")) == ("rtl", "ar-EG")
    assert "fitting" in page.find("body").get("class")


def test_a_fragment_is_light(samples: Any) -> None:
    """What JupyterLab shows has no script, font or page frame, but the picture, an image, and its words."""
    made = samples.first_section()._repr_mimebundle_()["text/html"]
    tree = lxml.html.fragment_fromstring(made, create_parent="div")
    assert not tree.xpath("//script|//html|//button")
    assert "@font-face" not in made
    (picture,) = tree.xpath("//figure//img")
    assert picture.get("alt") and int(picture.get("width")) > 0
    svg = base64.b64decode(picture.get("src").removeprefix("data:image/svg+xml;base64,"))
    assert lxml.etree.fromstring(svg).tag == "{http://www.w3.org/2000/svg}svg"
    assert not tree.xpath("//figure//svg")
    assert {"tex2jax_ignore", "mathjax_ignore"} <= set(tree.xpath("//div/@class")[0].split())
    assert fragment([]).count("<div") == 1


def _luminance(color: str) -> float:
    """Relative luminance of WCAG 2.2 (definition of relative luminance)."""
    parts = [int(color[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def test_text_colors_have_contrast(live: str) -> None:
    """Every text color has at least 4.5:1 on paper and on the tint (WCAG 2.2, 1.4.3)."""
    styles = "".join(node.text or "" for node in _without_scripts(live).iter("style"))
    found = [
        dict(re.findall(r"--(\w+): (#[0-9a-f]{3,6})", part)) for part in re.findall(r"\{([^}]*)\}", styles)
    ]
    schemes = [scheme for scheme in found if "ink" in scheme]
    assert len(schemes) == 2
    for scheme in schemes:
        colors = {k: v if len(v) == 7 else "#" + "".join(2 * c for c in v[1:]) for k, v in scheme.items()}
        for text in ("ink", "quiet", "accent"):
            for ground in ("#ffffff", colors["tint"]):
                light, dark = sorted((_luminance(colors[text]), _luminance(ground)), reverse=True)
                assert (light + 0.05) / (dark + 0.05) >= 4.5
