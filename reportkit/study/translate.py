"""From what a person wrote to what the physics takes: one function for each kind of record.

Percent becomes shares, millimetres become metres where the sun needs them, and the words of the job
file choose constructors from the dicts below. To add a kind of glass or coating, add a line here.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction

from reportkit.base.outline import Outline, polygon
from reportkit.base.translatable import reason_of, translatable
from reportkit.job.model import (
    FilmSpec,
    GlazingSpec,
    Horizon,
    Job,
    LiteSpec,
    Measured,
    Pane,
    RatedValues,
    Spectra,
)
from reportkit.physics import glass, sun
from reportkit.work.pieces import Opening

#: Coating words of the job file and the glass package's names for them.
COATINGS: dict[str, str] = {
    "hard_low_e": "hard",
    "soft_low_e": "soft",
    "solar_control_low_e": "solar_control_soft",
}

#: How a sheet is made by the word for its strength; laminated, wired and patterned glass is annealed.
BY_STRENGTH: dict[str, Callable[[LiteSpec], glass.Lite]] = {
    "annealed": lambda spec: glass.float_glass(spec.thickness_mm, spec.glass),
    "heat_strengthened": lambda spec: glass.float_glass(
        spec.thickness_mm, spec.glass, temper="heat_strengthened"
    ),
    "tempered": lambda spec: glass.float_glass(spec.thickness_mm, spec.glass, temper="tempered"),
    "laminated": lambda spec: glass.laminated(spec.thickness_mm, body=spec.glass),
    "wired": lambda spec: glass.wired(spec.thickness_mm, body=spec.glass),
    "patterned": lambda spec: glass.float_glass(spec.thickness_mm, spec.glass),
}

#: Karlsson-Roos category by film class, where it is not 4 (metal films behave like thin silver: 3); 4 lets
#: more slanted sun in, so it stands for a class not known.
ANGULAR_CATEGORY: dict[str, float] = {
    "metallised_reflective": 3.0,
    "dual_reflective": 3.0,
    "sputtered": 3.0,
    "low_emissivity": 3.0,
}


#: A job without files of spectra.
NO_SPECTRA: Spectra = {}


def lite(spec: LiteSpec) -> glass.Lite:
    """Return the sheet of glass that a job describes, by the values of its class."""
    made = BY_STRENGTH[spec.strength](spec)
    face = "either" if spec.rough_untold else spec.textured
    return glass.with_texture(made, face=face) if face else made


def spectrum(measured: Measured) -> glass.Spectrum:
    """Return what a file says; where it has no reflectances, those of uncoated glass of its transmittance."""
    bare = () if measured.r_front else tuple(glass.bare_reflectance(measured.t).tolist())
    return glass.Spectrum(
        measured.shown, measured.wavelength, measured.t, measured.r_front or bare, measured.r_back or bare
    )


def glazing(spec: GlazingSpec, spectra: Spectra = NO_SPECTRA, *, by_wavelength: bool = True) -> glass.Glazing:
    """Return the bare glazing that a job describes, its coatings on the surfaces counted from outside.

    Parameters
    ----------
    spec
        The glazing.
    spectra
        What the job's files say.
    by_wavelength
        False to take the three bands of what was measured, to compare with.

    Raises
    ------
    OutOfReachError
        The maker states a value that this glass cannot have.
    ValueError
        A measured spectrum cannot be that of the sheet named.
    """
    lites: list[glass.Lite] = []
    notes: list[str] = []
    for index, entry in enumerate(spec.lites):
        made = lite(entry)
        typical, face = made, ""
        for coating in spec.coatings:
            if (coating.surface - 1) // 2 == index:
                face = "front" if coating.surface % 2 else "back"
                typical = glass.with_coating(typical, COATINGS[coating.kind], face=face)
        if entry.spectrum is None:
            lites.append(typical)
            continue
        known = spectrum(spectra[entry.spectrum.file, entry.spectrum.front])
        notes += glass.held_note(known)
        if typical is not made:
            if by_wavelength:
                lites.append(glass.measured_coating(made, known, typical, face=face))
            else:
                lites.append(glass.banded_coating(made, known, typical, face=face))
        else:
            lites.append((glass.measured_pane if by_wavelength else glass.banded_pane)(made, known))
    gaps = tuple(glass.Gap(gap.width_mm, gap.gas, gap.fill_percent / 100) for gap in spec.gaps)
    typical_unit = glass.Glazing(spec.id, tuple(lites), gaps, notes=tuple(notes))
    return typical_unit if spec.known is None else glass.bent(typical_unit, stated(spec)).glazing


#: What glass can be bent to, and the job's names for it.
KNOWN: dict[str, str] = {
    "u_w_m2k": "u_w_m2k",
    "shgc": "shgc",
    "t_visible": "visible_transmittance_percent",
    "t_solar": "solar_transmittance_percent",
}


def stated(spec: GlazingSpec) -> glass.Known:
    """Return what is stated of a glazing of which something is known."""
    known = spec.known
    assert known is not None and known.conditions is not None  # the reader fills them in
    return glass.Known(
        conditions=known.conditions,
        u_w_m2k=known.u_w_m2k,
        shgc=known.shgc,
        t_visible=_share(known.visible_transmittance_percent),
        t_solar=_share(known.solar_transmittance_percent),
        emissivity=known.emissivity,
        emitting=tuple(coating.surface for coating in spec.coatings if coating.kind == spec.coatings[0].kind),
    )


def _share(percent: float | None) -> float | None:
    return None if percent is None else percent / 100


def sheet(spec: FilmSpec) -> glass.Sheet:
    """Return everything that a film's sheet prints, its claims among it."""
    rated, said = spec.rated, spec.claims
    return glass.Sheet(
        name=spec.name or spec.id,
        t_visible=rated.visible_transmittance_percent / 100,
        t_solar=_share(rated.solar_transmittance_percent),
        r_solar_glass=_share(rated.solar_reflectance_glass_side_percent),
        r_solar_film=_share(rated.solar_reflectance_film_side_percent),
        a_solar=_share(said.solar_absorptance_percent),
        r_visible_glass=_share(rated.visible_reflectance_glass_side_percent),
        r_visible_film=_share(rated.visible_reflectance_film_side_percent),
        t_uv=_share(rated.uv_transmittance_percent),
        shgc=rated.shgc,
        sc=said.shading_coefficient,
        lsg=said.light_to_solar_gain,
        tser=_share(rated.tser_percent),
        tser_aoi=said.tser_sun_angle_deg,
        infrared_cut=_share(said.infrared_rejected_percent),
        infrared_range=said.infrared_band_nm,
        fading_cut=_share(said.fading_reduced_percent),
        emissivity=rated.emissivity if "emissivity" in rated.model_fields_set else None,
        conditions=rated.conditions,
        side=spec.side,
        film_class=spec.film_class or "",
        rated_on=_rated_on(rated),
        glass_stated=rated.on_solar_transmittance_percent is not None,
        angular_category=ANGULAR_CATEGORY.get(spec.film_class or "", 4.0),
    )


def _rated_on(rated: RatedValues) -> glass.Lite:
    """Return the glass a sheet was measured on, as far as it tells."""
    bare = lite(LiteSpec(thickness_mm=rated.on_thickness_mm, glass=rated.on_glass))
    passed = _share(rated.on_solar_transmittance_percent)
    return bare if passed is None else glass.of_solar(bare, passed)


def film(spec: FilmSpec, spectra: Spectra = NO_SPECTRA, *, by_wavelength: bool = True) -> glass.Film:
    """Return the film whose sheet a job quotes; where the sheet has gaps, one in the middle of its range.

    A film that was measured by wavelength is what its file says; with ``by_wavelength=False`` the three
    bands of that, to compare with.

    Raises
    ------
    ValueError
        No possible film has the values printed.
    """
    printed = glass.believed(sheet(spec)).closed
    if spec.spectrum is not None:
        return _measured_film(spec, printed, spectra, by_wavelength)
    t_solar, r_solar = printed.t_solar, printed.r_solar_glass
    if t_solar is None or r_solar is None:
        inside = glass.gain_range(glass.single(printed.rated_on), printed)
        if inside is None:
            raise ValueError(
                translatable("{film}: no film has the values that its sheet prints", film=printed.name)
            )
        t_solar, r_solar = inside.middle.t_solar, inside.middle.r_solar_glass
    r_visible = printed.r_visible_glass
    return glass.Film(
        name=printed.name,
        t_solar=t_solar,
        r_solar_glass=r_solar,
        r_solar_film=printed.r_solar_film,
        t_visible=printed.t_visible,
        r_visible_glass=min(r_solar, 1 - printed.t_visible) if r_visible is None else r_visible,
        r_visible_film=printed.r_visible_film,
        t_uv=printed.t_uv,
        emissivity=spec.rated.emissivity,
        side=printed.side,
        film_class=printed.film_class,
        thickness_um=spec.thickness_um,
        shgc=printed.shgc,
        rated_on=printed.rated_on,
        angular_category=printed.angular_category,
        scatters=spec.film_class == "frosted",
    )


def _measured_film(spec: FilmSpec, printed: glass.Sheet, spectra: Spectra, by_wavelength: bool) -> glass.Film:
    named = spec.spectrum
    assert named is not None  # the caller asks only for films with a file
    known = spectrum(spectra[named.file, named.front])
    rated_on = printed.rated_on
    if named.glass_file is not None:
        bare = spectrum(spectra[named.glass_file, None])
        rated_on = (glass.measured_pane if by_wavelength else glass.banded_pane)(rated_on, bare)
    by = glass.integrals(known)
    return glass.Film(
        name=printed.name,
        t_solar=by.t_solar,
        r_solar_glass=by.r_solar_front,
        r_solar_film=by.r_solar_back,
        t_visible=by.t_visible,
        r_visible_glass=by.r_visible_front,
        r_visible_film=by.r_visible_back,
        t_uv=by.t_uv,
        emissivity=spec.rated.emissivity,
        side=printed.side,
        film_class=printed.film_class,
        thickness_um=spec.thickness_um,
        shgc=printed.shgc,
        rated_on=rated_on,
        angular_category=printed.angular_category,
        scatters=spec.film_class == "frosted",
        spectrum=known if by_wavelength else None,
    )


def skyline(spec: Horizon) -> tuple[sun.Horizon, ...]:
    """Return a skyline and each tree before it that is known, with what they let through month by month."""

    def through(bare: tuple[int, ...]) -> tuple[float, ...]:
        return tuple(spec.leafless_transmittance if month in bare else 0.0 for month in range(1, 13))

    line = [sun.Horizon(tuple(spec.points), through(spec.leafless_months))] if spec.points else []
    trees = (tree for tree in spec.trees if tree.outline)
    return (*line, *(sun.Horizon(tree.outline, through(tree.leafless_months)) for tree in trees))


def shade(job: Job, panes: tuple[Pane, ...]) -> sun.Shade:
    """Return what shades each pane, lengths in metres."""
    faces = {face.id: face for face in job.faces}
    skylines = {spec.id: skyline(spec) for spec in job.horizons}

    def metres(read: Callable[[Pane], Fraction]) -> list[float]:
        return [float(read(pane)) / 1000 for pane in panes]

    named = [pane.horizon or faces[pane.face].horizon for pane in panes]
    return sun.Shade(
        width=metres(lambda pane: pane.width),
        height=metres(lambda pane: pane.height),
        surface_azimuth=[faces[pane.face].bearing for pane in panes],
        surface_tilt=[faces[pane.face].tilt for pane in panes],
        overhang_depth=metres(lambda pane: pane.overhang),
        overhang_gap=metres(lambda pane: pane.overhang_above),
        left_fin_depth=metres(lambda pane: pane.left_fin),
        left_fin_gap=metres(lambda pane: pane.left_fin_away),
        right_fin_depth=metres(lambda pane: pane.right_fin),
        right_fin_gap=metres(lambda pane: pane.right_fin_away),
        reveal_depth=metres(lambda pane: pane.reveal),
        horizon=[None if name is None else skylines[name] for name in named],
        outline=[_in_metres(pane.outline) for pane in panes],
    )


def _in_metres(outline: Outline | None) -> Outline | None:
    """Return an outline told in millimetres in metres."""
    if outline is None:
        return None
    return Outline(tuple((x / 1000, y / 1000) for x, y in outline.points), outline.area / 1e6)


def outline(pane: Pane) -> Outline:
    """Return the outline of any pane, a rectangle's too [m]."""
    wide, high = float(pane.width) / 1000, float(pane.height) / 1000
    return _in_metres(pane.outline) or polygon(((0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high)))


def opening(pane: Pane) -> Opening:
    """Return a pane as the cutting sees it."""
    return Opening(
        id=pane.id,
        room=pane.room,
        width_mm=pane.width,
        height_mm=pane.height,
        widest_mm=pane.widest,
        tallest_mm=pane.tallest,
        quantity=pane.quantity,
        out_of_square=pane.out_of_square,
        fill=pane.fill,
        group=pane.view_group,
        seams_mm=pane.seam,
        lines_mm=pane.mullion,
    )


def others_on(
    bare: Mapping[str, glass.Glazing], glazing_id: str, spec: FilmSpec
) -> tuple[glass.Glazing, ...]:
    """Return a glazing with each of the films at the ends of what a sheet leaves open.

    The film must be one that can go on that glazing; one measured by wavelength leaves nothing open.
    """
    if spec.spectrum is not None:
        return ()
    return tuple(glass.with_film(bare[glazing_id], one) for one in glass.fitting_films(sheet(spec)))


def film_on(
    bare: Mapping[str, glass.Glazing],
    glazing_id: str,
    spec: FilmSpec,
    spectra: Spectra = NO_SPECTRA,
    *,
    by_wavelength: bool = True,
) -> tuple[glass.Glazing | None, str]:
    """Return a glazing with a film on it, or None and the reason why it must not go there."""
    try:
        return glass.with_film(bare[glazing_id], film(spec, spectra, by_wavelength=by_wavelength)), ""
    except ValueError as error:
        return None, reason_of(error)
