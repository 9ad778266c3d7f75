"""The README's pictures are what the tool draws today for the demo job they are taken from."""

import re

import lxml.etree
import pytest
import readme_pictures

ANEW = "draw them anew: .venv/bin/python tests/readme_pictures.py"


def shapes(svg):
    """Return what is seen of an SVG: each shape's and text's kind, words, look and numbers.

    Names of shapes and of hatchings are the drawing library's and differ between its versions.
    """
    seen = []
    for node in lxml.etree.fromstring(svg.encode()).iter("{*}path", "{*}text"):
        if next(node.iterancestors("{*}defs"), None) is not None:
            continue
        told = " ".join(node.get(name, "") for name in ("d", "x", "y"))
        look = re.sub(r"url\([^)]*\)", "hatching", node.get("style", ""))
        numbers = [float(found) for found in re.findall(r"-?\d+(?:\.\d+)?", told)]
        seen.append(((node.tag, node.text if node.tag.endswith("text") else "", look), numbers))
    return seen


@pytest.fixture(scope="module")
def drawn(study_of):
    """The pictures drawn anew."""
    return readme_pictures.drawn(study_of(readme_pictures.JOB.name))


def test_the_pictures_are_those_drawn_today(drawn):
    """Words and looks are equal, places within a tenth of a point."""
    assert {path.name for path in readme_pictures.FOLDER.iterdir()} == set(drawn), ANEW
    for name, (_, svg) in drawn.items():
        kept = shapes((readme_pictures.FOLDER / name).read_text("utf-8"))
        now = shapes(svg)
        assert [one for one, _ in kept] == [one for one, _ in now], ANEW
        assert len(now) > 10
        for (_, before), (_, after) in zip(kept, now, strict=True):
            assert before == pytest.approx(after, abs=0.1), ANEW


def test_the_readme_shows_each_picture_under_its_own_finding(drawn):
    """The words beside a picture are its title, which is made from the numbers it shows."""
    shown = dict(re.findall(r"!\[([^\]]+)\]\(jobs/pictures/([\w.]+)\)", _readme()))
    assert shown == {title: name for name, (title, _) in drawn.items()}


def _readme():
    return (readme_pictures.ROOT / "README.md").read_text("utf-8")
