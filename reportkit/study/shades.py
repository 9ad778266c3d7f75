"""Shades to compare film with: what a screen, a blind or an awning does to the same panes.

A screen or blind is drawn in hours in which the sun on the pane exceeds 200 W/m2 (common practice, no
source) and changes the heat by ISO 52022-1; an awning is geometry. Light, view and wind are not covered.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from reportkit.physics.room.shades import TYPICAL, drawn, with_shade
from reportkit.study import translate
from reportkit.study.options import Gains, Option, pane_gains
from reportkit.study.solar import Solar, on_panes, shaded

if TYPE_CHECKING:
    from reportkit.job import LoadedJob
    from reportkit.job.model import ShadeSpec
    from reportkit.study.filmed import Filmed

#: An awning where the job gives no depth, and its height over the glass [m] (common practice, no source).
AWNING_DEPTH_M = 1.5
AWNING_ABOVE_M = 0.2


def shade_option(spec: ShadeSpec, bare: Option, loaded: LoadedJob, filmed: Filmed, on: Solar) -> Option:
    """Return the option of fitting a shade to every pane in place of film."""
    make = _awning if spec.kind == "awning" else _layer
    gains = make(spec, bare, loaded, filmed, on)
    return Option(spec.kind, bare.film_by_pane, gains, kind="shade", price=spec.price)


def _layer(spec: ShadeSpec, bare: Option, loaded: LoadedJob, filmed: Filmed, on: Solar) -> Gains:
    layer = TYPICAL[spec.kind]
    ratings = [filmed[pane.glazing, None].rating for pane in loaded.job.panes]
    left = np.array(
        [
            float(with_shade(rating.shgc, layer, u_glass=rating.u_w_m2k)) / rating.shgc
            for rating in ratings
            if rating is not None
        ]
    )
    shut = drawn(on.panes.total)
    return Gains(np.where(shut, bare.gains.by_pane * np.minimum(left, 1.0), bare.gains.by_pane))


def _awning(spec: ShadeSpec, bare: Option, loaded: LoadedJob, filmed: Filmed, on: Solar) -> Gains:
    job = loaded.job
    depth = float(spec.depth) / 1000 if spec.depth else AWNING_DEPTH_M
    old = translate.shade(job, job.panes)
    upright = old.surface_tilt == 90
    deeper = upright & (old.overhang_depth < depth)
    new = replace(
        old,
        overhang_depth=np.where(deeper, depth, old.overhang_depth),
        overhang_gap=np.where(deeper, AWNING_ABOVE_M, old.overhang_gap),
    )
    panes = on_panes(on.faces, on.face_of, shaded(new, on.position))
    glazed = [filmed[pane.glazing, None] for pane in job.panes]
    return pane_gains(job.panes, glazed, replace(on, panes=panes))
