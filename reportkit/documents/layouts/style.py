"""The one visual language of every picture: what each color, dash, marker and hatch stands for.

A role never rests on color alone: roles that meet in one picture also differ in lightness, dash, marker or
hatch, so that a picture survives color blindness and a grey printer. Pictures are drawn by matplotlib on a
bare canvas (no display, no global state) as SVG whose text stays text in the documents' own typeface.
Typed names are safe in a picture: matplotlib's formula parser is off.
"""

from __future__ import annotations

import io
import re
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from reportkit.documents.layouts.fonts import FAMILY, SECOND_FAMILY, face_file, second_file

if TYPE_CHECKING:
    from matplotlib.figure import Figure

INK = "#1c2430"
QUIET = "#566070"
HAIR = "#c3c9d2"
PAPER = "#ffffff"


@dataclass(frozen=True)
class Role:
    """How one thing looks wherever it is drawn: line color, matplotlib dash and marker, and fill hatch."""

    color: str
    dash: Any = "solid"
    marker: str = "o"
    hatch: str = ""

    @property
    def line(self) -> dict[str, Any]:
        """Keyword arguments for a line."""
        return {"color": self.color, "linestyle": self.dash, "marker": self.marker}

    @property
    def fill(self) -> dict[str, Any]:
        """Keyword arguments for a bar or an area."""
        return {"facecolor": self.color, "hatch": self.hatch, "edgecolor": PAPER, "linewidth": 0.6}

    @property
    def plotly_dash(self) -> str:
        """The same dash in Plotly's words."""
        if isinstance(self.dash, str):
            return {"solid": "solid", "dashed": "dash", "dotted": "dot", "dashdot": "dashdot"}[self.dash]
        return ",".join(f"{length * 1.5:g}px" for length in self.dash[1])


BARE = Role(INK, "solid", "", "")
SHADE = Role("#76808d", "dotted", "s", "||||")
OFF_CUT = Role("#cdd2d9", "solid", "s", "////")
HEAT_ADDED = Role("#a3302f", "dashdot", "v", "\\\\\\\\")

#: Films in the order of the job; neighbours differ most in lightness.
FILMS = (
    Role("#243f94", "solid", "o", ""),
    Role("#cf6f14", "dashed", "^", "////"),
    Role("#0f7768", (0, (6, 1.5, 1.5, 1.5)), "D", "\\\\\\\\"),
    Role("#c478b4", (0, (3, 1.2)), "v", "xxxx"),
    Role("#6b3d14", (0, (1.2, 1.2)), "P", "----"),
    Role("#3c94c9", (0, (8, 2)), "X", "++++"),
)


def film(order: int) -> Role:
    """Return the role of the job's film number ``order``, counted from 0 (they repeat after the sixth)."""
    return FILMS[order % len(FILMS)]


@lru_cache(maxsize=1)
def _settings() -> dict[str, Any]:
    from matplotlib import font_manager

    for path in (face_file(), face_file(600), face_file(400, "italic"), second_file()):
        font_manager.fontManager.addfont(path)
    return {
        "font.family": [FAMILY, SECOND_FAMILY],
        "font.size": 9.0,
        "text.color": INK,
        "text.parse_math": False,
        "text.usetex": False,
        "axes.formatter.use_mathtext": False,
        "axes.edgecolor": QUIET,
        "axes.labelcolor": INK,
        "axes.labelsize": 9.0,
        "axes.linewidth": 0.6,
        "axes.spines.top": False,
        "axes.spines.right": False,
        "axes.titlesize": 9.5,
        "axes.titleweight": "semibold",
        "axes.titlelocation": "left",
        "axes.unicode_minus": True,
        "axes.axisbelow": True,
        "axes.grid": False,
        "grid.color": HAIR,
        "grid.linewidth": 0.5,
        "xtick.color": QUIET,
        "ytick.color": QUIET,
        "xtick.labelcolor": INK,
        "ytick.labelcolor": INK,
        "xtick.labelsize": 8.5,
        "ytick.labelsize": 8.5,
        "xtick.major.width": 0.6,
        "ytick.major.width": 0.6,
        "xtick.major.size": 3,
        "ytick.major.size": 3,
        "lines.linewidth": 1.6,
        "lines.markersize": 4,
        "hatch.linewidth": 0.7,
        "legend.frameon": False,
        "figure.facecolor": PAPER,
        "savefig.facecolor": PAPER,
        "svg.fonttype": "none",
        "svg.hashsalt": "reportkit",
        "svg.image_inline": True,
        "path.simplify": True,
    }


#: Settings about the program rather than the picture.
_LEFT_ALONE = frozenset(
    {"backend", "backend_fallback", "interactive", "toolbar", "timezone", "webagg.address"}
)


@contextmanager
def drawing() -> Iterator[None]:
    """Apply the style inside a ``with`` block; draw and `svg_of` inside the same block."""
    from matplotlib import rc_context, rcParams, rcParamsDefault

    with rc_context():
        # a person's own settings must not reach a document; matplotlib checks each of the three hundred as
        # it is set, so only those are set that stand otherwise
        settings: Any = rcParams  # its type knows each name, which a table of settings cannot promise
        wanted: dict[Any, Any] = {
            name: value for name, value in rcParamsDefault.items() if name not in _LEFT_ALONE
        }
        wanted.update(_settings())
        settings.update({name: value for name, value in wanted.items() if settings[name] != value})
        yield


def blank(width_mm: float = 168.0, height_mm: float = 80.0) -> Figure:
    """Return an empty figure of a size on paper [mm], without pyplot.

    168 mm fills the text width of A4, so that letters keep the size they are drawn in.
    """
    from matplotlib.backends.backend_svg import FigureCanvasSVG
    from matplotlib.figure import Figure as Canvas

    figure = Canvas(figsize=(width_mm / 25.4, height_mm / 25.4))
    FigureCanvasSVG(figure)
    return figure


def svg_of(figure: Figure) -> str:
    """Return a figure as SVG: same figure, same text; no date, no program, no outside reference."""
    buffer = io.StringIO()
    with drawing(), warnings.catch_warnings():
        # a letter missing from matplotlib's fonts is still text in the SVG, for the reader's fonts to draw
        warnings.filterwarnings("ignore", message=".*missing from font.*")
        figure.savefig(
            buffer, format="svg", metadata={"Date": None, "Creator": None, "Format": None, "Type": None}
        )
    svg = buffer.getvalue()
    svg = svg[svg.index("<svg") :]
    svg = re.sub(r"<metadata>.*?</metadata>\s*", "", svg, count=1, flags=re.DOTALL)
    return "\n".join(line.rstrip() for line in svg.splitlines()) + "\n"


def screen_layout(**more: Any) -> dict[str, Any]:
    """Return Plotly's layout in the same visual language; ``more`` adds or overrides.

    The figure's title stands above the picture as text, so the layout has none; the height follows the page.
    """
    axis = {
        "gridcolor": HAIR,
        "linecolor": QUIET,
        "zerolinecolor": QUIET,
        "tickcolor": QUIET,
        "ticks": "outside",
        "automargin": True,
        "fixedrange": True,
    }
    layout: dict[str, Any] = {
        "font": {"family": f"{FAMILY}, sans-serif", "size": 14, "color": INK},
        "paper_bgcolor": PAPER,
        "plot_bgcolor": PAPER,
        "margin": {"l": 56, "r": 16, "t": 12, "b": 48},
        "hovermode": "x unified",
        "hoverlabel": {"bgcolor": PAPER, "bordercolor": QUIET, "font": {"color": INK}},
        "legend": {"orientation": "h", "x": 0, "y": 1.02, "xanchor": "left", "yanchor": "bottom"},
        "dragmode": False,
        "xaxis": {**axis, "showgrid": False},
        "yaxis": {**axis, "zeroline": True},
    }
    for name, value in more.items():
        both = isinstance(value, dict) and isinstance(layout.get(name), dict)
        layout[name] = {**layout[name], **value} if both else value
    return layout
