"""Pictures: reproducible, text as text, roles that do not rest on color."""

import itertools
import xml.etree.ElementTree as ElementTree

import matplotlib
import numpy as np
import pytest

from reportkit.documents.layouts import style
from reportkit.documents.layouts.style import Role


def _drawn(name: str = "Film $x^2$ & <b>") -> str:
    with style.drawing():
        figure = style.blank(80, 50)
        axes = figure.subplots()
        for order in range(3):
            axes.plot([0, 1, 2], [order, 2 * order, order], **style.film(order).line)
        axes.bar([0], [-3], **style.SHADE.fill)
        axes.set_title(name)
        axes.set_xlim(0, 2)
    return style.svg_of(figure)


def test_the_same_picture_twice() -> None:
    """No date, program name, random identifier or outside reference enters a picture."""
    svg = _drawn()
    assert svg == _drawn()
    assert svg.startswith("<svg")
    assert "metadata" not in svg
    assert "Matplotlib" not in svg
    root = ElementTree.fromstring(svg)
    for node in root.iter():
        for name, value in node.attrib.items():
            if name.endswith("href"):
                assert value.startswith("#")


def test_typed_names_are_text_not_formulas() -> None:
    """A dollar sign or a tag in a name stays as typed, in the documents' typeface."""
    root = ElementTree.fromstring(_drawn())
    texts = {"".join(node.itertext()): node for node in root.iter("{http://www.w3.org/2000/svg}text")}
    assert "Film $x^2$ & <b>" in texts
    assert "Source Sans Pro" in texts["Film $x^2$ & <b>"].attrib["style"]
    assert "−3" in texts or "−2" in texts  # a minus sign, not a hyphen


def test_names_in_other_scripts_draw_without_a_warning() -> None:
    """A letter no font here has is still text in the picture (warnings are errors in these tests)."""
    assert "中文" in _drawn("中文")


def test_a_person_s_own_settings_stay_out_and_unchanged() -> None:
    """Settings of the person's matplotlib neither enter a picture nor change."""
    before = _drawn()
    with matplotlib.rc_context(
        {"axes.grid": True, "lines.linewidth": 9, "text.color": "red", "axes.xmargin": 0.4}
    ):
        assert _drawn() == before
        assert matplotlib.rcParams["lines.linewidth"] == 9


def _lab(color: str) -> np.ndarray:
    """CIELAB of an sRGB color, by the general reference library colour-science (D65)."""
    colour = pytest.importorskip("colour")
    rgb = np.array([int(color[i : i + 2], 16) / 255 for i in (1, 3, 5)])
    return np.asarray(colour.XYZ_to_Lab(colour.sRGB_to_XYZ(rgb)))


@pytest.mark.filterwarnings("ignore")  # the reference library warns about its own optional parts
def test_roles_differ_without_color() -> None:
    """Roles that meet in one picture differ in marker and dash; neighbours in CIELAB lightness by 10."""
    roles = (style.BARE, *style.FILMS, style.SHADE)
    for one, other in itertools.combinations(roles, 2):
        assert (one.dash, one.marker) != (other.dash, other.marker)
    for one, other in itertools.combinations((style.FILMS[0], style.FILMS[1], style.FILMS[2]), 2):
        assert one.hatch != other.hatch
    for one, other in itertools.pairwise((style.BARE, *style.FILMS)):
        assert abs(_lab(one.color)[0] - _lab(other.color)[0]) >= 10


@pytest.mark.filterwarnings("ignore")  # as above
@pytest.mark.parametrize("deficiency", ["Protanomaly", "Deuteranomaly", "Tritanomaly"])
def test_film_colors_survive_color_blindness(deficiency: str) -> None:
    """The first three films stay over 20 CIELAB units apart as the color-blind see them.

    Simulation: Machado, Oliveira and Fernandes (2009), full severity, through colour-science.
    """
    colour = pytest.importorskip("colour")
    matrix = colour.matrix_cvd_Machado2009(deficiency, 1.0)

    def seen(role: Role) -> np.ndarray:
        rgb = np.array([int(role.color[i : i + 2], 16) / 255 for i in (1, 3, 5)])
        linear = np.clip(matrix @ colour.cctf_decoding(rgb), 0, 1)
        return np.asarray(colour.XYZ_to_Lab(colour.RGB_to_XYZ(linear, "sRGB", apply_cctf_decoding=False)))

    roles = (style.BARE, *style.FILMS[:3])
    for one, other in itertools.combinations(roles, 2):
        assert np.linalg.norm(seen(one) - seen(other)) > 20


def test_lines_stand_out_from_paper() -> None:
    """Lines and marks have at least 3:1 on white (WCAG 2.2, 1.4.11), the sun's fill aside."""
    for role in (style.BARE, *style.FILMS, style.SHADE, style.HEAT_ADDED):
        parts = [int(role.color[i : i + 2], 16) / 255 for i in (1, 3, 5)]
        red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
        assert 1.05 / (0.2126 * red + 0.7152 * green + 0.0722 * blue + 0.05) >= 3


def test_the_screen_layout_takes_additions() -> None:
    """A caller adds to an axis without losing the style."""
    layout = style.screen_layout(yaxis={"title": {"text": "W"}}, height=300)
    assert layout["yaxis"]["title"] == {"text": "W"}
    assert layout["yaxis"]["gridcolor"] == style.HAIR
    assert layout["height"] == 300
    assert {role.plotly_dash for role in style.FILMS[:2]} == {"solid", "dash"}
