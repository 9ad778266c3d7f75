"""The films that fit a sheet: the ends of everything its numbers leave open.

What a sheet prints holds: transmittance and reflectance as they stand, absorptance and heat gain within their
rounding and the spread of solvers. What it leaves out takes any value a film can have. Of all these films the
ends are returned: the corners of the area of solar transmittance and reflectance that is left, each with the
ends of the other gaps. Absorbed sun rises or falls evenly over that area, so its extremes lie at corners.
A number more can only cut the area, never widen it: `reportkit.physics.glass.breakage` rests on that.

Not covered: visible transmittance, which every sheet prints, and its rounding; spectra.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise, product

import numpy as np

from reportkit.physics.glass.bands import ROUNDING, SOLAR_WEIGHTS
from reportkit.physics.glass.film import ORDINARY_EMISSIVITY, TOLERANCE, Film, interface
from reportkit.physics.glass.glazing import single, with_surface
from reportkit.physics.glass.rating import CLEAR_3MM_GAIN, rate
from reportkit.physics.glass.reference import lawful, of_solar, solar_of
from reportkit.physics.glass.sheet import BALANCE_ROUNDING, Sheet, film_of
from reportkit.physics.glass.surface import BARE_REFLECTANCE, Surface, deembed

GAIN_SPREAD = 0.03  # of a printed SHGC: rounding, and the spread of solvers and conditions

# Least emissivity of a film whose sheet does not print it, by class [1] (common practice, no source).
LEAST_EMISSIVITY = {
    "low_emissivity": 0.05, "metallised_reflective": 0.70, "dual_reflective": 0.70, "sputtered": 0.70,
}  # fmt: skip
OTHER_EMISSIVITY = 0.84  # of the other classes; one not told may be any
LEAST_OUTSIDE = 0.01  # solar reflectance of a film's own face: no film reflects less

Point = tuple[float, float]
Line = tuple[float, float, float]  # a, b, c of a T + b R <= c


def _inward(sheet: Sheet, emissivity: float) -> float:
    """Of the sun absorbed, the part that reaches the room on the glass it is rated on, a grey film on it."""
    grey = Surface("film", (0.4,) * 3, (0.1,) * 3, (0.1,) * 3, emissivity)
    filmed = with_surface(single(sheet.rated_on), grey, face=1 if sheet.side == "outside" else 2)
    return rate(filmed, sheet.conditions).inward_fraction


def _gains(sheet: Sheet) -> tuple[float, float] | None:
    """Return the least and the largest SHGC that everything printed of it allows; None where nothing is."""
    printed = []
    if sheet.shgc is not None:
        printed.append((sheet.shgc, GAIN_SPREAD))
    if sheet.tser is not None and sheet.tser_aoi == 0.0:
        printed.append((1.0 - sheet.tser, GAIN_SPREAD))
    if sheet.sc is not None:
        printed.append((sheet.sc * CLEAR_3MM_GAIN, GAIN_SPREAD))
    if sheet.lsg:
        gain = sheet.t_visible / sheet.lsg
        printed.append((gain, GAIN_SPREAD + gain * 0.005 / sheet.lsg))
    if not printed:
        return None
    low, high = max(gain - by for gain, by in printed), min(gain + by for gain, by in printed)
    if low > high:  # they contradict each other: any of them may be right
        low, high = min(gain - by for gain, by in printed), max(gain + by for gain, by in printed)
    return low, high


@dataclass(frozen=True)
class _Band:
    """What a film can do to one band on the glass it is rated on, seen from the glass.

    A film that absorbs nothing has t + rg = 1: on the pane that is a straight line of T and R.
    """

    most_t: float
    least_r: float
    slope: float

    def most_r(self, t: float) -> float:
        """Return the largest reflectance beside a transmittance [1]."""
        return self.least_r + max(0.0, self.most_t - t) * self.slope


def _band(internal: float) -> _Band:
    r, u = BARE_REFLECTANCE, internal
    return _Band((1.0 - r) * u, r, (1.0 - r) * u / (1.0 - r * u * u))


def _reflected(sheet: Sheet) -> tuple[float, float]:
    """Return the least and largest visible reflectance of the glass side."""
    if sheet.r_visible_glass is not None:
        return sheet.r_visible_glass, sheet.r_visible_glass
    band = _band(sheet.rated_on.internal[1])
    return band.least_r, max(band.least_r, band.most_r(sheet.t_visible))


def _lines(sheet: Sheet, inward: float) -> list[Line]:
    """Return what bounds solar transmittance T and the reflectance R of the sun's side."""
    w_uv, w_visible, w_nir = SOLAR_WEIGHTS
    outside = sheet.side == "outside"
    t, r = sheet.t_solar, sheet.r_solar_film if outside else sheet.r_solar_glass
    nir = _band(sheet.rated_on.internal[2])
    light = w_visible * sheet.t_visible
    least = light + w_uv * (sheet.t_uv or 0.0)
    most = light + w_uv * (sheet.t_visible if sheet.t_uv is None else sheet.t_uv)
    lines: list[Line] = [
        (1.0, 1.0, 1.0),
        (-1.0, 0.0, -least),
        (1.0, 0.0, most + w_nir * nir.most_t + TOLERANCE),
    ]
    if outside:
        lines.append((0.0, -1.0, -LEAST_OUTSIDE))
    else:
        fewest, largest = ((w_uv + w_visible) * seen for seen in _reflected(sheet))
        lines += [
            (0.0, -1.0, -fewest - w_nir * nir.least_r + ROUNDING),
            (nir.slope, 1.0, largest + w_nir * nir.most_r(0.0) + nir.slope * most + TOLERANCE),
        ]
    if t is not None:
        lines += [(1.0, 0.0, t), (-1.0, 0.0, -t)]
    if r is not None:
        lines += [(0.0, 1.0, r), (0.0, -1.0, -r)]
    if sheet.a_solar is not None and not outside and (t is None or r is None):
        absorbed, by = sheet.a_solar, BALANCE_ROUNDING
        lines += [(1.0, 1.0, 1.0 - absorbed + by), (-1.0, -1.0, absorbed + by - 1.0)]
    gains = _gains(sheet)
    if gains is not None and (t is None or r is None):  # SHGC = T + N (1 - T - R)
        low, high = gains
        lines += [(1.0 - inward, -inward, high - inward), (inward - 1.0, inward, inward - low)]
    return lines


def _corners(lines: list[Line]) -> list[Point]:
    """Return the corners of what lies within all lines, cut line by line; none where nothing does."""
    corners: list[Point] = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)]
    for a, b, c in lines:
        kept: list[Point] = []
        for (t0, r0), (t1, r1) in pairwise([*corners, *corners[:1]]):
            over0, over1 = a * t0 + b * r0 - c, a * t1 + b * r1 - c
            if over0 <= 1e-9:
                kept.append((t0, r0))
            if (over0 > 1e-9) != (over1 > 1e-9) and abs(over0 - over1) > 1e-12:
                share = over0 / (over0 - over1)
                kept.append((t0 + share * (t1 - t0), r0 + share * (r1 - r0)))
        corners = kept
    return list(dict.fromkeys((round(t, 6), round(r, 6)) for t, r in corners))


def _own_face(t: float, r_glass: float, internal: float) -> Point:
    """Return the least and largest reflectance of a film's own face on the pane, in one band."""
    passed, _, least = deembed(t, r_glass, 0.0, internal=internal)
    return -least, -least + max(0.0, 1.0 - passed)


def _split(solar: float, band: Point, rest: Point) -> Point:
    """Return what light may reflect where the solar value is known, between its own ends [1]."""
    w_uv, w_visible, w_nir = SOLAR_WEIGHTS
    low = max(band[0], (solar - w_nir * rest[1]) / (w_uv + w_visible))
    return low, max(low, min(band[1], (solar - w_nir * rest[0]) / (w_uv + w_visible)))


def _made(sheet: Sheet, t: float, r: float, ends: tuple[float, float, float, bool], e: float) -> Film:
    """Return a film of the sheet: solar values, and where each other gap stands between its ends, 0 to 1."""

    def at(share: float, between: Point) -> float:
        return between[0] + share * (between[1] - between[0])

    other, visible, visible_film, no_uv = ends
    w_uv, w_visible, w_nir = SOLAR_WEIGHTS
    light = w_uv + w_visible
    outside = sheet.side == "outside"
    _, u_visible, u_nir = sheet.rated_on.internal
    nir = _band(u_nir)
    t_nir = max(0.0, (t - w_visible * sheet.t_visible - w_uv * (sheet.t_uv or 0.0)) / w_nir)
    seen, infrared = _reflected(sheet), (nir.least_r, nir.most_r(t_nir))
    r_glass = r
    if outside:
        between = (light * seen[0] + w_nir * infrared[0], light * seen[1] + w_nir * infrared[1])
        r_glass = at(other, between) if sheet.r_solar_glass is None else sheet.r_solar_glass
    r_visible = sheet.r_visible_glass
    if r_visible is None:
        r_visible = at(visible, _split(r_glass, seen, infrared))
    own = _own_face(sheet.t_visible, r_visible, u_visible)
    own_nir = _own_face(t_nir, (r_glass - light * r_visible) / w_nir, u_nir)
    if sheet.r_visible_film is not None:
        own = (sheet.r_visible_film, sheet.r_visible_film)
    r_film = r if outside else sheet.r_solar_film
    if r_film is None:
        r_film = at(other, (light * own[0] + w_nir * own_nir[0], light * own[1] + w_nir * own_nir[1]))
    r_own = sheet.r_visible_film
    return Film(
        name=sheet.name,
        t_solar=t,
        r_solar_glass=r_glass,
        t_visible=sheet.t_visible,
        r_visible_glass=r_visible,
        r_solar_film=r_film,
        r_visible_film=at(visible_film, _split(r_film, own, own_nir)) if r_own is None else r_own,
        t_uv=0.0 if sheet.t_uv is None and no_uv else sheet.t_uv,
        emissivity=e,
        side=sheet.side,
        film_class=sheet.film_class,
        rated_on=sheet.rated_on,
        angular_category=sheet.angular_category,
    )


def _possible(film: Film) -> bool:
    try:
        interface(film)
    except ValueError:
        return False
    return True


def _ends(sheet: Sheet) -> Iterator[tuple[float, float, float, bool]]:
    """Return the ends of the gaps beside solar transmittance and the reflectance of the sun's side."""
    outside = sheet.side == "outside"
    other = sheet.r_solar_glass if outside else sheet.r_solar_film
    yield from product(
        (0.0, 1.0) if other is None else (0.5,),
        (0.0, 1.0) if sheet.r_visible_glass is None else (0.5,),
        (0.0, 1.0) if sheet.r_visible_film is None else (0.5,),
        (True, False) if sheet.t_uv is None else (False,),
    )


GLASSES = 15  # lawful glasses tried, of those between the ends
PULLS = 7  # halvings on the way from a corner that is no film to a film


def _films_on(sheet: Sheet, t_solar: float) -> tuple[Film, ...]:
    """Return the films that fit a sheet on glass of its thickness that passes a share of the sun."""
    return fitting_films(replace(sheet, rated_on=of_solar(sheet.rated_on, t_solar), glass_stated=True))


@lru_cache(maxsize=512)
def fitting_films(sheet: Sheet) -> tuple[Film, ...]:
    """Return the ends of the films that fit a sheet; none where no film does.

    Parameters
    ----------
    sheet : Sheet
        A gap of its emissivity is None.

    Returns
    -------
    tuple of Film

    Notes
    -----
    A corner at which bands, reflectances or the glass it is rated on leave no film is drawn towards the
    middle of the area until they do. Where that glass is named by its thickness alone, both ends of what it
    may be are taken.
    """
    if not sheet.glass_stated:
        by_glass = [_films_on(sheet, end) for end in lawful(sheet.rated_on)]
        if any(by_glass) and not all(by_glass):  # the last glass on which it can be
            can, cannot = lawful(sheet.rated_on)[:: 1 if by_glass[0] else -1]
            for _ in range(PULLS):
                tried = (can + cannot) / 2.0
                on_it = _films_on(sheet, tried)
                can, cannot = (tried, cannot) if on_it else (can, tried)
            by_glass.append(_films_on(sheet, can))
        return tuple(dict.fromkeys(film for films in by_glass for film in films))
    fits: dict[Film, None] = {}
    known = LEAST_EMISSIVITY.get(sheet.film_class, OTHER_EMISSIVITY)
    least = known if sheet.film_class else min(LEAST_EMISSIVITY.values())
    for emissivity in (least, ORDINARY_EMISSIVITY) if sheet.emissivity is None else (sheet.emissivity,):
        corners = _corners(_lines(sheet, _inward(sheet, emissivity)))
        if not corners:
            continue
        middle = tuple(sum(axis) / len(corners) for axis in zip(*corners, strict=True))
        for (t, r), ends in product(corners, _ends(sheet)):
            low, high = 0.0, 1.0  # shares of the way to the middle: out of the corner, and a film at last
            film = _made(sheet, t, r, ends, emissivity)
            if _possible(film):
                fits[film] = None
                continue
            best = None
            for _ in range(PULLS):
                share = high if best is None else (low + high) / 2.0
                at = (t + share * (middle[0] - t), r + share * (middle[1] - r))
                a, b, c = (0.5 * share + (1.0 - share) * end for end in ends[:3])
                film = _made(sheet, *at, (a, b, c, ends[3]), emissivity)
                if _possible(film):
                    best, high = film, share
                elif best is None:
                    break
                else:
                    low = share
            if best is not None:
                fits[best] = None
    return tuple(fits)


@lru_cache(maxsize=256)
def believed(sheet: Sheet) -> Sheet:
    """Return a sheet on the likeliest glass on which its values can be.

    Parameters
    ----------
    sheet : Sheet

    Returns
    -------
    Sheet
        The same where its glass is stated, where its values can be on the typical glass of that thickness, or
        where they can be on none.
    """
    if sheet.glass_stated or _fits(sheet):
        return sheet
    typical = solar_of(sheet.rated_on)
    for t_solar in sorted(np.linspace(*lawful(sheet.rated_on), GLASSES), key=lambda t: abs(t - typical)):
        tried = replace(sheet, rated_on=of_solar(sheet.rated_on, float(t_solar)))
        if _fits(tried):
            return tried
    return sheet


def _fits(sheet: Sheet) -> bool:
    """Whether a film can have the values of a sheet on the glass it names."""
    own = sheet.closed
    if own.t_solar is None or own.r_solar_glass is None:
        return bool(fitting_films(replace(sheet, glass_stated=True)))
    return _possible(film_of(own, own.t_solar, own.r_solar_glass))
