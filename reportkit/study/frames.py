"""The frames of a job's panes, as typed or usual for their material, and what a room loses through them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from reportkit.physics.room import envelope, frames
from reportkit.study import translate

if TYPE_CHECKING:
    from reportkit.job.model import GlazingSpec, Job, Pane

#: Outside coefficient at which U of frames is told [W/(m2 K)]: ISO 10077-1 takes that of EN 673.
RATED_OUTSIDE = envelope.RATED_OUTSIDE["en"]


def frame_of(pane: Pane, glazing: GlazingSpec) -> frames.Frame:
    """Return the frame of one of the panes of a row."""
    typed = glazing.frame
    glass = translate.outline(pane)
    across = frames.WIDTH_MM if typed.width is None else float(typed.width)
    u = frames.FRAME_U[pane.frame] if typed.u_w_m2k is None else typed.u_w_m2k
    spacer = typed.spacer_w_mk
    if spacer is None:
        lites, coated = len(glazing.lites), bool(glazing.coatings)
        spacer = frames.usual_spacer(pane.frame, u, lites=lites, coated=coated)
    return frames.Frame(frames.frame_area(glass, across / 1000), u, glass.edge, spacer)


def frames_of(job: Job, panes: Iterable[Pane]) -> list[tuple[Pane, frames.Frame]]:
    """Return the panes with the frame that each of their row has."""
    glazings = {glazing.id: glazing for glazing in job.glazings}
    return [(pane, frame_of(pane, glazings[pane.glazing])) for pane in panes]


def through_frames(
    job: Job, panes: Iterable[Pane], outside: float, *, sky_known: bool
) -> tuple[float, float]:
    """Return what panes lose by frames and spacers over the year [W/K], and what frames lose to the sky [W].

    No film changes it, and no sun comes in by it. ``outside`` is the site's coefficient [W/(m2 K)];
    ``sky_known`` as ``known`` in ``envelope.sky_form``.
    """
    tilts = {face.id: float(face.tilt) for face in job.faces}
    lost, to_sky = 0.0, 0.0
    for pane, frame in frames_of(job, panes):
        u = float(envelope.mean_u(frame.u, rated_outside=RATED_OUTSIDE, outside=outside))
        lost += float(frame.loss(u)) * pane.quantity
        view = envelope.sky_form(tilts[pane.face], known=sky_known)
        to_sky += pane.quantity * float(
            envelope.sky_loss(u=u, area=frame.area, form_factor=view, outside=outside)
        )
    return lost, to_sky
