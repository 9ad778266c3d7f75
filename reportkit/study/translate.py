"""From what a person wrote to what the physics takes: one function for each kind of record.

Percent becomes shares, millimetres become metres where the sun needs them, and the words of the job
file choose constructors from the dicts below. To add a kind of glass or coating, add a line here.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction

from reportkit.base.outline import Outline
from reportkit.base.translatable import reason_of, translatable
from reportkit.job.model import FilmSpec, GlazingSpec, Horizon, Job, LiteSpec, Pane
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

#: Karlsson-Roos category by film class, where it is not 4 (metal films behave like thin silver: 3).
ANGULAR_CATEGORY: dict[str, float] = {
    "metallised_reflective": 3.0,
    "dual_reflective": 3.0,
    "sputtered": 3.0,
    "low_emissivity": 3.0,
}


def lite(spec: LiteSpec) -> glass.Lite:
    """Return the sheet of glass that a job describes."""
    made = BY_STRENGTH[spec.strength](spec)
    face = spec.textured_face
    return glass.with_texture(made, face=face) if face else made


def glazing(spec: GlazingSpec) -> glass.Glazing:
    """Return the bare glazing that a job describes, its coating on the surface counted from outside."""
    lites = [lite(entry) for entry in spec.lites]
    if spec.coating:
        index, back = divmod(spec.coating.surface - 1, 2)
        lites[index] = glass.with_coating(
            lites[index], COATINGS[spec.coating.kind], face="back" if back else "front"
        )
    gaps = tuple(glass.Gap(gap.width_mm, gap.gas, gap.fill_percent / 100) for gap in spec.gaps)
    return glass.Glazing(spec.id, tuple(lites), gaps)


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
        emissivity=rated.emissivity,
        conditions=rated.conditions,
        side=spec.side,
        film_class=spec.film_class,
        rated_on=lite(LiteSpec(thickness_mm=rated.on_thickness_mm, glass=rated.on_glass)),
        angular_category=ANGULAR_CATEGORY.get(spec.film_class, 4.0),
    )


def film(spec: FilmSpec) -> glass.Film:
    """Return the film whose sheet a job quotes; where the sheet has gaps, one in the middle of its range.

    Raises
    ------
    ValueError
        No possible film has the values printed.
    """
    printed = sheet(spec).closed
    t_solar, r_solar = printed.t_solar, printed.r_solar_glass
    if t_solar is None or r_solar is None:
        found = glass.gain_range(glass.single(printed.rated_on), printed)
        if found is None:
            raise ValueError(
                translatable("{film}: no film has the values that its sheet prints", film=printed.name)
            )
        t_solar, r_solar = found.middle.t_solar, found.middle.r_solar_glass
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
        emissivity=printed.emissivity,
        side=printed.side,
        film_class=printed.film_class,
        thickness_um=spec.thickness_um,
        shgc=printed.shgc,
        rated_on=printed.rated_on,
        angular_category=printed.angular_category,
        scatters=spec.film_class == "frosted",
    )


def skyline(spec: Horizon) -> sun.Horizon:
    """Return a skyline with what it lets through month by month."""
    leafless = tuple(
        spec.leafless_transmittance if month in spec.leafless_months else 0.0 for month in range(1, 13)
    )
    return sun.Horizon(tuple(spec.points), leafless)


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


def film_on(
    bare: Mapping[str, glass.Glazing], glazing_id: str, spec: FilmSpec
) -> tuple[glass.Glazing | None, str]:
    """Return a glazing with a film on it, or None and the reason why it must not go there."""
    try:
        return glass.with_film(bare[glazing_id], film(spec)), ""
    except ValueError as error:
        return None, reason_of(error)
