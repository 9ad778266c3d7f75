"""What holds for every picture: safe and steady SVG, letters that can be read, words that agree with data."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from functools import lru_cache
from itertools import combinations
from typing import Any
from xml.etree import ElementTree

import numpy as np
import pytest
from fontTools.ttLib import TTFont

from reportkit.documents import figures
from reportkit.documents.blocks import Figure
from reportkit.documents.language.formats import Formats
from reportkit.documents.language.words import Words
from reportkit.documents.layouts.fonts import face_file, second_file

SVG = "{http://www.w3.org/2000/svg}"
LINK = "{http://www.w3.org/1999/xlink}href"

#: All pictures that are drawn for a job, by name.
Draw = Callable[[Any], dict[str, list[Figure]]]


@pytest.fixture(scope="module")
def draw(formats: Callable[[Any], Formats], words: Words) -> Draw:
    """Draw every picture of some results."""

    def drawn(results: Any) -> dict[str, list[Figure]]:
        found = {}
        for name in figures.__all__:
            made = getattr(figures, name)(results.findings, formats(results), words)
            found[name] = made if isinstance(made, list) else [made] if made else []
        return found

    return drawn


@pytest.fixture(scope="module")
def pictures(results: Any, draw: Draw) -> list[Figure]:
    """Every picture of one case after the other."""
    return _all(draw(results))


@lru_cache(maxsize=4)
def _advances(weight: int) -> tuple[dict[int, str], Any, int]:
    font = TTFont(face_file(weight) if weight else second_file())
    return font.getBestCmap(), font["hmtx"], font["head"].unitsPerEm


def _width(text: str, size: float, bold: bool) -> float:
    """Width from the font files' own tables, apart from how the pictures measure [pt]."""
    total = 0.0
    for letter in text:
        for weight in (600 if bold else 400, 0):
            names, widths, em = _advances(weight)
            if ord(letter) in names:
                total += widths[names[ord(letter)]][0] / em
                break
        else:
            total += 0.65
    return total * size


def _texts(svg: str) -> list[tuple[str, float, tuple[float, float, float, float]]]:
    """Every text of a picture with its size and the box it fills [pt]."""
    found = []
    for node in ElementTree.fromstring(svg).iter(f"{SVG}text"):
        style = node.get("style", "")
        size = float(re.search(r"([\d.]+)px", style).group(1))  # type: ignore[union-attr]  # always there
        wide = _width(node.text or "", size, "600" in style)
        anchor = re.search(r"text-anchor: (\w+)", style)
        shift = {"start": 0.0, "middle": wide / 2, "end": wide}[anchor.group(1) if anchor else "start"]
        turn = re.search(r"rotate\((-?\d+)", node.get("transform", ""))
        x, y = float(node.get("x", "nan")), float(node.get("y", "nan"))
        if turn and turn.group(1) == "-90":
            box = (x - 0.66 * size, y + shift - wide, x, y + shift)
        else:
            box = (x - shift, y - 0.66 * size, x - shift + wide, y)
        found.append((node.text or "", size, box))
    return found


def _all(made: dict[str, list[Figure]]) -> list[Figure]:
    return [figure for drawn in made.values() for figure in drawn]


def test_svg_is_safe_and_self_contained(pictures: list[Figure]) -> None:
    """A picture is well-formed vector XML without scripts, rasters or outside references."""
    assert pictures
    for figure in pictures:
        root = ElementTree.fromstring(figure.svg)
        tags = {node.tag.removeprefix(SVG) for node in root.iter()}
        assert not tags & {"script", "image", "foreignObject", "a"}
        links = [node.get(LINK) for node in root.iter() if node.get(LINK)]
        assert all(link.startswith("#") for link in links if link)
        assert not re.search(r"url\((?!#)", figure.svg)


def test_letters_are_large_enough_and_on_the_sheet(pictures: list[Figure]) -> None:
    """No letter is smaller than 8 pt, and no text runs off the paper."""
    assert pictures and all(_texts(figure.svg) for figure in pictures)
    for figure in pictures:
        root = ElementTree.fromstring(figure.svg)
        wide, high = (float(part) for part in root.get("viewBox", "").split()[2:])
        assert wide == pytest.approx(168 / 25.4 * 72, abs=0.01)
        assert high <= 215 / 25.4 * 72
        for text, size, (left, top, right, bottom) in _texts(figure.svg):
            assert size >= 8, (figure.id, text)
            inside = left >= -1 and top >= -1 and right <= wide + 1 and bottom <= high + 1
            assert inside, (figure.id, text)


def test_no_text_lies_on_another(pictures: list[Figure]) -> None:
    """No two texts of a picture overlap, whatever the names."""
    assert pictures and all(len(_texts(figure.svg)) > 1 for figure in pictures)
    for figure in pictures:
        for (one, _, a), (two, _, b) in combinations(_texts(figure.svg), 2):
            wide = min(a[2], b[2]) - max(a[0], b[0])
            high = min(a[3], b[3]) - max(a[1], b[1])
            assert wide <= 0.5 or high <= 0.5, (figure.id, one, two)


def test_same_results_same_bytes(all_cases: dict[str, Any], draw: Draw) -> None:
    """A picture drawn twice is the same, letter for letter."""
    for name in ("seven films, US", "many alike"):
        once, twice = _all(draw(all_cases[name])), _all(draw(all_cases[name]))
        assert [figure.svg for figure in once] == [figure.svg for figure in twice]
        assert [figure.plotly for figure in once] == [figure.plotly for figure in twice]


def test_every_picture_says_what_it_shows(pictures: list[Figure]) -> None:
    """Titles and alternatives are filled sentences, identifiers are unique, and something is drawn."""
    assert len({figure.id for figure in pictures}) == len(pictures) >= 4
    for figure in pictures:
        assert "{" not in figure.title + figure.alt + figure.caption
        assert len(figure.alt) > 30
        assert _texts(figure.svg)


def test_interactive_pictures_are_plain_json(pictures: list[Figure]) -> None:
    """Plotly's data can be written as JSON without a NaN, and typed tags are letters in it."""
    plots = [figure.plotly for figure in pictures if figure.plotly is not None]
    assert len(plots) >= 3
    for plot in plots:
        json.dumps(plot, allow_nan=False)
        switches = plot.get("switches", [])
        # a button's label is set as text by the page, so it is the name as typed
        sets = [choice.get("data") for switch in switches for choice in switch["choices"]]
        assert "<b>bold" not in json.dumps([plot["data"], plot["layout"], sets])
        assert plot["data"]


def test_switches_fit_their_pictures(pictures: list[Figure]) -> None:
    """Each choice sets a value for every trace, and the pressed one is what the picture starts with."""
    kinds = set()
    for figure in pictures:
        if figure.plotly is None:
            continue
        traces = figure.plotly["data"]
        for switch in figure.plotly.get("switches", []):
            kinds.add(switch["kind"])
            choices = switch["choices"]
            assert len(choices) >= 2
            if switch["kind"] == "each":
                assert len(choices) == len(traces)
                assert [choice["shown"] for choice in choices] == [t.get("visible", True) for t in traces]
                continue
            for number, choice in enumerate(choices):
                for key, values in choice["data"].items():
                    assert not isinstance(values, list) or len(values) == len(traces), (figure.id, key)
                    if number == switch["active"] and isinstance(values, list):
                        assert values == [trace[key] for trace in traces], (figure.id, key)
    assert len(kinds) >= 2, kinds


def test_a_switch_of_units_shows_the_same_heat(make: Callable[..., Any], draw: Draw) -> None:
    """1 W is 3.412142 Btu/h and 1 W/m2 is 0.316998 Btu/h ft2 (NIST SP 811, from memory of it)."""
    made = draw(make())
    for name, key, factor in (("bad_day", "y", 3.412142), ("sun_hours", "z", 0.316998)):
        plot = made[name][0].plotly
        assert plot is not None
        unit = next(switch for switch in plot["switches"] if switch["title"] == "Unit")
        metric, us = (np.array(choice["data"][key], dtype=float) for choice in unit["choices"])
        assert np.nanmax(metric) > 100
        np.testing.assert_allclose(us, metric * factor, atol=0.02)


def test_without_a_year_there_are_no_months(make: Callable[..., Any], draw: Draw) -> None:
    """Where sums of a year are withheld the months are not drawn, and no energy is named."""
    made = draw(make(whole_year=False))
    assert made["months"] == []
    assert "kWh" not in made["bad_day"][0].alt


def test_hostile_names_stay_letters(make: Callable[..., Any], draw: Draw) -> None:
    """Control signs, tags and formulas in names break no picture and mean nothing."""
    results = make(films=2)
    results["job"]["films"][0]["name"] = "a\x00\x0b<script>x</script> $\\frac{1}{2}$\nnext"
    results["job"]["faces"][0]["name"] = "{name} %{x} </text>"
    results["job"]["rooms"][0]["name"] = "&amp; ]]> \ud800"
    figures = _all(draw(results))
    assert len(figures) >= 4
    for figure in figures:
        ElementTree.fromstring(figure.svg)
        assert "<script" not in figure.svg


def test_names_of_many_films_differ_in_more_than_color(make: Callable[..., Any], words: Words) -> None:
    """Seven films have seven looks even in grey: no two share dash, marker and hatch."""
    from reportkit.documents.figures.facts import options

    looks = [(e.role.dash, e.role.marker, e.role.hatch) for e in options(make(films=7).findings, words)]
    assert len(set(looks)) == 8
