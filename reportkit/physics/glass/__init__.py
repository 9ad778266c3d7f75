"""Glass and glass with film: optics by band and angle, heat by layer, ratings, claims and breakage screen.

Build a glazing from panes (`clear`, `tinted`, `coated`, `laminated`, ...), put a `Film` on it with
`with_film`, and ask `rate` for the numbers or `gain_table` for hourly work. Everything is centre of glass, SI
and pure.
"""

from reportkit.physics.glass.bands import BANDS, SOLAR_WEIGHTS
from reportkit.physics.glass.breakage import Screen, screen
from reportkit.physics.glass.chart import MakerChart
from reportkit.physics.glass.claims import Claim, Finding, examine
from reportkit.physics.glass.edge import SCENARIOS, PaneFacts, Scenario
from reportkit.physics.glass.film import Film, FilmInterface, film_side_stated, interface
from reportkit.physics.glass.fitting import believed, fitting_films
from reportkit.physics.glass.glazing import (
    Gap,
    Glazing,
    double,
    single,
    triple,
    with_film,
    with_surface,
    without_film,
)
from reportkit.physics.glass.heat import Heat, heat
from reportkit.physics.glass.known import Bent, Known, Met, OutOfReachError, bent
from reportkit.physics.glass.limits import GainLimits, gain_limits
from reportkit.physics.glass.lite import (
    Coating,
    Lite,
    clear,
    coated,
    float_glass,
    laminated,
    tinted,
    wired,
    with_coating,
    with_texture,
)
from reportkit.physics.glass.measured import (
    Integrals,
    Spectrum,
    banded_coating,
    banded_pane,
    bare_reflectance,
    held_note,
    integrals,
    measured_coating,
    measured_pane,
)
from reportkit.physics.glass.optics import Optics, optics
from reportkit.physics.glass.questions import check
from reportkit.physics.glass.rating import CONDITIONS, GainTable, Rating, gain_table, rate, rate_bounds
from reportkit.physics.glass.reason import Reason
from reportkit.physics.glass.reference import of_solar
from reportkit.physics.glass.sheet import GainRange, Sheet, gain_range
from reportkit.physics.glass.spread import Spread
from reportkit.physics.glass.surface import Surface

__all__ = [
    "BANDS",
    "CONDITIONS",
    "SCENARIOS",
    "SOLAR_WEIGHTS",
    "Bent",
    "Claim",
    "Coating",
    "Film",
    "FilmInterface",
    "Finding",
    "GainLimits",
    "GainRange",
    "GainTable",
    "Gap",
    "Glazing",
    "Heat",
    "Integrals",
    "Known",
    "Lite",
    "MakerChart",
    "Met",
    "Optics",
    "OutOfReachError",
    "PaneFacts",
    "Rating",
    "Reason",
    "Scenario",
    "Screen",
    "Sheet",
    "Spectrum",
    "Spread",
    "Surface",
    "banded_coating",
    "banded_pane",
    "bare_reflectance",
    "believed",
    "bent",
    "check",
    "clear",
    "coated",
    "double",
    "examine",
    "film_side_stated",
    "fitting_films",
    "float_glass",
    "gain_limits",
    "gain_range",
    "gain_table",
    "heat",
    "held_note",
    "integrals",
    "interface",
    "laminated",
    "measured_coating",
    "measured_pane",
    "of_solar",
    "optics",
    "rate",
    "rate_bounds",
    "screen",
    "single",
    "tinted",
    "triple",
    "wired",
    "with_coating",
    "with_film",
    "with_surface",
    "with_texture",
    "without_film",
]
