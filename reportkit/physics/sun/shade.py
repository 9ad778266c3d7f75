"""What stands between the sun and a pane: overhang, fins, reveal and horizon.

Geometry only. A pane is a flat rectangle; left and right are as seen from *outside*, facing the glass.
Every device is at right angles to the pane, whatever its tilt:

* reveal: the glass sits ``reveal_depth`` behind the wall's outer face, in an opening of its own size;
* overhang: a flat plate that starts at the wall's outer face, ``overhang_gap`` above the top edge, and
  goes past the pane's sides by ``overhang_left`` and ``overhang_right`` (inf: a long one);
* fins: flat plates at the wall's outer face, ``left_fin_gap`` or ``right_fin_gap`` beside the glass, from
  ``fin_below`` under the bottom edge to ``fin_above`` over the top edge (inf: the whole facade);
* horizon: one profile for the whole pane, of what stands further away.

A pane is a rectangle, or has an outline in it: see `reportkit.physics.sun.shaped`.

An insect screen or a blind is a layer of the glazing, not geometry. The sun is a point.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields
from typing import Any

import numpy as np

from reportkit.base.arrays import Array, Mask
from reportkit.physics.sun.position import SunPosition
from reportkit.physics.sun.shaped import Devices, lit_of

_LONG = 1e9  # stands for an endless plate [m]
_GRAZING = 1e-6  # below this cosine the sun runs along the glass and carries nothing
_SOLID = (0.0,) * 12
_PER_PANE = ("horizon", "outline")  # fields that hold one entry a pane, not one number


@dataclass(frozen=True)
class Horizon:
    """A skyline as seen from a pane.

    Parameters
    ----------
    points : tuple of (azimuth, elevation)
        Azimuth clockwise from true north [deg] and height of the skyline [deg], 0 to 90, in any order;
        straight lines between, all the way round (past north). One point is a level skyline. Two heights at
        one azimuth are an upright edge, its two in the order of the rest: that of most steps.
    transmittance : tuple of 12 float
        Share of the light that comes through below the skyline, by calendar month, 0 to 1: for trees that
        lose their leaves. All 0 for buildings and hills.
    """

    points: tuple[tuple[float, float], ...]
    transmittance: tuple[float, ...] = _SOLID

    def __post_init__(self) -> None:
        """Check the ranges."""
        if not self.points:
            raise ValueError("a horizon needs at least one point")
        if any(not 0.0 <= height <= 90.0 for _, height in self.points):
            raise ValueError("the height of a horizon must be from 0 to 90 degrees")
        turns = [azimuth % 360.0 for azimuth, _ in self.points]
        if any(turns.count(azimuth) > 2 for azimuth in turns):
            raise ValueError("a horizon must have at most two heights at one azimuth")
        if len(self.transmittance) != 12 or any(not 0.0 <= share <= 1.0 for share in self.transmittance):
            raise ValueError("transmittance needs twelve values from 0 to 1, one a month")

    def height(self, azimuth: Any) -> Array:
        """Return the skyline's height [deg] at the azimuths [deg], any shape."""
        turns, heights = np.array(self.points, dtype=float).T
        turns = turns % 360.0
        steps = (np.diff(turns) + 180.0) % 360.0 - 180.0
        order = slice(None, None, -1 if np.sum(steps < 0.0) > np.sum(steps > 0.0) else 1)
        turns, heights = turns[order], heights[order]
        rising = np.argsort(turns, kind="stable")  # the two heights of an edge stay in their order
        turns, heights = turns[rising], heights[rising]
        turns = np.concatenate([[turns[-1] - 360.0], turns, [turns[0] + 360.0]])
        heights = np.concatenate([heights[-1:], heights, heights[:1]])
        line: Array = np.interp(np.asarray(azimuth, dtype=float) % 360.0, turns, heights)
        return line


HorizonLike = Horizon | Sequence[Any] | None


def _horizons(entry: HorizonLike) -> tuple[Horizon, ...]:
    """Return a pane's skylines from None, one Horizon, several, or plain (azimuth, elevation) pairs."""
    if entry is None:
        return ()
    if isinstance(entry, Horizon):
        return (entry,)
    if all(isinstance(item, Horizon) for item in entry):
        return tuple(entry)
    return (Horizon(tuple((float(turn), float(height)) for turn, height in entry)),)


@dataclass(frozen=True, eq=False)
class Shade:
    """P panes and what shades each of them. A scalar stands for all panes.

    Parameters
    ----------
    width, height : array_like, shape (P,)
        Size of the glass [m], over 0.
    surface_azimuth : array_like, shape (P,)
        Where the outward normal points, clockwise from true north [deg].
    surface_tilt : array_like, shape (P,)
        90 is upright, 0 faces up [deg], 0 to 180.
    overhang_depth : array_like, shape (P,)
        How far the overhang stands out from the wall [m]; 0 is none.
    overhang_gap : array_like, shape (P,)
        From the top edge of the glass up to the overhang [m], 0 or more.
    overhang_left, overhang_right : array_like, shape (P,)
        How far it goes past the pane's sides [m], 0 or more, inf for a long one (default).
    left_fin_depth, right_fin_depth : array_like, shape (P,)
        How far the fins stand out from the wall [m]; 0 is none.
    left_fin_gap, right_fin_gap : array_like, shape (P,)
        From the pane's side to the fin [m], 0 or more.
    fin_above, fin_below : array_like, shape (P,)
        How far the fins go past the top and the bottom edge [m], 0 or more; 0 is as tall as the pane.
    reveal_depth : array_like, shape (P,)
        How far the glass sits behind the wall's outer face [m], 0 or more.
    horizon : sequence of P entries, optional
        For each pane None, a `Horizon`, several of them, or (azimuth, elevation) pairs [deg].
    outline : sequence of P entries, optional
        For each pane None where it is a rectangle, or its outline in width and height [m].

    Raises
    ------
    ValueError
        If a length is negative, a size not over 0, or the lengths of the arrays differ.
    """

    width: Any
    height: Any
    surface_azimuth: Any
    surface_tilt: Any = 90.0
    overhang_depth: Any = 0.0
    overhang_gap: Any = 0.0
    overhang_left: Any = np.inf
    overhang_right: Any = np.inf
    left_fin_depth: Any = 0.0
    left_fin_gap: Any = 0.0
    right_fin_depth: Any = 0.0
    right_fin_gap: Any = 0.0
    fin_above: Any = 0.0
    fin_below: Any = 0.0
    reveal_depth: Any = 0.0
    horizon: Any = None
    outline: Any = None

    def __post_init__(self) -> None:
        """Bring every field to P values and check the ranges."""
        names = [entry.name for entry in fields(self) if entry.name not in _PER_PANE]
        given = [np.atleast_1d(np.asarray(getattr(self, name), dtype=float)) for name in names]
        lists = [entries for entries in (self.horizon, self.outline) if entries is not None]
        panes = max(map(len, [*given, *lists]))
        for name, values in zip(names, given, strict=True):
            if values.shape not in ((1,), (panes,)):
                raise ValueError(f"{name} must have one value, or one for each of the {panes} panes")
            if name in ("width", "height") and not np.all(values > 0.0):
                raise ValueError(f"{name} must be over 0")
            if name == "surface_tilt" and not np.all((values >= 0.0) & (values <= 180.0)):
                raise ValueError("surface_tilt must be from 0 to 180 degrees")
            if not name.startswith("surface_") and not np.all(values >= 0.0):
                raise ValueError(f"{name} must be 0 or more")
            object.__setattr__(self, name, np.broadcast_to(values, (panes,)).copy())
        for name in _PER_PANE:
            if getattr(self, name) is not None and len(getattr(self, name)) != panes:
                raise ValueError(f"{name} must have one entry for each of the {panes} panes")
        profiles = tuple(_horizons(entry) for entry in self.horizon or ((),) * panes)
        object.__setattr__(self, "horizon", profiles)
        object.__setattr__(self, "outline", tuple(self.outline or (None,) * panes))

    @property
    def panes(self) -> int:
        """Number of panes P."""
        return len(self.width)

    @property
    def has_device(self) -> Mask:
        """True where a pane has an overhang, a fin or a reveal, shape (P,)."""
        depths = (self.overhang_depth, self.left_fin_depth, self.right_fin_depth, self.reveal_depth)
        there: Mask = np.any([depth > 0.0 for depth in depths], axis=0)
        return there

    def take(self, index: Any) -> Shade:
        """Return the panes at ``index`` (numbers or a mask) as a Shade of their own."""
        rows = np.arange(self.panes)[index]
        chosen = {e.name: getattr(self, e.name)[rows] for e in fields(self) if e.name not in _PER_PANE}
        lists = {name: tuple(getattr(self, name)[row] for row in rows) for name in _PER_PANE}
        return Shade(**chosen, **lists)


def local_direction(azimuth: Any, elevation: Any, surface_azimuth: Any, surface_tilt: Any) -> Array:
    """Return a direction in the axes of a pane.

    Parameters
    ----------
    azimuth, elevation : array_like
        Direction towards the sun or the sky [deg].
    surface_azimuth, surface_tilt : array_like
        The pane [deg]; all four are broadcast together.

    Returns
    -------
    ndarray, shape (3, ...)
        Share along the pane to the right (as seen from outside), up the pane, and outwards.
    """
    height, turn = np.radians(elevation), np.radians(np.asarray(azimuth) - np.asarray(surface_azimuth))
    tilt = np.radians(surface_tilt)
    level, upward = np.cos(height) * np.cos(turn), np.sin(height)  # outwards along the ground, and up
    right = -np.cos(height) * np.sin(turn)
    up = upward * np.sin(tilt) - level * np.cos(tilt)
    out = upward * np.cos(tilt) + level * np.sin(tilt)
    return np.stack(np.broadcast_arrays(right, up, out))


def sunlit_fraction(position: SunPosition, shade: Shade) -> Array:
    """Return the share of each pane that the sun's disc reaches.

    Parameters
    ----------
    position : SunPosition
        H instants.
    shade : Shade
        P panes.

    Returns
    -------
    ndarray, shape (H, P)
        0 to 1: 0 with the sun behind the pane or below the horizon; below a skyline, that month's
        transmittance of it times the share that the devices leave.

    Notes
    -----
    The area is exact for the geometry in the module's text: the lit length of a column of the pane is a
    piecewise linear function, integrated between its kinks.
    """
    lit = np.zeros((len(position.zenith), shade.panes))
    hours = np.flatnonzero(position.up)
    if not hours.size or not shade.panes:
        return lit
    direction = local_direction(
        position.azimuth[hours, None],
        position.apparent_elevation[hours, None],
        shade.surface_azimuth,
        shade.surface_tilt,
    )
    front = direction[2] > _GRAZING
    share = front.astype(float)
    hour, pane = np.nonzero(front & shade.has_device)
    share[hour, pane] = lit_share(direction[:, hour, pane], shade, pane)
    share *= _through_skylines(
        position.azimuth[hours], position.apparent_elevation[hours], position.month[hours], shade
    )
    lit[hours] = share
    return lit


def _through_skylines(azimuth: Array, elevation: Array, month: Array | None, shade: Shade) -> Array:
    """Return the share that comes past each pane's skylines, shape (N, P); month None is the year's mean."""
    share = np.ones((len(azimuth), shade.panes))
    known: dict[tuple[Horizon, ...], Array] = {}
    for pane, profiles in enumerate(shade.horizon):
        if profiles and profiles not in known:
            column = np.ones(len(azimuth))
            for profile in profiles:
                leaves = np.array(profile.transmittance)
                below = elevation < profile.height(azimuth)
                column = column * np.where(below, leaves.mean() if month is None else leaves[month - 1], 1.0)
            known[profiles] = column
        if profiles:
            share[:, pane] = known[profiles]
    return share


def lit_share(direction: Array, shade: Shade, pane: Any) -> Array:
    """Return the share of a pane lit from a direction, by its overhang, fins and reveal alone.

    Parameters
    ----------
    direction : ndarray, shape (3, N)
        Unit vectors in the pane's axes (`local_direction`), the third over 0.
    shade : Shade
        The panes.
    pane : ndarray of int, shape (N,)
        Which pane each direction belongs to.

    Returns
    -------
    ndarray, shape (N,)
        0 to 1.
    """
    across, up = direction[0] / direction[2], direction[1] / direction[2]
    # Mirror so that the light comes from the side s = 0 and from above: one fin at most can then shade.
    from_right = across > 0.0
    from_above = up >= 0.0
    a, b = np.maximum(np.abs(across), 1e-9), np.abs(up)

    def side(right: Array, left: Array) -> Array:
        lit_side: Array = np.where(from_right, right[pane], left[pane])
        return lit_side

    width, height, root = shade.width[pane], shade.height[pane], shade.reveal_depth[pane]
    fin = side(shade.right_fin_depth, shade.left_fin_depth)
    gap = side(shade.right_fin_gap, shade.left_fin_gap)
    past = np.minimum(side(shade.overhang_right, shade.overhang_left), _LONG)
    plate = np.where(from_above, shade.overhang_depth[pane], 0.0)
    fin_top = height + np.minimum(np.where(from_above, shade.fin_above[pane], shade.fin_below[pane]), _LONG)
    plate_at = height + shade.overhang_gap[pane]
    slope = b / a  # how far a ray climbs while it crosses a unit of width

    # the reveal leaves s from a*root to the width, and y from 0 to top
    start = np.minimum(a * root, width)
    top = np.maximum(height - b * root, 0.0)
    # the overhang leaves y below max(level, foot - s*slope); with no plate, all of it
    none = plate <= 0.0
    level = np.where(none, top, plate_at - b * (root + plate))
    foot = np.where(none, top, plate_at - past * slope)
    # the fin's shadow covers s from first to last, and there y up to crest - s*slope
    first = np.clip(a * root - gap, start, width)
    last = np.clip(np.where(fin > 0.0, a * (root + fin) - gap, 0.0), first, width)
    crest = fin_top - gap * slope

    def upper(s: Array) -> Array:
        height_lit: Array = np.clip(np.maximum(level, foot - s * slope), 0.0, top)
        return height_lit

    def fin_length(s: Array) -> Array:
        covered: Array = np.maximum(upper(s) - np.maximum(crest - s * slope, 0.0), 0.0)
        return covered

    steep = np.maximum(slope, 1e-12)
    plate_kinks = [(foot - level) / steep, (foot - top) / steep, foot / steep]
    fin_kinks = [crest / steep, (crest - top) / steep, (crest - level) / steep]
    area = _between(upper, start, first, plate_kinks) + _between(upper, last, width, plate_kinks)
    with_fin = last > first
    if with_fin.any():
        area = area + np.where(with_fin, _between(fin_length, first, last, plate_kinks + fin_kinks), 0.0)
    share: Array = np.clip(area / (width * height), 0.0, 1.0)
    for number in np.unique(pane):
        if shade.outline[number] is not None:
            mine = pane == number
            share[mine] = lit_of(shade.outline[number], direction[:, mine], _devices(shade, number))
    return share


def _devices(shade: Shade, number: int) -> Devices:
    return Devices(**{entry.name: float(getattr(shade, entry.name)[number]) for entry in fields(Devices)})


def _between(length: Any, first: Array, last: Array, kinks: list[Array]) -> Array:
    """Integrate a piecewise linear length from first to last, exactly, given where it may have kinks."""
    inner = np.sort(np.clip(np.stack(kinks), first, last), axis=0)
    at = np.concatenate([first[None], inner, last[None]])
    values = length(at)
    area: Array = np.sum((at[1:] - at[:-1]) * (values[1:] + values[:-1]) / 2.0, axis=0)
    return area
