"""What the study takes where neither the job nor the weather says it: for glare, privacy and the screen.

Two kinds: fields of the job that only some jobs need, and values that no job sets. Each is listed where it is
used, and only there. The numbers themselves stand where they are computed with.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from reportkit.base.translatable import Quantity, codes, english, translatable
from reportkit.job.reading.defaults import COMMON, PROGRAM, Assumption
from reportkit.physics.glass import edge, look
from reportkit.physics.room import envelope, frames, shades
from reportkit.study import dazzle, sight
from reportkit.study.bywindow import DISTANCE_M, EYE_M, SILL_M
from reportkit.study.frames import frames_of
from reportkit.study.presence import USUAL
from reportkit.study.screening import SEASONS

if TYPE_CHECKING:
    from reportkit.study import Study

#: Kinds of complaint that are scored in the hours somebody is there.
OCCUPIED = ("glare", "privacy")

#: Where what is taken of frames comes from.
ANNEX = english("ISO 10077-1, annexes, from memory")

#: Frames by the survey's word, with what their U stands for.
FRAMES = {
    "metal": english("frames of metal without a thermal break, of {panes}; with one some {broken:.1f}"),
    "plastic": english("hollow plastic frames, of {panes}"),
    "timber": english("frames of softwood, of {panes}"),
    "putty": english("slender puttied frames, of {panes}"),
}

#: The seasons of the breakage screen, as fields are named.
SCREENED = ("winter", "equinox", "summer")


def left_open(study: Study) -> list[Assumption]:
    """Return the fields of the job that were needed and not typed."""
    job = study.job
    kinds = job.complaint.kinds
    assumptions = []
    if any(kind in OCCUPIED for kind in kinds):
        mine = {pane.room for pane, counts in zip(job.panes, study.complained, strict=True) if counts}
        value = translatable("{first} to {last} h", first=USUAL[0], last=USUAL[1])
        assumptions += [
            Assumption(f"rooms.{room.id}.heat.occupied_hours", value, COMMON, english("as in a home"))
            for room in job.rooms
            if room.id in mine and room.heat is None
        ]
    assumptions += _opened(study) + _framed(study)
    bare = [
        pane.id
        for pane, counts in zip(job.panes, study.complained, strict=True)
        if pane.sill is None and counts
    ]
    if bare and "glare" in kinds:
        value = translatable("{height:.1f}", height=Quantity(SILL_M, "m"))
        assumptions.append(
            Assumption("panes.sill", value, COMMON, translatable("not given for {panes}", panes=codes(bare)))
        )
    return assumptions


def _opened(study: Study) -> list[Assumption]:
    """Return what is taken of windows that may or may not open, in the rooms whose year is computed."""
    described = {year.room for year in study.room_years}
    panes = [pane for pane in study.job.panes if pane.room in described and pane.opens is not False]
    unsaid = [pane.id for pane in panes if pane.opens is None and pane.opens_percent is None]
    assumptions = []
    if unsaid:
        why = translatable(
            "not said for {panes}: opened windows leave film the least to do, shut ones more",
            panes=codes(unsaid),
        )
        assumptions.append(Assumption("panes.opens", english("yes"), PROGRAM, why))
    opening = {pane.room for pane in panes}
    for room in study.job.rooms:
        if room.id not in opening or room.heat is None:
            continue
        at = f"rooms.{room.id}.heat"
        if "opened_above" not in room.heat.model_fields_set:
            value = translatable("{limit:.0f}", limit=Quantity(room.heat.opened_above, "°C"))
            why = english("while somebody is there and it is cooler outside")
            assumptions.append(
                Assumption(f"{at}.opened_above", value, english("CIBSE TM59, 2017, from memory"), why)
            )
        if "open_by_night" not in room.heat.model_fields_set:
            why = english("nothing says that it would be safe")
            assumptions.append(Assumption(f"{at}.open_by_night", english("no"), PROGRAM, why))
    return assumptions


def _framed(study: Study) -> list[Assumption]:
    """Return what is taken of the frames in the rooms whose year is computed."""
    described = {year.room for year in study.room_years}
    framed = frames_of(study.job, [pane for pane in study.job.panes if pane.room in described])
    typed = {glazing.id: glazing.frame for glazing in study.job.glazings}
    assumptions = []
    wide = [pane.id for pane, _ in framed if typed[pane.glazing].width is None]
    if wide:
        value = translatable("{width:.0f}", width=Quantity(frames.WIDTH_MM, "mm"))
        why = translatable("as they face, not given for {panes}; no sun comes in there", panes=codes(wide))
        assumptions.append(Assumption("frames.width", value, COMMON, why))
    broken = Quantity(frames.BROKEN_U, "W/m²K")
    for material, why in FRAMES.items():
        mine = [
            pane.id for pane, _ in framed if pane.frame == material and typed[pane.glazing].u_w_m2k is None
        ]
        if mine:
            value = translatable("{u:.1f}", u=Quantity(frames.FRAME_U[material], "W/m²K"))
            assumptions.append(
                Assumption("frames.u", value, ANNEX, translatable(why, panes=codes(mine), broken=broken))
            )
    edges: dict[float, list[str]] = {}
    for pane, frame in framed:
        if frame.spacer and typed[pane.glazing].spacer_w_mk is None:
            edges.setdefault(frame.spacer, []).append(pane.id)
    for spacer, ids in sorted(edges.items()):
        value = translatable("{spacer:.2f}", spacer=Quantity(spacer, "W/mK"))
        why = translatable("metal spacers, of {panes}", panes=codes(ids))
        assumptions.append(Assumption("frames.spacer", value, ANNEX, why))
    return assumptions


def fixed(study: Study) -> list[Assumption]:
    """Return the values used that no job sets."""
    kinds = study.job.complaint.kinds
    assumptions = []
    if "privacy" in kinds:
        (room, outdoors), (lit, dark) = sight.SIDES["day"], sight.SIDES["dark"]
        assumptions += [
            Assumption(
                "sight.day",
                translatable("{times:g} times the room", times=outdoors / room),
                COMMON,
                english("the least difference that film is said to hide a room with"),
            ),
            Assumption(
                "sight.dark",
                translatable("{times:g} times outdoors", times=lit / dark),
                COMMON,
                english("a lit room on a lit street"),
            ),
            Assumption(
                "sight.hidden",
                translatable("{share:.0%} of the contrast and less", share=look.HIDDEN),
                COMMON,
                english("shapes that glass or film blurs count as hidden, too"),
            ),
        ]
    if "glare" in kinds:
        distance = translatable("{distance:.0f}", distance=Quantity(DISTANCE_M, "m"))
        eye = translatable("{height:.1f}", height=Quantity(EYE_M, "m"))
        assumptions += [
            Assumption("seat.distance", distance, COMMON, english("somebody sits there and faces the pane")),
            Assumption(
                "seat.eye", eye, english("ISO 7726 and EN 17037, from memory"), english("of a seated person")
            ),
            Assumption(
                "seat.beam",
                translatable("{lumens:g} lm/W", lumens=dazzle.BEAM_LM_PER_W),
                COMMON,
                english("some 90 to 105 under a clear sky"),
            ),
        ]
    shut = any(shade.kind != "awning" for shade in study.job.shades)
    low, high = shades.RANGES["glass"]
    beyond = [
        pane.id
        for pane in study.job.panes
        if (rating := study.filmed[pane.glazing, None].rating) and not low <= rating.shgc <= high
    ]
    if shut and beyond:
        assumptions.append(
            Assumption(
                "shades.method",
                translatable("{low:.2f} to {high:.2f}", low=low, high=high),
                english("ISO 52022-1, from memory"),
                translatable(
                    "its simple method is taken outside that range, too: glass of {panes}",
                    panes=codes(beyond),
                ),
            )
        )
    opened = any(year.open_hours is not None for year in study.room_years)
    if opened and np.isnan(study.weather.wind_speed).any():
        assumptions.append(
            Assumption(
                "rooms.wind",
                translatable("{speed:.0f}", speed=Quantity(envelope.WIND, "m/s")),
                COMMON,
                english("the weather tells none; it blows air through opened windows"),
            )
        )
    if study.films:
        low, likely, high = (Quantity(value, "W/m²K") for value in edge.REBATE_COEFFICIENTS)
        assumptions += [
            Assumption(
                "screen.rebate",
                translatable(
                    "{likely:.0f}, and from {low:.0f} to {high:.0f}", likely=likely, low=low, high=high
                ),
                COMMON,
                english("how closely a frame holds the edge of the glass; both ends are screened"),
            ),
            Assumption(
                "screen.near",
                translatable("{share:.0%} of the limit", share=edge.ASK_SHARE),
                COMMON,
                english("from there on somebody is asked: the frame's temperature is not known"),
            ),
        ]
        used = {pane.glazing for pane in study.job.panes}
        lites = [lite for spec in study.job.glazings if spec.id in used for lite in spec.lites]
        if any(lite.strength in edge.ROLLED or lite.rough_faces for lite in lites):
            assumptions.append(
                Assumption(
                    "screen.rolled",
                    translatable("{share:.0%} of the limit", share=edge.ROLLED_EDGE),
                    COMMON,
                    english("the edge of wired and of patterned glass is weaker than that of float glass"),
                )
            )
    if study.films and np.isnan(study.peaks.weather.temp_air).any():
        why = translatable("clear days have no weather: the breakage screen takes this air")
        assumptions += [
            Assumption(f"screen.{name}", translatable("{air:.0f}", air=Quantity(air, "°C")), COMMON, why)
            for name, (*_, air) in zip(SCREENED, SEASONS, strict=True)
        ]
    return assumptions
