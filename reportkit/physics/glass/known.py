"""A glazing of typical glass, bent until it has the values its maker states.

What a class of glass does and what one maker's does differ by a few percent. Where the maker's numbers are
at hand the typical model is changed as little as makes it give them, so that everything else (angles, films,
temperatures) follows from it. Values are met in this order, each by one change; later ones leave earlier
ones as they are:

1. emissivity: the coated face takes it, or those of two that it is stated of;
2. U: the emissivities of coated faces that are not stated, by one factor; else all gaps by one factor,
   nearest to 1;
3. visible, 4. solar transmittance, 5. SHGC: uncoated glass has -ln of its internal transmittance multiplied,
   in all sheets alike; of a coating t becomes t**k, of two alike, and what it no longer lets through it
   reflects. The
   visible value moves the ultraviolet and the visible band, the others the near infrared; where no visible
   value is stated, all three. SHGC beside solar transmittance moves what a coating absorbs in the near
   infrared; uncoated glass has nothing left to move.

A value that the glass cannot have, but comes within `ROUNDING` of, is taken as met: it was printed rounded.
One further off is refused: then the sheets, gaps or coating are others than those described.

Not covered: which of two coatings differs from its class; light through glass measured by wavelength, which
is known better.
Limits of the changes: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from reportkit.base.translatable import Quantity, english, translatable
from reportkit.physics.glass.bands import as_bands
from reportkit.physics.glass.glazing import Glazing, with_surface
from reportkit.physics.glass.optics import normal
from reportkit.physics.glass.rating import rate
from reportkit.physics.glass.surface import Surface

BODY = (0.0, 2.5)  # factors of -ln u: from water-clear to what is a tint and should be called one
COATING = (0.1, 10.0)  # exponents of a coating's transmittance
ABSORBED = (0.0, 4.0)  # factors of a coating's absorptance
EMISSIVITY = (0.01, 0.5)  # of a coated face
GAP = (0.6, 1.6)  # factors of the widths of gaps
STEPS = 12  # looked at on either side for the nearest change, which is then solved

#: How far off a printed value may be: one of the last digit of a U of 1.1 and of an SHGC of .62.
ROUNDING = {"u_w_m2k": 0.1, "shgc": 0.01, "t_visible": 0.01, "t_solar": 0.01}


@dataclass(frozen=True)
class Known:
    """What is stated of a glazing, at the centre of the glass and at normal incidence; None is not stated.

    Attributes
    ----------
    conditions : str
        ``nfrc`` or ``en``, of U and SHGC.
    u_w_m2k : float or None [W/m2/K]
    shgc, t_visible, t_solar : float or None, 0-1 [1]
    emissivity : float or None, 0-1 [1]
        Of the coated face.
    emitting : tuple of int
        The faces it is stated of, counted from outside; none told, all that are coated.
    """

    conditions: str
    u_w_m2k: float | None = None
    shgc: float | None = None
    t_visible: float | None = None
    t_solar: float | None = None
    emissivity: float | None = None
    emitting: tuple[int, ...] = ()


@dataclass(frozen=True)
class Met:
    """One stated value: what it is, what typical glass has, what the bent glass has."""

    name: str
    stated: float
    typical: float
    comes_to: float


class OutOfReachError(ValueError):
    """A stated value that the glass described cannot have: ``name``, ``low`` to ``high`` is what it can."""

    def __init__(self, name: str, stated: float, low: float, high: float) -> None:
        self.name, self.stated, self.low, self.high = name, stated, low, high
        super().__init__(f"{name} of {stated:g} is out of reach: {low:.3f} to {high:.3f}")


@dataclass(frozen=True)
class Bent:
    """The glazing as bent, and the values it was bent to; its notes say them."""

    glazing: Glazing
    met: tuple[Met, ...]


@dataclass(frozen=True)
class Way:
    """One way to bend a glazing: the glazing by how far, where it stands unbent, and the limits.

    ``start`` alone is within the limits where there is nothing to move.
    """

    bend: Callable[[float], Glazing]
    start: float = 1.0
    limits: tuple[float, float] = (1.0, 1.0)


def bent(glazing: Glazing, known: Known) -> Bent:
    """Bend a glazing to what its maker states.

    Parameters
    ----------
    glazing : Glazing
        Of typical glass, without film.
    known : Known

    Returns
    -------
    Bent

    Raises
    ------
    OutOfReachError
        A value that the glass described cannot have.
    ValueError
        An emissivity is stated and no face is coated.

    Examples
    --------
    >>> from reportkit.physics.glass import clear, single
    >>> round(bent(single(clear(4)), Known("en", t_solar=0.82)).met[0].comes_to, 4)
    0.82
    """
    made = glazing
    if known.emissivity is not None:
        if not _coated(made):
            raise ValueError("an emissivity is stated and no face is coated")
        for face in known.emitting or _coated(made):
            made = _emitting(made, known.emissivity, face)
    stated = {name: value for name in WAYS if (value := getattr(known, name)) is not None}
    for name, value in stated.items():
        made = _solved(WAYS[name](made, known), known, name, value)
    met = tuple(
        Met(name, value, _read(glazing, known, name), _read(made, known, name))
        for name, value in stated.items()
    )
    notes = [_said(one) for one in met]
    if known.emissivity is not None:
        notes.append(
            translatable("the coating emits {share:.3f}, as its maker states", share=known.emissivity)
        )
    return Bent(replace(made, notes=(*glazing.notes, *notes)), met)


def _read(glazing: Glazing, known: Known, name: str) -> float:
    """Return one value of a glazing."""
    if name == "t_visible":
        return float(normal(glazing).t_visible[0])
    if name == "t_solar":
        return float(normal(glazing).t_solar[0])
    return float(getattr(rate(glazing, known.conditions), name))


def _solved(way: Way, known: Known, name: str, stated: float) -> Glazing:
    """Return the glazing bent the least that makes it have the value, or comes nearest within `ROUNDING`."""
    from scipy.optimize import brentq  # lazily: a third of a second to import

    def off(at: float) -> float:
        return _read(way.bend(at), known, name) - stated

    here = off(way.start)
    seen = {way.start: here}
    sides = [(way.start, here, np.linspace(way.start, end, STEPS + 1)[1:].tolist()) for end in way.limits]
    for step in range(STEPS):
        for side, (last, value, ahead) in enumerate(sides):
            at = ahead[step]
            if at == last:
                continue
            seen[at] = miss = off(at)
            if value * miss <= 0.0:
                return way.bend(float(brentq(off, last, at, xtol=1e-9)))
            sides[side] = (at, miss, ahead)
    nearest = min(seen, key=lambda at: abs(seen[at]))
    if abs(here) <= ROUNDING[name]:
        return way.bend(way.start)
    if abs(seen[nearest]) <= ROUNDING[name] + 1e-9:
        return way.bend(nearest)
    raise OutOfReachError(name, stated, stated + min(seen.values()), stated + max(seen.values()))


def _coated(glazing: Glazing) -> tuple[int, ...]:
    """Return the coated faces, counted from outside."""
    return tuple(number for number, face in enumerate(glazing.faces, start=1) if face.kind == "coating")


def _emitting(glazing: Glazing, emissivity: float, face: int) -> Glazing:
    surface = replace(glazing.faces[face - 1], emissivity=emissivity)
    return with_surface(glazing, surface, face=face)


def _insulating(glazing: Glazing, known: Known) -> Way:
    """Return what moves U: the coatings' emissivities, or the gaps."""
    coated = _coated(glazing)
    stated = () if known.emissivity is None else known.emitting or coated
    typical = {
        face: float(glazing.faces[face - 1].emissivity or 0.0) for face in coated if face not in stated
    }
    if typical:

        def emit(factor: float) -> Glazing:
            made = glazing
            for face, share in typical.items():
                made = _emitting(made, float(np.clip(share * factor, *EMISSIVITY)), face)
            return made

        least, most = EMISSIVITY
        return Way(emit, limits=(least / max(typical.values()), most / min(typical.values())))
    if not glazing.gaps:
        return Way(lambda _: glazing)
    widest = max(gap.width_mm for gap in glazing.gaps)

    def bend(factor: float) -> Glazing:
        gaps = tuple(replace(gap, width_mm=gap.width_mm * factor) for gap in glazing.gaps)
        return replace(glazing, gaps=gaps)

    return Way(bend, limits=(GAP[0], min(GAP[1], 100.0 / widest)))


def _light(glazing: Glazing, known: Known) -> Way:
    """Return what moves the visible value: the ultraviolet and the visible band."""
    return Way(lambda k: _passing(glazing, (k, k, 1.0)), limits=_limits(glazing))


def _sun(glazing: Glazing, known: Known) -> Way:
    """Return what moves solar values: the near infrared, and the other bands where nobody states them."""
    if known.t_visible is None:
        return Way(lambda k: _passing(glazing, (k, k, k)), limits=_limits(glazing))
    return Way(lambda k: _passing(glazing, (1.0, 1.0, k)), limits=_limits(glazing))


def _gain(glazing: Glazing, known: Known) -> Way:
    """Return what moves SHGC: as solar values; beside one, what the coating absorbs."""
    solar = known.t_solar
    if solar is None:
        return _sun(glazing, known)
    if not _coated(glazing):
        return Way(lambda _: glazing)
    held = replace(known, t_visible=_read(glazing, known, "t_visible"))

    def bend(factor: float) -> Glazing:
        absorbing = _passing(glazing, (1.0, 1.0, 1.0), absorbed=factor)
        return _solved(_sun(absorbing, held), held, "t_solar", solar)

    return Way(bend, limits=ABSORBED)


def _limits(glazing: Glazing) -> tuple[float, float]:
    return COATING if _coated(glazing) else BODY


def _passing(glazing: Glazing, k: tuple[float, float, float], *, absorbed: float = 1.0) -> Glazing:
    """Return the glazing with another light through it.

    Parameters
    ----------
    glazing : Glazing
    k : tuple of float, (3,) [1]
        Exponents by band: of the coatings' transmittance, or of every body's where nothing is coated.
    absorbed : float [1]
        Factor of what the coatings absorb in the near infrared.
    """
    coated = _coated(glazing)
    if not coated:
        lites = tuple(
            replace(lite, internal=as_bands(np.asarray(lite.internal) ** np.asarray(k)))
            for lite in glazing.lites
        )
        return replace(glazing, lites=lites)
    for face in coated:
        glazing = with_surface(glazing, _tuned(glazing.faces[face - 1], k, absorbed), face=face)
    return glazing


def _tuned(surface: Surface, k: tuple[float, float, float], absorbed: float) -> Surface:
    """Return a coating that passes t**k and absorbs what it did, times a factor; it reflects the rest."""
    t = np.asarray(surface.t)
    passed = t ** np.asarray(k)
    factor = np.array([1.0, 1.0, absorbed])
    r_glass, r_air = (
        1.0 - passed - np.minimum((1.0 - t - np.asarray(r)) * factor, 1.0 - passed)
        for r in (surface.r_glass, surface.r_air)
    )
    return replace(surface, t=as_bands(passed), r_glass=as_bands(r_glass), r_air=as_bands(r_air))


#: In the order they are met.
WAYS: dict[str, Callable[[Glazing, Known], Way]] = {
    "u_w_m2k": _insulating,
    "t_visible": _light,
    "t_solar": _sun,
    "shgc": _gain,
}

WORDS = {
    "shgc": english("sun's heat in (SHGC or g)"),
    "t_visible": english("light in (VT)"),
    "t_solar": english("solar transmittance"),
}


def _said(met: Met) -> str:
    if met.name == "u_w_m2k":
        return translatable(
            "bent to the maker's U of {stated:.2f}: typical glass of this kind has {typical:.2f}, this one "
            "{comes:.2f}",
            stated=Quantity(met.stated, "W/m²K"),
            typical=Quantity(met.typical, "W/m²K"),
            comes=Quantity(met.comes_to, "W/m²K"),
        )
    return translatable(
        "bent to the maker's {value} of {stated:.3f}: typical glass of this kind has {typical:.3f}, this one "
        "{comes:.3f}",
        value=translatable(WORDS[met.name]),
        stated=met.stated,
        typical=met.typical,
        comes=met.comes_to,
    )
