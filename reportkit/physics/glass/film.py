"""Applied film: the values it was rated with, and the bare interface that they imply.

A sheet states what the film does on the glass it was rated on (3 mm clear unless told). `interface` takes
that glass away, band by band, so that `reportkit.physics.glass.glazing.with_film` can put the film on the
job's own glass. A film measured by wavelength is taken off cell by cell (`reportkit.physics.glass.measured`)
and its printed values stand beside it. Where a sheet leaves out the film-side reflectance there are two
knowns for three unknowns: the film is then assumed to reflect as much on its own face as on its glass face,
the assumption is carried as a note, and `interface(film, film_side="low")` and ``"high"`` give the bounds.

Not covered: the film's own thermal resistance (50 um of polyester is .0004 m2K/W), haze, colour, and interior
films behind a coating, which the rating of a clear pane says nothing about.

References
----------
M. Rubin, K. von Rottkay, R. Powles, Solar Energy 62 (1998) 149; 66 (1999) 267 (from memory).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache

from reportkit.base.translatable import reason_of, translatable
from reportkit.physics.glass.bands import SOLAR_WEIGHTS, as_band3, bands_from_sheet
from reportkit.physics.glass.lite import Lite, clear
from reportkit.physics.glass.measured import Spectrum, held_note, measured_interface
from reportkit.physics.glass.surface import BARE_REFLECTANCE, Surface, deembed, embed

SIDES = ("inside", "outside")
FILM_SIDE = ("rated", "low", "high")
ORDINARY_EMISSIVITY = 0.90  # polyester with a hard coat (common practice, no source)

# How far an interface value may stand outside 0-1 and still be the sheet's rounding to a hundredth.
TOLERANCE = 0.03


@dataclass(frozen=True)
class Film:
    """A film as its sheet describes it.

    Parameters
    ----------
    name : str
    t_solar, r_solar_glass : float, 0-1 [1]
        Rated on `rated_on`; glass side is the bare face of the filmed pane.
    t_visible, r_visible_glass : float, 0-1 [1]
    r_solar_film, r_visible_film : float or None, 0-1 [1]
        Reflectance of the film's own face; None where the sheet omits it.
    t_uv : float or None, 0-1 [1]
        Ultraviolet transmittance; None where omitted.
    emissivity : float, 0-1 [1]
        Hemispherical emissivity of the film's own face.
    side : str
        ``inside`` or ``outside``: the side of the glass the film is made for.
    film_class : str
        A class of the trade (a key of `reportkit.physics.glass.claims.CLASS_RANGES`), for plausibility only.
    thickness_um : float or None [um]
    shgc, u_w_m2k : float or None [1], [W/m2/K]
        As the sheet claims them on `rated_on`; compared, never used.
    rated_on : Lite
        The pane it was rated on.
    angular_category : float, 1-10 [1]
        Karlsson-Roos category q.
    scatters : bool
        Frosted or patterned film.
    spectrum : Spectrum or None
        The film as measured on `rated_on`, front being the bare side; what it does follows from this alone
        then.
    """

    name: str
    t_solar: float
    r_solar_glass: float
    t_visible: float
    r_visible_glass: float
    r_solar_film: float | None = None
    r_visible_film: float | None = None
    t_uv: float | None = None
    emissivity: float = ORDINARY_EMISSIVITY
    side: str = "inside"
    film_class: str = ""
    thickness_um: float | None = None
    shgc: float | None = None
    u_w_m2k: float | None = None
    rated_on: Lite = field(default_factory=lambda: clear(3.0))
    angular_category: float = 4.0
    scatters: bool = False
    spectrum: Spectrum | None = None

    def __post_init__(self) -> None:
        """Check the side; the rest is judged by `interface`."""
        if self.side not in SIDES:
            raise ValueError(f"side of {self.name} must be inside or outside (got {self.side!r})")


@dataclass(frozen=True)
class FilmInterface:
    """What a film's rated values imply.

    Attributes
    ----------
    surface : Surface
        The film with its outer boundary as an interface.
    notes : tuple of str
        Assumptions made and rounding allowed for, to be printed.
    """

    surface: Surface
    notes: tuple[str, ...]


def _sheet_notes(film: Film) -> list[str]:
    """Say what the sheet left out and what is put in its place."""
    notes = []
    if film.t_uv is None:
        notes.append(
            translatable(
                "ultraviolet transmittance not stated: taken as high as that of light, the most that fits"
            )
        )
    if film.r_solar_film is None:
        notes.append(
            translatable(
                "film-side solar reflectance not stated: taken as on its glass face; for a film "
                "inside this touches only the reflection seen from the room, outside the gain too"
            )
        )
    if film.r_visible_film is None:
        notes.append(
            translatable("film-side visible reflectance not stated: taken as its glass face")
            if film.r_solar_film is None
            else translatable(
                "film-side visible reflectance not stated: taken as the film-side solar reflectance"
            )
        )
    return notes


def _clip(value: float, name: str, film: Film) -> float:
    """Bring a value that rounding pushed out of 0-1 back; refuse one that is further out."""
    if value < -TOLERANCE or value > 1.0 + TOLERANCE:
        raise ValueError(
            translatable(
                "{film}: the rated values contradict each other on {glass}: {name} of the film alone would "
                "have to be {value:.3f}; it must be between 0 and 1",
                film=film.name,
                glass=film.rated_on.name,
                name=translatable(name),
                value=value,
            )
        )
    return min(max(value, 0.0), 1.0)


def _check_sheet(film: Film) -> None:
    """Refuse values whose sum is over 1 or that exceed what the bare pane passes."""
    for band, t, sides in (
        ("solar", film.t_solar, {"glass": film.r_solar_glass, "film": film.r_solar_film}),
        ("visible", film.t_visible, {"glass": film.r_visible_glass, "film": film.r_visible_film}),
    ):
        for side, r in sides.items():
            if r is None:
                continue
            if not 0.0 <= r <= 1.0 or not 0.0 <= t <= 1.0:
                raise ValueError(
                    translatable(
                        "{film}: {band} values must be between 0 and 1 (got T {t:g}, R {r:g})",
                        film=film.name,
                        band=translatable(band),
                        t=t,
                        r=r,
                    )
                )
            if t + r > 1.0:
                raise ValueError(
                    translatable(
                        "{film}: {passed} {t:g} and {sent} {r:g} add up to {sum:.3f}; more than 1",
                        film=film.name,
                        passed=translatable(f"{band} transmittance"),
                        sent=translatable(f"{side}-side {band} reflectance"),
                        t=t,
                        r=r,
                        sum=t + r,
                    )
                )
    for name, r in (("solar", film.r_solar_glass), ("visible", film.r_visible_glass)):
        if r < BARE_REFLECTANCE - 0.006:
            raise ValueError(
                translatable(
                    "{film}: {name} {r:g} is below the {least:.3f} that the bare face in front of the film "
                    "reflects by itself",
                    film=film.name,
                    name=translatable(f"glass-side {name} reflectance"),
                    r=r,
                    least=BARE_REFLECTANCE,
                )
            )


@lru_cache(maxsize=512)
def interface(film: Film, *, film_side: str = "rated") -> FilmInterface:
    """De-embed a film from the pane it was rated on.

    Parameters
    ----------
    film : Film
        Rated on a pane with two bare faces.
    film_side : str
        ``rated``: the sheet's film-side reflectance, or the stated assumption where there is none.
        ``low`` and ``high``: where the sheet has none, the film's own face reflecting nothing, or all that is
        not transmitted. Without effect where the sheet states it.

    Returns
    -------
    FilmInterface

    Raises
    ------
    ValueError
        The rated values contradict each other; the message names which, and the value they would imply.

    Notes
    -----
    A sheet's ultraviolet reflectance is never printed: the film alone is taken to reflect ultraviolet as it
    reflects light.
    """
    if film_side not in FILM_SIDE:
        raise ValueError(f"film_side must be one of {', '.join(FILM_SIDE)} (got {film_side!r})")
    if film.rated_on.front.kind != "bare" or film.rated_on.back.kind != "bare":
        raise ValueError(f"{film.name}: the pane a film is rated on must be uncoated")
    if film.spectrum is not None:
        made = measured_interface(film.spectrum, film.rated_on, film.emissivity, film.angular_category)
        return FilmInterface(made, held_note(film.spectrum))
    _check_sheet(film)
    notes = _sheet_notes(film)
    u_uv, u_visible, u_nir = film.rated_on.internal
    rf_visible = film.r_solar_film if film.r_visible_film is None else film.r_visible_film
    visible = _one_band(
        film, "visible", film.t_visible, film.r_visible_glass, rf_visible, u_visible, film_side, notes
    )
    t_uv = _unstated(film, visible, u_uv) if film.t_uv is None else film.t_uv
    uv = _ultraviolet(film, t_uv, visible, u_uv)
    _, rg_uv, rf_uv = embed(*uv, internal=u_uv)
    try:
        t_nir = bands_from_sheet(solar_value=film.t_solar, visible=film.t_visible, uv=t_uv)[2]
        rg_nir = bands_from_sheet(
            solar_value=film.r_solar_glass,
            visible=film.r_visible_glass,
            uv=rg_uv,
            quantity="glass-side reflectance",
        )[2]
        rf_nir = None
        if film.r_solar_film is not None and rf_visible is not None:
            rf_nir = bands_from_sheet(
                solar_value=film.r_solar_film, visible=rf_visible, uv=rf_uv, quantity="film-side reflectance"
            )[2]
    except ValueError as error:
        said = reason_of(error)
        raise ValueError(translatable("{film}: {why}", film=film.name, why=said)) from error
    nir = _one_band(film, "near-infrared", t_nir, rg_nir, rf_nir, u_nir, film_side, notes)
    t, r_glass, r_air = (as_band3(column) for column in zip(uv, visible, nir, strict=True))
    surface = Surface("film", t, r_glass, r_air, film.emissivity, film.angular_category)
    return FilmInterface(surface, tuple(dict.fromkeys(notes)))


def _over_one(film: Film, passed: str, sent: str, t: float, r: float) -> str:
    return translatable(
        "{film}: {passed} {t:.3f} and {sent} {r:.3f} of the film alone add up to {sum:.3f}; more "
        "than 1, so the "
        "rated values contradict each other",
        film=film.name,
        passed=translatable(passed),
        sent=translatable(sent),
        t=t,
        r=r,
        sum=t + r,
    )


def _unstated(film: Film, visible: tuple[float, float, float], internal: float) -> float:
    """Ultraviolet transmittance of the pane where the sheet has none: the film passes it as it passes light.

    No more than the solar value leaves for it.
    """
    w_uv, w_visible, _ = SOLAR_WEIGHTS
    left = max(0.0, film.t_solar - w_visible * film.t_visible) / w_uv
    return min(embed(*visible, internal=internal)[0], left)


def _ultraviolet(
    film: Film, t_pane: float, visible: tuple[float, float, float], internal: float
) -> tuple[float, float, float]:
    """De-embed the ultraviolet band, whose reflectance no sheet prints: the film's visible one is taken."""
    r_pane = embed(0.0, visible[1], 0.0, internal=internal)[1]
    t = _clip(deembed(t_pane, r_pane, 0.0, internal=internal)[0], "ultraviolet transmittance", film)
    return t, min(visible[1], 1.0 - t), min(visible[2], 1.0 - t)


def _one_band(
    film: Film,
    word: str,
    t_pane: float,
    r_bare_face: float,
    r_film_face: float | None,
    internal: float,
    film_side: str,
    notes: list[str],
) -> tuple[float, float, float]:
    """De-embed one band, judge it, and put the assumption where the film-side value is missing."""
    raw_t, raw_rg, raw_ra = deembed(
        t_pane, r_bare_face, 0.0 if r_film_face is None else r_film_face, internal=internal
    )
    t = _clip(raw_t, f"{word} transmittance", film)
    r_glass = _clip(raw_rg, f"glass-side {word} reflectance", film)
    if t + r_glass > 1.0 + TOLERANCE:
        raise ValueError(
            _over_one(film, f"{word} transmittance", f"glass-side {word} reflectance", t, r_glass)
        )
    if r_film_face is None:
        r_air = {"low": 0.0, "high": 1.0 - t, "rated": min(r_glass, 1.0 - t)}[film_side]
    else:
        r_air = _clip(raw_ra, f"film-side {word} reflectance", film)
    if t + r_air > 1.0 + TOLERANCE:
        raise ValueError(_over_one(film, f"{word} transmittance", f"film-side {word} reflectance", t, r_air))
    limited_glass, limited_air = min(r_glass, 1.0 - t), min(r_air, 1.0 - t)
    moved = (t - raw_t, limited_glass - raw_rg, 0.0 if r_film_face is None else limited_air - raw_ra)
    if max(abs(x) for x in moved) > 1e-9:
        notes.append(
            translatable(
                "{band} values of the sheet agree with each other only within their rounding",
                band=translatable(word),
            )
        )
    return t, limited_glass, limited_air


def film_side_stated(film: Film) -> bool:
    """Whether the sheet states the film-side solar reflectance."""
    return film.r_solar_film is not None
