"""What to ask about a film's sheet: what does not follow, what is claimed too high, what is left out.

Values that follow from each other by definition are compared in `reportkit.physics.glass.sheet`, claims with
what film can do in `reportkit.physics.glass.claims`; here they come together, gravest first, with the sheet's
gaps. Not covered: durability, haze, colour.
"""

from __future__ import annotations

from dataclasses import replace

import numpy.typing as npt

from reportkit.base.translatable import english, joined, translatable
from reportkit.physics.glass.claims import SEVERITIES, Claim, Finding, examine, judge_tser
from reportkit.physics.glass.fitting import believed
from reportkit.physics.glass.glazing import single
from reportkit.physics.glass.limits import gain_limits
from reportkit.physics.glass.reference import lawful, solar_of
from reportkit.physics.glass.sheet import Sheet, film_of, follows, gain_range, infrared

GLASS_ROUNDING = 0.006  # of a solar transmittance printed to a percent


def check(sheet: Sheet, *, wavelength: npt.ArrayLike, irradiance: npt.ArrayLike) -> tuple[Finding, ...]:
    """Return all that can be said of a sheet, gravest first.

    Parameters
    ----------
    sheet : Sheet
    wavelength, irradiance : array_like, (N,) [nm], [W/m2/nm]
        Reference solar spectrum, ASTM G173-03 global tilt.

    Returns
    -------
    tuple of Finding
    """
    findings = [*follows(sheet), *infrared(sheet), *_measured_on(sheet)]
    sheet = believed(sheet)
    own = sheet.closed
    claim = Claim(sheet.tser, sheet.tser_aoi, sheet.infrared_cut, sheet.infrared_range, sheet.fading_cut)
    spectrum = {"wavelength": wavelength, "irradiance": irradiance}
    if own.t_solar is not None and own.r_solar_glass is not None:
        shgc = sheet.gain if sheet.shgc is None and sheet.tser is None else sheet.shgc
        film = replace(film_of(own, own.t_solar, own.r_solar_glass), shgc=shgc)
        findings += examine(film, claim, **spectrum, conditions=sheet.conditions)
        if own.t_uv is None:
            findings.append(_no_ultraviolet())
    else:
        findings.append(_left_out(own))
        if sheet.gain is not None:
            findings.append(judge_tser(1.0 - sheet.gain, gain_limits(sheet.t_visible, **spectrum), "TSER"))
        middle = gain_range(single(sheet.rated_on), sheet)
        if middle is None:
            findings.append(_no_film(sheet))
        else:
            film, rest = replace(middle.middle, shgc=None), replace(claim, tser=None)
            made = examine(film, rest, **spectrum, conditions=sheet.conditions)
            findings += [finding for finding in made if finding.about != "film-side reflectance"]
        if sheet.tser is not None and sheet.tser_aoi > 0.0:
            findings.append(_slanted(sheet))
    kept = {(finding.about, finding.arithmetic): finding for finding in findings}
    return tuple(sorted(kept.values(), key=lambda finding: -SEVERITIES.index(finding.severity)))


WORDS = {
    "t_solar": english("solar transmittance"),
    "r_solar_glass": english("glass-side solar reflectance"),
    "r_visible_glass": english("glass-side visible reflectance"),
    "t_uv": english("ultraviolet transmittance"),
    "r_solar_film": english("film-side solar reflectance"),
}


def _left_out(sheet: Sheet) -> Finding:
    names = joined(", ", (translatable(WORDS[name]) for name in sheet.gaps))
    return Finding(
        "ask",
        english("what is not printed"),
        translatable(
            "the sheet does not give its {names}: SHGC on other glass is a range, not a number", names=names
        ),
        translatable("What is the {names}, and on which glass?", names=names),
    )


def _no_ultraviolet() -> Finding:
    return Finding(
        "ask",
        english("ultraviolet"),
        english("the sheet does not print it: as much as of light is counted, and no block is promised"),
        english("What is the ultraviolet transmittance, and up to which wavelength?"),
    )


def _measured_on(sheet: Sheet) -> tuple[Finding, ...]:
    """Return what the values say of the glass they were measured on."""
    low, high = lawful(sheet.rated_on)
    about = english("the glass it was measured on")
    said = solar_of(sheet.rated_on)
    if sheet.glass_stated and not low - GLASS_ROUNDING <= said <= high + GLASS_ROUNDING:
        return (
            Finding(
                "doubt",
                about,
                translatable(
                    "{mm:g} mm glass of that color passes {low:.2f} to {high:.2f} of the sun; the sheet's "
                    "passes {said:.2f}",
                    mm=sheet.rated_on.thickness_mm,
                    low=low,
                    high=high,
                    said=said,
                ),
                english("How thick was the glass it was measured on?"),
            ),
        )
    trusted = believed(sheet)
    if trusted is sheet:
        return ()
    return (
        Finding(
            "ask",
            about,
            translatable(
                "on {glass} that passes {said:.3f} of the sun no film has these values; on such glass that "
                "passes {can:.3f} one has",
                glass=sheet.rated_on.name,
                said=said,
                can=solar_of(trusted.rated_on),
            ),
            english("On which glass was it measured: how thick, and what does it pass by itself?"),
        ),
    )


def _slanted(sheet: Sheet) -> Finding:
    return Finding(
        "doubt",
        english("TSER at an angle"),
        translatable(
            "{claimed:.2f} is quoted at {angle:g}°; bare glass itself keeps out more when the sun is slanted",
            claimed=sheet.tser,
            angle=sheet.tser_aoi,
        ),
        english("What is the TSER at normal incidence?"),
    )


def _no_film(sheet: Sheet) -> Finding:
    said = (
        translatable("nothing of its heat")
        if sheet.gain is None
        else translatable("SHGC {heat:.2f}", heat=sheet.gain)
    )
    return Finding(
        "impossible",
        english("rated values"),
        translatable(
            "no film with VT {light:.2f} on {glass} has the values printed ({said})",
            light=sheet.t_visible,
            glass=sheet.rated_on.name,
            said=said,
        ),
        english("Which of the printed values is wrong?"),
    )
