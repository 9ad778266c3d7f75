"""One pane of glass (a lite): thickness, what its body absorbs, its two faces and how it was made.

The body is one number per band, the internal transmittance once through. Glass is not grey inside a band, so
the number does not fall exponentially with thickness: -ln(u) grows as thickness**p, with p found from
published values at 3 and 6 mm (or .9, what clear glass shows, where only one thickness is known).

Values here are typical of a class, for want of the maker's own: clear float sold today is often paler than
the handbook's, whose 3 and 6 mm leave at most .8127 of the sun at 4 mm, for what a body passes is convex in
its thickness. What a maker states is met in `reportkit.physics.glass.known`; a pane measured by wavelength
is made in `reportkit.physics.glass.measured`. Front is the face toward the outdoors, back that toward the
room.

References
----------
Clear, bronze, green, grey and blue-green: visible transmittance and SHGC of ASHRAE Handbook of Fundamentals,
fenestration chapter, table of single glazings (from memory); solar transmittance chosen to give that SHGC.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache

from reportkit.base.translatable import english, translatable
from reportkit.physics.glass.bands import BANDS, Band3, Bands, as_band3, as_bands, bands_from_sheet
from reportkit.physics.glass.surface import BARE, TEXTURED, UNSURE, Surface, deembed, internal_transmittance

GLASS_CONDUCTIVITY = 1.0  # [W/m/K] NFRC and EN 673 (from memory)
PVB_CONDUCTIVITY = 0.20  # [W/m/K] polyvinyl butyral (common practice, no source)
THICKNESS_EXPONENT = 0.9  # what clear glass shows between 3 and 6 mm
TEMPERS = ("annealed", "heat_strengthened", "tempered", "unknown")

# (ultraviolet, visible, solar) transmittance of the bare pane by thickness [mm].
# Visible: ASHRAE Fundamentals' table of single glazings, from memory. Ultraviolet: common practice, no
# source.
_BODIES: dict[str, dict[float, tuple[float, float, float]]] = {
    "clear": {3.0: (0.72, 0.900, 0.834), 6.0: (0.60, 0.880, 0.770)},
    "low_iron": {3.0: (0.83, 0.914, 0.902), 6.0: (0.79, 0.911, 0.890)},
    "bronze": {3.0: (0.42, 0.680, 0.645), 6.0: (0.25, 0.540, 0.485)},
    "green": {3.0: (0.45, 0.820, 0.600), 6.0: (0.28, 0.760, 0.465)},
    "grey": {3.0: (0.43, 0.620, 0.605), 6.0: (0.26, 0.460, 0.445)},
    "blue": {6.0: (0.35, 0.750, 0.490)},
}
TINTS = ("grey", "bronze", "green", "blue")

# Interlayer of .76 mm, internal transmittance per band, the film of glue having the glass's index
# (common practice, no source): opaque below 380 nm, slight absorption in the near infrared.
_PVB = (0.01, 0.99, 0.94)
_WIRED = (0.92, 0.92, 0.92)  # share of the pane that the wire leaves open (common practice, no source)


@dataclass(frozen=True)
class Coating:
    """A low-emissivity or solar-control coating as sold: what a pane of clear glass with it does.

    Parameters
    ----------
    t, r_glass, r_coating : tuple of float, (3,), 0-1 [1]
        (solar, visible, ultraviolet) transmittance and reflectance from the glass side and coated side.
    emissivity : float, 0-1 [1]
        Hemispherical emissivity of the coated face.
    on_mm : float [mm]
        Thickness of the clear glass it is stated on.
    angular_category : float, 1-10 [1]
        Karlsson-Roos category q.
    """

    t: tuple[float, float, float]
    r_glass: tuple[float, float, float]
    r_coating: tuple[float, float, float]
    emissivity: float
    on_mm: float = 3.0
    angular_category: float = 4.0


# Typical of each class, no maker's product (common practice, no source); a test compares the sealed units
# they make with ASHRAE Fundamentals' table of double glazings. Angular category 4 for the oxide coat and 3
# for silver: from memory of Karlsson & Roos, Solar Energy 69 (2000) 321.
COATINGS: dict[str, Coating] = {
    "hard": Coating((0.705, 0.830, 0.50), (0.105, 0.115, 0.10), (0.120, 0.120, 0.11), 0.17),
    "soft": Coating((0.600, 0.840, 0.40), (0.230, 0.080, 0.12), (0.270, 0.070, 0.15), 0.06, 3.0, 3.0),
    "solar_control_soft": Coating(
        (0.400, 0.790, 0.20), (0.380, 0.070, 0.25), (0.470, 0.060, 0.30), 0.035, 3.0, 3.0
    ),
}


@dataclass(frozen=True)
class Lite:
    """One pane of glass.

    Parameters
    ----------
    name : str
        For people.
    thickness_mm : float, over 0 [mm]
        Thickness, interlayers included.
    internal : tuple of float, (3,) or (440,), 0-1 [1]
        Internal transmittance per band, or per cell of `reportkit.physics.glass.sunlight`, once through
        along the normal.
    front, back : Surface
        The face toward the outdoors and the face toward the room.
    conductivity : float, over 0 [W/m/K]
        Of the whole thickness.
    body : str
        ``clear``, ``low_iron``, ``grey``, ``bronze``, ``green``, ``blue`` or a name of the user's own.
    temper : str
        ``annealed``, ``heat_strengthened``, ``tempered`` or ``unknown``.
    marks : tuple of str
        What a fitter must know: ``tinted``, ``laminated``, ``wired``, ``patterned``, ``coated``.
    """

    name: str
    thickness_mm: float
    internal: Bands
    front: Surface = BARE
    back: Surface = BARE
    conductivity: float = GLASS_CONDUCTIVITY
    body: str = "clear"
    temper: str = "annealed"
    marks: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        """Check the values."""
        object.__setattr__(self, "internal", as_bands(self.internal))
        if not 0.0 < self.thickness_mm <= 100.0:
            raise ValueError(f"thickness must be over 0 and at most 100 mm (got {self.thickness_mm:g})")
        if any(not 0.0 <= u <= 1.0 for u in self.internal):
            raise ValueError(f"internal transmittance must be between 0 and 1 (got {self.internal})")
        if self.conductivity <= 0.0:
            raise ValueError(f"conductivity must be over 0 W/m/K (got {self.conductivity:g})")
        if self.temper not in TEMPERS:
            raise ValueError(f"temper must be one of {', '.join(TEMPERS)} (got {self.temper!r})")

    @property
    def coated(self) -> bool:
        """Whether either face carries a factory coating."""
        return "coating" in (self.front.kind, self.back.kind)


@lru_cache(maxsize=64)
def _body(glass: str, thickness_mm: float) -> Band3:
    """Internal transmittance per band of a class of glass at a thickness."""
    if not 1.0 <= thickness_mm <= 30.0:
        raise ValueError(f"thickness must be between 1 and 30 mm (got {thickness_mm:g})")
    anchors = {
        mm: [
            internal_transmittance(t)
            for t in bands_from_sheet(solar_value=t_solar, visible=t_visible, uv=t_uv)
        ]
        for mm, (t_uv, t_visible, t_solar) in _BODIES[glass].items()
    }
    known = sorted(anchors)
    internal = []
    for band in range(len(BANDS)):
        depth = [-math.log(anchors[mm][band]) for mm in known]
        p = THICKNESS_EXPONENT
        if len(known) > 1 and depth[0] > 0.0:
            p = math.log(depth[-1] / depth[0]) / math.log(known[-1] / known[0])
            p = min(max(p, 0.3), 1.0)
        nearest = min(known, key=lambda mm: abs(mm - thickness_mm))
        internal.append(math.exp(-depth[known.index(nearest)] * (thickness_mm / nearest) ** p))
    return as_band3(internal)


def float_glass(thickness_mm: float, body: str = "clear", *, temper: str = "annealed") -> Lite:
    """Return a pane of uncoated glass of a body; a tint is marked ``tinted``.

    Parameters
    ----------
    thickness_mm : float, 1-30 [mm]
    body : str
        ``clear``, ``low_iron``, ``grey``, ``bronze``, ``green`` or ``blue``.
    temper : str
        See `Lite`.

    Returns
    -------
    Lite

    Raises
    ------
    ValueError
        Unknown body, or the thickness is out of range.
    """
    if body not in _BODIES:
        raise ValueError(f"body must be one of {', '.join(_BODIES)} (got {body!r})")
    return Lite(
        translatable("{mm:g} mm {kind}", mm=thickness_mm, kind=translatable(body.replace("_", "-"))),
        float(thickness_mm),
        _body(body, float(thickness_mm)),
        body=body,
        temper=temper,
        marks=("tinted",) if body in TINTS else (),
    )


def clear(thickness_mm: float, *, iron: str = "ordinary", temper: str = "annealed") -> Lite:
    """Return a pane of uncoated clear float glass; see `float_glass`.

    Parameters
    ----------
    thickness_mm : float, 1-30 [mm]
    iron : str
        ``ordinary`` or ``low``.
    temper : str
        See `Lite`.

    Returns
    -------
    Lite

    Examples
    --------
    >>> clear(6).name
    '6 mm clear'
    """
    bodies = {"ordinary": "clear", "low": "low_iron"}
    if iron not in bodies:
        raise ValueError(f"iron must be ordinary or low (got {iron!r})")
    return float_glass(thickness_mm, bodies[iron], temper=temper)


def tinted(thickness_mm: float, tint: str = "grey", *, temper: str = "annealed") -> Lite:
    """Return a pane of uncoated body-tinted glass, ``grey``, ``bronze``, ``green`` or ``blue``."""
    if tint not in TINTS:
        raise ValueError(f"tint must be one of {', '.join(TINTS)} (got {tint!r})")
    return float_glass(thickness_mm, tint, temper=temper)


def laminated(
    thickness_mm: float = 6.4, *, interlayer_mm: float = 0.76, body: str = "clear", temper: str = "annealed"
) -> Lite:
    """Return a laminated pane: sheets of glass bonded by polyvinyl butyral.

    Parameters
    ----------
    thickness_mm : float [mm]
        Of the whole pane, as it is measured and sold: glass and interlayer together.
    interlayer_mm : float, .3-5 [mm]
        Part of that thickness.
    body : str
        ``clear``, ``low_iron`` or a tint.
    temper : str
        See `Lite`.

    Returns
    -------
    Lite
    """
    if not 0.3 <= interlayer_mm <= 5.0:
        raise ValueError(f"interlayer must be between .3 and 5 mm (got {interlayer_mm:g})")
    glass_mm = thickness_mm - interlayer_mm
    pane = float_glass(glass_mm, body, temper=temper)
    internal = tuple(u * pvb ** (interlayer_mm / 0.76) for u, pvb in zip(pane.internal, _PVB, strict=True))
    resistance = glass_mm / GLASS_CONDUCTIVITY + interlayer_mm / PVB_CONDUCTIVITY
    return replace(
        pane,
        name=translatable(
            "{mm:g} mm laminated {kind}", mm=thickness_mm, kind=translatable(body.replace("_", "-"))
        ),
        thickness_mm=float(thickness_mm),
        internal=as_band3(internal),
        conductivity=thickness_mm / resistance,
        marks=(*pane.marks, "laminated"),
    )


def wired(thickness_mm: float = 6.0, *, body: str = "clear") -> Lite:
    """Return a pane of polished glass with a wire mesh in it; marked ``wired``."""
    pane = float_glass(thickness_mm, body)
    open_part = as_band3([u * share for u, share in zip(pane.internal, _WIRED, strict=True)])
    name = translatable("{glass}, wired", glass=pane.name)
    return replace(pane, name=name, internal=open_part, marks=(*pane.marks, "wired"))


def with_texture(lite: Lite, *, face: str) -> Lite:
    """Return a pane with a pattern rolled into one bare face, ``front`` or ``back``; marked ``patterned``.

    Film cannot go on that face; with ``either``, where nobody knows which it is, on none of the two.
    """
    if face not in ("front", "back", "either"):
        raise ValueError(f"textured face must be front, back or either (got {face!r})")
    name, marks = translatable("{glass}, patterned", glass=lite.name), (*lite.marks, "patterned")
    if face == "either":
        return replace(lite, name=name, marks=marks, front=UNSURE, back=UNSURE)
    if face == "front":
        return replace(lite, name=name, marks=marks, front=TEXTURED)
    return replace(lite, name=name, marks=marks, back=TEXTURED)


@lru_cache(maxsize=64)
def coating_surface(coating: Coating, internal: Bands) -> Surface:
    """De-embed a coating from the pane it is stated on, of some internal transmittance per band [1]."""
    by_quantity = [
        bands_from_sheet(solar_value=values[0], visible=values[1], uv=values[2], quantity=quantity)
        for values, quantity in (
            (coating.t, "transmittance of the coated pane"),
            (coating.r_glass, "glass-side reflectance of the coated pane"),
            (coating.r_coating, "coated-side reflectance of the coated pane"),
        )
    ]
    parts = [deembed(t, rg, rc, internal=u) for t, rg, rc, u in zip(*by_quantity, internal, strict=True)]
    t, r_glass, r_air = (as_band3(column) for column in zip(*parts, strict=True))
    return Surface("coating", t, r_glass, r_air, coating.emissivity, coating.angular_category)


def with_coating(lite: Lite, coating: str | Coating, *, face: str, emissivity: float | None = None) -> Lite:
    """Put a factory coating on one face of a pane.

    Parameters
    ----------
    lite : Lite
        Its face must be bare.
    coating : str or Coating
        ``hard``, ``soft``, ``solar_control_soft``, or the maker's own values.
    face : str
        ``front`` (toward the outdoors) or ``back``.
    emissivity : float or None, 0-1 [1]
        In place of the class's value.

    Returns
    -------
    Lite

    Raises
    ------
    ValueError
        Unknown class or face, the face is not bare, or the coating's values contradict each other.
    """
    if isinstance(coating, str):
        if coating not in COATINGS:
            raise ValueError(f"coating must be one of {', '.join(COATINGS)} (got {coating!r})")
        name, record = coating.replace("_", " "), COATINGS[coating]
    else:
        name, record = english("coated"), coating
    if face not in ("front", "back"):
        raise ValueError(f"coated face must be front or back (got {face!r})")
    old = lite.front if face == "front" else lite.back
    if old.kind != "bare":
        raise ValueError(f"the {face} face of {lite.name} is not bare ({old.kind})")
    surface = coating_surface(record, _body("clear", record.on_mm))
    if emissivity is not None:
        surface = replace(surface, emissivity=emissivity)
    marks = lite.marks if "coated" in lite.marks else (*lite.marks, "coated")
    named = replace(
        lite,
        name=translatable("{glass}, {kind} low-e", glass=lite.name, kind=translatable(name)),
        marks=marks,
    )
    return replace(named, front=surface) if face == "front" else replace(named, back=surface)


def coated(thickness_mm: float, coating: str, *, face: str = "back", emissivity: float | None = None) -> Lite:
    """Return a clear pane with a typical low-emissivity coating on a face; see `with_coating`."""
    return with_coating(clear(thickness_mm), coating, face=face, emissivity=emissivity)
