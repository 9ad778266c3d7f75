"""What a film's sheet prints, whether its numbers follow from each other, and what they leave open.

From some printed values others must follow: T + R + A = 1, SHGC at least Ts, TSER = 1 - SHGC under the same
conditions, SC = SHGC/.87, LSG = VT/SHGC, and near infrared from solar, visible and ultraviolet. Where a sheet
has gaps, every film that agrees with what it prints is tried, and the client's glass gets a range of SHGC
instead of a guess.

Not covered: durability, haze, colour; values at a slanted sun are only named as such. Findings are questions
with their arithmetic, not accusations.

References: TSER, SC and LSG by definition (ASHRAE Handbook of Fundamentals, from memory). Limits, fading,
infrared: `reportkit.physics.glass.claims`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from functools import lru_cache

import numpy as np

from reportkit.base.translatable import english, translatable
from reportkit.physics.glass.bands import SOLAR_WEIGHTS, bands_from_sheet
from reportkit.physics.glass.claims import Finding
from reportkit.physics.glass.film import ORDINARY_EMISSIVITY, Film
from reportkit.physics.glass.glazing import Glazing, single, with_film
from reportkit.physics.glass.lite import Lite, clear
from reportkit.physics.glass.rating import CLEAR_3MM_GAIN, rate

# How far two printed values may be apart by rounding alone: a percent is printed to the nearest, SHGC and SC
# to .01, and three rounded percents may sum to 99 or 101.
BALANCE_ROUNDING, GAIN_ROUNDING, SC_ROUNDING, LSG_ROUNDING = 0.0151, 0.0151, 0.0201, 0.04
PASSED_ROUNDING = 0.0101  # of an SHGC printed to .01 and a transmittance printed to a percent
INFRARED_ROUNDING = 0.06  # a film's infrared limits and weighting differ from sheet to sheet
AGREES = 0.015  # a trial film agrees with a printed SHGC within its rounding and the solver's spread
ON_GLASS = 0.03  # from here on the sheet's SHGC says something else than the client's glass does
HALF_PERCENT = 0.005  # a printed percent holds half of one either way


@dataclass(frozen=True)
class Sheet:
    """Printed values as shares of 1; None where the sheet prints nothing.

    Parameters
    ----------
    name : str
    t_visible : float [1]
    t_solar, r_solar_glass, r_solar_film, a_solar : float or None [1]
        Of the pane it is rated on, with the film.
    r_visible_glass, r_visible_film, t_uv : float or None [1]
    shgc, sc, lsg, tser : float or None [1]
    tser_aoi : float, 0-90 [deg]
        Angle of the sun at which TSER is quoted.
    infrared_cut : float or None [1]
        "Infrared rejected", quoted for ``infrared_range`` [nm].
    fading_cut : float or None [1]
        Fading prevented against the bare pane.
    emissivity : float or None [1]
    conditions : str
        Of SHGC and TSER, ``nfrc`` or ``en``.
    rated_on : Lite
        The pane it was measured on, with two bare faces.
    glass_stated : bool
        Whether the solar transmittance of that pane is known, and not its thickness and colour alone.
    """

    name: str
    t_visible: float
    t_solar: float | None = None
    r_solar_glass: float | None = None
    r_solar_film: float | None = None
    a_solar: float | None = None
    r_visible_glass: float | None = None
    r_visible_film: float | None = None
    t_uv: float | None = None
    shgc: float | None = None
    sc: float | None = None
    lsg: float | None = None
    tser: float | None = None
    tser_aoi: float = 0.0
    infrared_cut: float | None = None
    infrared_range: tuple[float, float] = (780.0, 2500.0)
    fading_cut: float | None = None
    emissivity: float | None = None
    conditions: str = "nfrc"
    side: str = "inside"
    film_class: str = ""
    rated_on: Lite = field(default_factory=lambda: clear(3.0))
    angular_category: float = 4.0
    glass_stated: bool = False

    @property
    def gain(self) -> float | None:
        """SHGC as printed, or as TSER, SC or LSG define it; None where none of them is printed."""
        if self.shgc is not None:
            return self.shgc
        if self.tser is not None and self.tser_aoi == 0.0:
            return 1.0 - self.tser
        if self.sc is not None:
            return self.sc * CLEAR_3MM_GAIN
        return None if not self.lsg else self.t_visible / self.lsg

    @property
    def closed(self) -> Sheet:
        """The sheet with the one solar value that T + R + A = 1 gives, where the two others are printed."""
        t, r, a = self.t_solar, self.r_solar_glass, self.a_solar
        if t is None and r is not None and a is not None:
            return replace(self, t_solar=1.0 - r - a)
        if r is None and t is not None and a is not None:
            return replace(self, r_solar_glass=1.0 - t - a)
        return self

    @property
    def gaps(self) -> tuple[str, ...]:
        """Names of the values that a film needs and the sheet does not print."""
        own = self.closed
        names = ["t_solar", "r_solar_glass", "r_visible_glass", "t_uv"]
        if self.side == "outside":
            names.append("r_solar_film")
        return tuple(name for name in names if getattr(own, name) is None)


@dataclass(frozen=True)
class GainRange:
    """SHGC of a glazing with a film of which only some values are known.

    Attributes
    ----------
    low, high : float [1]
    middle : Film
        The film in the middle of the range on the glass it is rated on.
    films : int
        How many trial films agree with the sheet.
    """

    low: float
    high: float
    middle: Film
    films: int


def follows(sheet: Sheet) -> tuple[Finding, ...]:
    """Compare printed values that follow from each other by definition.

    Parameters
    ----------
    sheet : Sheet

    Returns
    -------
    tuple of Finding
        ``impossible`` where a gain is below what passes straight through, ``doubt`` where two of them cannot
        both be right; empty where all agree within rounding.

    """
    findings = []
    if sheet.t_solar is not None and sheet.r_solar_glass is not None and sheet.a_solar is not None:
        total = sheet.t_solar + sheet.r_solar_glass + sheet.a_solar
        if abs(total - 1.0) > BALANCE_ROUNDING:
            findings.append(
                Finding(
                    "doubt",
                    english("T + R + A"),
                    translatable(
                        "{passed:.2f} + {back:.2f} + {kept:.2f} = {total:.2f}; what is not passed or "
                        "sent back "
                        "is absorbed, so they sum to 1",
                        passed=sheet.t_solar,
                        back=sheet.r_solar_glass,
                        kept=sheet.a_solar,
                        total=total,
                    ),
                    english("Which of the three is wrong, or is one of them of another pane?"),
                )
            )
    shgc = sheet.shgc
    straight = sheet.tser if sheet.tser_aoi == 0.0 else None
    if shgc is not None and straight is not None and abs(straight + shgc - 1.0) > GAIN_ROUNDING:
        findings.append(
            Finding(
                "doubt",
                english("TSER and SHGC"),
                translatable(
                    "1 - SHGC = 1 - {shgc:.2f} = {rest:.2f}, but TSER is printed as {tser:.2f}",
                    shgc=shgc,
                    rest=1.0 - shgc,
                    tser=straight,
                ),
                english("Are both for the same glass, sun angle and conditions?"),
            )
        )
    heat, passed = replace(sheet, lsg=None).gain, sheet.closed.t_solar  # a ratio's rounding is too coarse
    if heat is not None and passed is not None and heat < passed - PASSED_ROUNDING:
        findings.append(
            Finding(
                "impossible",
                english("SHGC and solar transmittance"),
                translatable(
                    "SHGC {shgc:.2f} is less than the solar transmittance {passed:.2f}: what passes straight "
                    "through is part of the gain",
                    shgc=heat,
                    passed=passed,
                ),
                english("Which of the two values is wrong, or is one of them of another pane?"),
            )
        )
    gain = 1.0 - straight if shgc is None and straight is not None else shgc
    if gain is not None and sheet.sc is not None and abs(sheet.sc - gain / CLEAR_3MM_GAIN) > SC_ROUNDING:
        findings.append(
            Finding(
                "doubt",
                english("SC"),
                translatable(
                    "SHGC/{clear:.2f} = {gain:.2f}/{clear:.2f} = {ratio:.2f}, but SC is printed as {sc:.2f}",
                    clear=CLEAR_3MM_GAIN,
                    gain=gain,
                    ratio=gain / CLEAR_3MM_GAIN,
                    sc=sheet.sc,
                ),
                english("Is the shading coefficient of another pane?"),
            )
        )
    if gain and sheet.lsg is not None and abs(sheet.lsg - sheet.t_visible / gain) > LSG_ROUNDING:
        findings.append(
            Finding(
                "doubt",
                english("LSG"),
                translatable(
                    "VT/SHGC = {light:.2f}/{gain:.2f} = {ratio:.2f}, but LSG is printed as {lsg:.2f}",
                    light=sheet.t_visible,
                    gain=gain,
                    ratio=sheet.t_visible / gain,
                    lsg=sheet.lsg,
                ),
                english("From which two values is the light-to-solar gain made?"),
            )
        )
    return tuple(findings)


def infrared(sheet: Sheet) -> tuple[Finding, ...]:
    """Compare an infrared claim over the whole near infrared with the sheet's own solar values."""
    own = sheet.closed
    low, high = sheet.infrared_range
    if sheet.infrared_cut is None or own.t_solar is None or low > 800.0 or high < 2000.0:
        return ()
    t_uv = sheet.t_visible if sheet.t_uv is None else sheet.t_uv
    try:
        passed = bands_from_sheet(solar_value=own.t_solar, visible=sheet.t_visible, uv=t_uv)[2]
    except ValueError:
        return ()  # the rated values contradict each other: said elsewhere
    if sheet.infrared_cut <= 1.0 - passed + INFRARED_ROUNDING:
        return ()
    return (
        Finding(
            "doubt",
            english("infrared and solar values"),
            translatable(
                "solar transmittance {solar:.2f} with VT {light:.2f} leaves a near-infrared transmittance of "
                "{passed:.2f}, so {kept:.2f} is kept back at most, not {claimed:.2f}",
                solar=own.t_solar,
                light=sheet.t_visible,
                passed=passed,
                kept=1.0 - passed,
                claimed=sheet.infrared_cut,
            ),
            english("Over which wavelengths, and against what, is infrared counted?"),
        ),
    )


def film_of(sheet: Sheet, t_solar: float, r_solar_glass: float, r_solar_film: float | None = None) -> Film:
    """Return the film of a sheet with the solar values tried for it [1]."""
    r_visible = sheet.r_visible_glass
    return Film(
        name=sheet.name,
        t_solar=t_solar,
        r_solar_glass=r_solar_glass,
        t_visible=sheet.t_visible,
        r_visible_glass=min(r_solar_glass, 1.0 - sheet.t_visible) if r_visible is None else r_visible,
        r_solar_film=sheet.r_solar_film if r_solar_film is None else r_solar_film,
        r_visible_film=sheet.r_visible_film,
        t_uv=sheet.t_uv,
        emissivity=ORDINARY_EMISSIVITY if sheet.emissivity is None else sheet.emissivity,
        side=sheet.side,
        film_class=sheet.film_class,
        shgc=sheet.shgc,
        rated_on=sheet.rated_on,
        angular_category=sheet.angular_category,
    )


def _gain(film: Film, sheet: Sheet) -> float | None:
    """SHGC of a trial film on the glass its sheet is rated on; None where it is no possible film."""
    try:
        return rate(with_film(single(sheet.rated_on), film, side=sheet.side), sheet.conditions).shgc
    except ValueError:
        return None


def _about(value: float | None, low: float, high: float, steps: int) -> np.ndarray:
    """A printed value within its rounding, or the whole range of one that is not printed."""
    if value is not None:
        return np.clip([value - HALF_PERCENT, value, value + HALF_PERCENT], 0.0, 1.0)
    return np.linspace(low, max(low, high), steps)


def _trials(sheet: Sheet) -> Iterator[Film]:
    """Every trial film within what a sheet prints, without a look at its SHGC."""
    own = sheet.closed
    _, visible, infrared = SOLAR_WEIGHTS
    least = visible * own.t_visible
    lets = _about(own.t_solar, least, least + 0.95 * infrared, 21)
    for t_solar in lets:
        for r_glass in _about(own.r_solar_glass, 0.044, 0.95 - t_solar, 12):
            if t_solar + r_glass > 1.0:
                continue
            if sheet.side == "outside" and own.r_solar_film is None:
                for r_film in np.linspace(0.03, 1.0 - t_solar, 6):
                    yield film_of(own, float(t_solar), float(r_glass), float(r_film))
            else:
                yield film_of(own, float(t_solar), float(r_glass))


@lru_cache(maxsize=256)
def gain_range(glazing: Glazing, sheet: Sheet, conditions: str | None = None) -> GainRange | None:
    """Return the range of SHGC on a glazing that agrees with everything a sheet prints.

    Parameters
    ----------
    glazing : Glazing
        The client's glass, without film.
    sheet : Sheet
    conditions : str or None
        Of the result, ``nfrc`` or ``en``; None for the sheet's.

    Returns
    -------
    GainRange or None
        None where no possible film has the printed values.

    Notes
    -----
    Printed percents hold half a percent either way; what is not printed takes any value a film can have. Of
    these trial films those stay whose SHGC on the rated glass is the printed one within .015; where a sheet
    prints all its solar values, these alone count.

    Raises
    ------
    ValueError
        The film must not go on that glazing at all.
    """
    target = sheet.gain if "t_solar" in sheet.gaps or "r_solar_glass" in sheet.gaps else None
    kept: list[tuple[float, Film]] = []
    for film in _trials(sheet):
        gain = _gain(film, sheet)
        if gain is not None and (target is None or abs(gain - target) <= AGREES):
            kept.append((gain, film))
    if not kept:
        return None
    kept.sort(key=lambda pair: pair[0])
    wanted = kept[len(kept) // 2][0] if target is None else target
    # among the films nearest the wanted gain, the one in the middle by what it lets straight through
    close = sorted(kept, key=lambda pair: abs(pair[0] - wanted))[: max(1, len(kept) // 3)]
    middle = sorted((film for _, film in close), key=lambda film: film.t_solar)[len(close) // 2]
    values = [
        rate(with_film(glazing, film, side=sheet.side), conditions or sheet.conditions).shgc
        for _, film in kept
    ]
    return GainRange(min(values), max(values), middle, len(kept))
