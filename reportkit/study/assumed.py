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
from reportkit.physics.room import envelope
from reportkit.study import dazzle, sight
from reportkit.study.bywindow import DISTANCE_M, EYE_M, SILL_M
from reportkit.study.presence import USUAL
from reportkit.study.screening import SEASONS

if TYPE_CHECKING:
    from reportkit.study import Study

#: Kinds of complaint that are scored in the hours somebody is there.
OCCUPIED = ("glare", "privacy")

#: The seasons of the breakage screen, as fields are named.
SCREENED = ("winter", "equinox", "summer")


def left_open(study: Study) -> list[Assumption]:
    """Return the fields of the job that were needed and not typed."""
    job = study.job
    kinds = job.complaint.kinds
    found = []
    if any(kind in OCCUPIED for kind in kinds):
        mine = {pane.room for pane, counts in zip(job.panes, study.complained, strict=True) if counts}
        value = translatable("{first} to {last} h", first=USUAL[0], last=USUAL[1])
        found += [
            Assumption(f"rooms.{room.id}.heat.occupied_hours", value, COMMON, english("as in a home"))
            for room in job.rooms
            if room.id in mine and room.heat is None
        ]
    found += _opened(study)
    bare = [
        pane.id
        for pane, counts in zip(job.panes, study.complained, strict=True)
        if pane.sill is None and counts
    ]
    if bare and "glare" in kinds:
        value = translatable("{height:.1f}", height=Quantity(SILL_M, "m"))
        found.append(
            Assumption("panes.sill", value, COMMON, translatable("not given for {panes}", panes=codes(bare)))
        )
    return found


def _opened(study: Study) -> list[Assumption]:
    """Return what is taken of windows that may or may not open, in the rooms whose year is computed."""
    described = {year.room for year in study.room_years}
    panes = [pane for pane in study.job.panes if pane.room in described and pane.opens is not False]
    unsaid = [pane.id for pane in panes if pane.opens is None and pane.opens_percent is None]
    found = []
    if unsaid:
        why = translatable(
            "not said for {panes}: opened windows leave film the least to do, shut ones more",
            panes=codes(unsaid),
        )
        found.append(Assumption("panes.opens", english("yes"), PROGRAM, why))
    opening = {pane.room for pane in panes}
    for room in study.job.rooms:
        if room.id not in opening or room.heat is None:
            continue
        at = f"rooms.{room.id}.heat"
        if "opened_above" not in room.heat.model_fields_set:
            value = translatable("{limit:.0f}", limit=Quantity(room.heat.opened_above, "°C"))
            why = english("while somebody is there and it is cooler outside")
            found.append(
                Assumption(f"{at}.opened_above", value, english("CIBSE TM59, 2017, from memory"), why)
            )
        if "open_by_night" not in room.heat.model_fields_set:
            why = english("nothing says that it would be safe")
            found.append(Assumption(f"{at}.open_by_night", english("no"), PROGRAM, why))
    return found


def fixed(study: Study) -> list[Assumption]:
    """Return the values used that no job sets."""
    kinds = study.job.complaint.kinds
    found = []
    if "privacy" in kinds:
        (room, outdoors), (lit, dark) = sight.SIDES["day"], sight.SIDES["dark"]
        found += [
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
        found += [
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
    opened = any(year.open_hours is not None for year in study.room_years)
    if opened and np.isnan(study.weather.wind_speed).any():
        found.append(
            Assumption(
                "rooms.wind",
                translatable("{speed:.0f}", speed=Quantity(envelope.WIND, "m/s")),
                COMMON,
                english("the weather tells none; it blows air through opened windows"),
            )
        )
    if study.films:
        low, likely, high = (Quantity(value, "W/m²K") for value in edge.REBATE_COEFFICIENTS)
        found += [
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
        if any(lite.strength in edge.ROLLED or lite.textured_face for lite in lites):
            found.append(
                Assumption(
                    "screen.rolled",
                    translatable("{share:.0%} of the limit", share=edge.ROLLED_EDGE),
                    COMMON,
                    english("the edge of wired and of patterned glass is weaker than that of float glass"),
                )
            )
    if study.films and np.isnan(study.peaks.weather.temp_air).any():
        why = translatable("clear days have no weather: the breakage screen takes this air")
        found += [
            Assumption(f"screen.{name}", translatable("{air:.0f}", air=Quantity(air, "°C")), COMMON, why)
            for name, (*_, air) in zip(SCREENED, SEASONS, strict=True)
        ]
    return found
