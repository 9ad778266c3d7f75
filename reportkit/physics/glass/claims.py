"""What a film can possibly do, and what a sheet's claims amount to.

A claim of energy kept out is placed among the three limits of `reportkit.physics.glass.limits`: past the
last it is impossible, between the last two the film must look strongly coloured, between the first two it
is unusually selective and deserves a question to the seller.

Everything is judged at normal incidence on the stated pane. Findings are questions with their arithmetic, not
accusations.

Not covered: durability, haze, colour rendering; claims at a chosen sun angle are only named as such.

References
----------
ASTM G173-03 (passed in as arrays); CIE tables of `reportkit.physics.glass.cie`; ISO 9050 damage weight
(from memory). TSER is 1 - SHGC at normal incidence; SC = SHGC/.87 (ASHRAE, from memory). Light-to-solar gain
of applied film seldom above about 1.2: a state university solar energy centre's window guide.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, get_args

import numpy.typing as npt

from reportkit.base.translatable import Quantity, english, reason_of, translatable
from reportkit.physics.glass.bands import band_share, fading
from reportkit.physics.glass.film import Film, film_side_stated
from reportkit.physics.glass.glazing import single, with_film
from reportkit.physics.glass.limits import GainLimits, gain_limits
from reportkit.physics.glass.rating import Rating, rate

CONDITIONS = {"nfrc": english("after NFRC summer conditions"), "en": english("after EN 410")}

#: How grave a finding is, rising.
Severity = Literal["note", "ask", "doubt", "impossible"]
SEVERITIES: tuple[Severity, ...] = get_args(Severity)
SHGC_TOLERANCE = 0.03  # rounding of the sheet's own values, carried through de-embedding
U_TOLERANCE = 0.25  # [W/m2/K] about the spread among solvers and of a rounded emissivity
USUAL_LSG = 1.2  # applied film seldom exceeds it (a state university solar energy centre)

# VT and TSER by class on clear single glass [1] (common practice, no source): for plausibility only.
CLASS_RANGES: dict[str, tuple[tuple[float, float], tuple[float, float]]] = {
    "dyed": ((0.05, 0.50), (0.20, 0.45)),
    "metallised_reflective": ((0.10, 0.50), (0.45, 0.80)),
    "dual_reflective": ((0.08, 0.40), (0.45, 0.75)),
    "sputtered": ((0.20, 0.60), (0.35, 0.65)),
    "ceramic": ((0.20, 0.70), (0.35, 0.60)),
    "spectrally_selective": ((0.40, 0.70), (0.45, 0.60)),
    "low_emissivity": ((0.20, 0.70), (0.30, 0.75)),
    "exterior": ((0.10, 0.70), (0.50, 0.85)),
    "clear_uv": ((0.80, 0.88), (0.12, 0.20)),
    "frosted": ((0.10, 0.85), (0.20, 0.45)),
}


@dataclass(frozen=True)
class Finding:
    """One thing a sheet's values say about each other.

    Attributes
    ----------
    severity : Severity
        ``note``, ``ask``, ``doubt`` or ``impossible``, rising.
    about : str
        The quantity.
    arithmetic : str
        The numbers that lead to it.
    question : str
        What to ask the seller; empty for a note.
    """

    severity: Severity
    about: str
    arithmetic: str
    question: str = ""


@dataclass(frozen=True)
class Claim:
    """What a sheet or a seller says beyond the film's rated values; None where nothing is said.

    Parameters
    ----------
    tser : float or None, 0-1 [1]
        Total solar energy rejected.
    tser_aoi : float, 0-90 [deg]
        The angle of incidence it is quoted at.
    infrared_cut : float or None, 0-1 [1]
        "Infrared rejected".
    infrared_range : (float, float) [nm]
        The wavelengths it is quoted for.
    fading_cut : float or None, 0-1 [1]
        Fading prevented, against the bare pane.
    """

    tser: float | None = None
    tser_aoi: float = 0.0
    infrared_cut: float | None = None
    infrared_range: tuple[float, float] = (780.0, 2500.0)
    fading_cut: float | None = None


def judge_tser(tser: float, limits: GainLimits, name: str) -> Finding:
    """Place a TSER [1] among the three limits; ``name`` is what the sheet calls it."""
    arithmetic = translatable(
        "{name} {tser:.0f} % at VT {light:.0f} %; at most {flat:.0f} % when equally clear over 400-700 nm, "
        "{neutral:.0f} % when exactly neutral, {any:.0f} % in any color (ASTM G173, CIE tables)",
        name=name,
        tser=100.0 * tser,
        light=100.0 * limits.t_visible,
        flat=100.0 * limits.flat,
        neutral=100.0 * limits.neutral,
        any=100.0 * limits.any_colour,
    )
    if tser > limits.any_colour + 0.005:
        return Finding(
            "impossible",
            english("TSER"),
            arithmetic,
            english("Which of the two values is measured, and how?"),
        )
    if tser > limits.neutral + 0.005:
        return Finding(
            "doubt",
            english("TSER"),
            arithmetic,
            english("How strongly colored is it? Ask for measured spectra."),
        )
    if tser > limits.flat + 0.005:
        return Finding(
            "ask", english("TSER"), arithmetic, english("Unusually selective: may I see measured spectra?")
        )
    return Finding("note", english("TSER"), arithmetic)


def examine(
    film: Film,
    claim: Claim | None = None,
    *,
    wavelength: npt.ArrayLike,
    irradiance: npt.ArrayLike,
    conditions: str = "nfrc",
) -> tuple[Finding, ...]:
    """Compare a film's printed values with each other and with what the film can do.

    Parameters
    ----------
    film : Film
    claim : Claim or None
        What is said beyond the rated values.
    wavelength, irradiance : array_like, (N,) [nm], [W/m2/nm]
        Reference solar spectrum, ASTM G173-03 global tilt.
    conditions : str
        Those the sheet names for its SHGC, ``nfrc`` or ``en``.

    Returns
    -------
    tuple of Finding
        Gravest first. Rated values that contradict each other are one finding, and end the examination.
    """
    claim = Claim() if claim is None else claim
    bare = single(film.rated_on)
    try:
        got = rate(with_film(bare, film), conditions)
    except ValueError as error:
        said = reason_of(error)
        return (
            Finding(
                "impossible", english("rated values"), said, english("Which of the printed values is wrong?")
            ),
        )
    findings = [
        *_tser_findings(film, claim, got, wavelength, irradiance),
        *_recomputed(film, got),
        *_infrared(claim, got, wavelength, irradiance),
        *_fading(claim, got, rate(bare, conditions)),
        *_class_findings(film, got),
    ]
    if not film_side_stated(film):
        findings.append(
            Finding(
                "ask",
                english("film-side reflectance"),
                english("the sheet gives no film-side solar reflectance: three unknowns, two values"),
                english("What is the film-side solar reflectance?"),
            )
        )
    return tuple(sorted(findings, key=lambda finding: -SEVERITIES.index(finding.severity)))


def _tser_findings(
    film: Film, claim: Claim, got: Rating, wavelength: npt.ArrayLike, irradiance: npt.ArrayLike
) -> list[Finding]:
    """Judge the TSER claimed, or where none is, the one that follows from the claimed SHGC."""
    findings = []
    if claim.tser is not None and claim.tser_aoi > 0.0:
        findings.append(
            Finding(
                "doubt",
                english("TSER at an angle"),
                translatable(
                    "{claimed:.0f} % is quoted at {angle:g}°; bare glass itself keeps out more when "
                    "the sun is "
                    "slanted. At normal incidence the film's own values give {own:.0f} %",
                    claimed=100.0 * claim.tser,
                    angle=claim.tser_aoi,
                    own=100.0 * got.tser,
                ),
                english("What is the TSER at normal incidence?"),
            )
        )
    elif claim.tser is not None or film.shgc is not None:
        tser = claim.tser if claim.tser is not None else 1.0 - float(film.shgc or 0.0)
        limits = gain_limits(film.t_visible, wavelength=wavelength, irradiance=irradiance)
        findings.append(judge_tser(tser, limits, "TSER"))
        if abs(tser - got.tser) > SHGC_TOLERANCE:
            findings.append(
                Finding(
                    "doubt" if tser > got.tser else "ask",
                    english("TSER and solar values"),
                    translatable(
                        "claimed {claimed:.0f} %; solar transmittance and reflectance of the same sheet give "
                        "{own:.0f} % ({conditions}, {glass})",
                        claimed=100.0 * tser,
                        own=100.0 * got.tser,
                        conditions=translatable(CONDITIONS[got.conditions]),
                        glass=film.rated_on.name,
                    ),
                    english("Under which conditions was it determined?"),
                )
            )
    return findings


def _recomputed(film: Film, got: Rating) -> list[Finding]:
    """Compare the claimed SHGC and U with the ones solved from the other values."""
    findings = []
    if film.shgc is not None and abs(film.shgc - got.shgc) > SHGC_TOLERANCE:
        findings.append(
            Finding(
                "doubt" if film.shgc < got.shgc else "ask",
                english("SHGC"),
                translatable(
                    "printed {printed:.2f}; the sheet's solar values give {own:.2f} ({conditions}, {glass})",
                    printed=film.shgc,
                    own=got.shgc,
                    conditions=translatable(CONDITIONS[got.conditions]),
                    glass=film.rated_on.name,
                ),
                english("On which glass and under which conditions is the SHGC?"),
            )
        )
    if (
        film.u_w_m2k is not None
        and got.conditions == "nfrc"
        and abs(film.u_w_m2k - got.u_w_m2k) > U_TOLERANCE
    ):
        findings.append(
            Finding(
                "ask",
                english("U"),
                translatable(
                    "printed {printed:.2f}; an emissivity of {emissivity:.2f} gives {own:.2f} "
                    "(after NFRC winter conditions, centre of glass)",
                    printed=Quantity(film.u_w_m2k, "W/m²K"),
                    emissivity=film.emissivity,
                    own=Quantity(got.u_w_m2k, "W/m²K"),
                ),
                english("On which glass, and is the emissivity right?"),
            )
        )
    if got.lsg > USUAL_LSG:
        findings.append(
            Finding(
                "ask",
                english("light-to-solar gain"),
                translatable(
                    "VT {light:.2f} / SHGC {heat:.2f} = {ratio:.2f}; applied film seldom exceeds {usual:g}",
                    light=got.t_visible,
                    heat=got.shgc,
                    ratio=got.lsg,
                    usual=USUAL_LSG,
                ),
                english("May I see measured spectra?"),
            )
        )
    return findings


def _infrared(
    claim: Claim, got: Rating, wavelength: npt.ArrayLike, irradiance: npt.ArrayLike
) -> list[Finding]:
    """Put an infrared claim in proportion to all the sun's energy."""
    if claim.infrared_cut is None:
        return []
    low, high = claim.infrared_range
    total = band_share(wavelength, irradiance, low=300.0, high=2500.0)
    share = band_share(wavelength, irradiance, low=low, high=high) / total
    return [
        Finding(
            "note" if low <= 800.0 and high >= 2400.0 else "doubt",
            english("infrared rejected"),
            translatable(
                "{claimed:.0f} % of {low:g}-{high:g} nm, which holds {share:.1f} % of the sun's energy: "
                "{most:.0f} % of it at most. The film's TSER is {own:.0f} %",
                claimed=100.0 * claim.infrared_cut,
                low=low,
                high=high,
                share=100.0 * share,
                most=100.0 * claim.infrared_cut * share,
                own=100.0 * got.tser,
            ),
            english("What is the TSER?"),
        )
    ]


def _fading(claim: Claim, got: Rating, bare: Rating) -> list[Finding]:
    """Compare a fading claim with the damage-weighted transmittance, the least that fits the values."""
    if claim.fading_cut is None:
        return []
    cut = 1.0 - float(fading((got.t_uv, got.t_visible, 0.0), least=True)) / bare.t_fading
    arithmetic = translatable(
        "claimed {claimed:.0f} %; the damage-weighted light (ISO 9050) falls by at most {own:.0f} % against "
        "the bare pane. Visible light fades too, so an ultraviolet block alone cannot stop it",
        claimed=100.0 * claim.fading_cut,
        own=100.0 * cut,
    )
    if claim.fading_cut > cut + 0.05:
        return [Finding("doubt", english("fading"), arithmetic, english("How is the fading claim weighted?"))]
    return [Finding("note", english("fading"), arithmetic)]


def _class_findings(film: Film, got: Rating) -> list[Finding]:
    """Say when VT or TSER is unusual for the class the film is sold as."""
    if film.film_class not in CLASS_RANGES:
        return []
    findings = []
    for word, value, (low, high) in zip(
        ("VT", "TSER"), (film.t_visible, got.tser), CLASS_RANGES[film.film_class], strict=True
    ):
        if not low - 0.02 <= value <= high + 0.02:
            findings.append(
                Finding(
                    "ask",
                    translatable("{word} for its class", word=word),
                    translatable(
                        "{word} {value:.0f} %; {kind} films commonly have {low:.0f} % to {high:.0f} "
                        "% on clear "
                        "single glass (common practice)",
                        word=word,
                        value=100.0 * value,
                        kind=translatable(film.film_class.replace("_", " ")),
                        low=100.0 * low,
                        high=100.0 * high,
                    ),
                    english("Is the class right?"),
                )
            )
    return findings


def worst(findings: Sequence[Finding]) -> Severity:
    """Return the gravest severity among findings; ``note`` for none."""
    return max((finding.severity for finding in findings), key=SEVERITIES.index, default="note")
