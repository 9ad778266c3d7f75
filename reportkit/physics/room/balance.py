"""Hourly heat balance of rooms for many options and samples in one pass over the year.

The quantity is the heating or cooling power that keeps a room between two set points, and the
temperatures that result, by an hourly method after ISO 52016-1:2017 (see ``network``). The network is
linear between the set points, so one step is a few linear forms of its slow modes, the weather and the
gains, with coefficients that are worked out once for each *lane*. Air through opened windows is solved
within the step.

A lane is one room with one option and one sample of the uncertain inputs; lanes are the leading axes
of every array, say (rooms, options, samples), and each input needs only the axes it varies over.
What is not covered: moisture, air moving between rooms, stratification, and a controller's
dynamics; a room's neighbours are taken to be as warm as itself.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from typing import Any, Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from reportkit.base.arrays import Array
from reportkit.physics.room.march import Flow, Lanes, Rules, forms_in_a_row, in_a_row, march
from reportkit.physics.room.network import Coefficients, Room, coefficients
from reportkit.physics.room.opening import Opening, Openings
from reportkit.physics.room.series import Series
from reportkit.physics.room.totals import Balance, Record, balance

#: Where a flow comes in: into the room through its glass, on the outer faces of its opaque parts, on those of
#: its windows.
Place = Literal["room", "walls", "windows"]


@dataclass(frozen=True)
class Gain:
    """A heat flow by hour times a factor by lane.

    ``hourly`` [W] ends with the hours, its leading axes broadcast to the lanes; ``factor`` [-]
    broadcasts to the lanes. So (options, 1, hours) times (samples,) is never stored in full. A flow onto
    walls or windows is the outdoor temperature that would do the same, times their U x A.
    """

    hourly: ArrayLike
    factor: ArrayLike = 1.0
    place: Place = "room"


def heat_balance(
    room: Room,
    temp_air: ArrayLike,
    *,
    solar: Gain | Sequence[Gain],
    internal: Gain,
    heating_setpoint: ArrayLike,
    cooling_setpoint: ArrayLike,
    heating_power: ArrayLike = np.inf,
    cooling_power: ArrayLike = np.inf,
    setpoint_shift: ArrayLike | None = None,
    outdoor_shift: ArrayLike | None = None,
    opening: Opening | None = None,
    wind: ArrayLike | None = None,
    hot_limit: ArrayLike = 26.0,
    limit_shift: ArrayLike = 0.0,
    occupied: ArrayLike | None = None,
    bins: ArrayLike | None = None,
    step_hours: float = 1.0,
    warm_up_steps: int = 1440,
    start: float = 20.0,
    record: Any = None,
) -> Balance:
    """Return energies, peaks and temperatures of all lanes over the hours given.

    Parameters
    ----------
    room
        Rooms by lane.
    temp_air
        Outdoor, and supply air, temperature [C], ending with the hours, (H,) or (..., H): leading axes
        broadcast to the lanes.
    solar
        Sun through the glass [W]; flows onto outer faces (sun on walls, loss to the sky, a ground of another
        temperature) are further gains of the same list with their place, and may be negative.
    internal
        People, lamps and appliances [W].
    heating_setpoint, cooling_setpoint
        Air temperature [C], (H,) or a number; heating must be below cooling in every hour.
    heating_power, cooling_power
        Capacity of the plant [W], by lane, 0 or more: 0 is none, infinite is enough for anything.
    setpoint_shift
        Added to both set points [K], by lane.
    outdoor_shift
        Added to the outdoor temperature of every hour [K], by lane: a warm year, a cold one.
    opening
        Windows that people open and fans; none, if unsaid. They carry heat off only, no further than down to
        their own limit, and stay shut where the room, opened, would still be over the set point of a cooling
        that it has: then it is cooled.
    wind
        At 10 m, for the opening [m/s], (H,); calm, the least, where unsaid or nan.
    hot_limit
        An occupied hour whose operative temperature [C] is over this is hot; (H,) or a number, or (L, H) for
        several limits: then ``hot_hours`` are (L, lanes).
    limit_shift
        Added to that limit [K], by lane; (L, lanes) where there are several.
    occupied
        Hours in which someone is there, (H,) of bool; always, if unsaid.
    bins
        Where each hour's energy is summed, (H,) of int from 0 (months, tariff periods).
    step_hours
        Length of a step [h].
    warm_up_steps
        Steps run beforehand, the last ones of the series, so that the start does not matter; 1440
        hours are many time constants of a heavy room.
    start
        Temperature of everything [C] before the warm-up.
    record
        Index into the lanes (``numpy.s_[..., 0]``) whose hours are kept; none, if unsaid.

    Returns
    -------
    Balance
        nan in every result of a lane that met a nan.

    Raises
    ------
    ValueError
        If shapes do not fit or a value is out of its range.

    Notes
    -----
    Applicability: rooms that behave as one zone, hourly steps. How far it is from detailed programs is
    told by ``reportkit.physics.room.trust``.

    References
    ----------
    ISO 52016-1:2017 (see ``network``); de Gids & Phaff 1982 (see ``opening``).

    Examples
    --------
    >>> import numpy as np
    >>> from reportkit.physics.room import envelope
    >>> box = envelope.room(
    ...     20.0, height=2.5, mass="medium", glass_area=5.0, windows=15.0, opaque=10.0, air_change=0.5
    ... )
    >>> year = heat_balance(box, np.zeros(48), solar=Gain(np.zeros(48)), internal=Gain(np.zeros(48)),
    ...                heating_setpoint=20.0, cooling_setpoint=26.0)
    >>> year.heating.shape
    (1,)
    """
    outdoor = np.asarray(temp_air, dtype=float)
    if outdoor.ndim == 0 or outdoor.size == 0:
        raise ValueError(f"temp_air must be one value for each hour, got shape {outdoor.shape}")
    hours = outdoor.shape[-1]
    gains = [solar] if isinstance(solar, Gain) else list(solar)
    if not gains:
        raise ValueError("solar must have a gain; one of zeros where there is no sun")
    step = coefficients(room, step_hours=step_hours)
    lanes = _lanes(
        step,
        [*gains, Gain(outdoor)],
        internal,
        opening,
        heating_power,
        cooling_power,
        setpoint_shift,
        outdoor_shift,
    )
    low = _hours(heating_setpoint, hours, "heating_setpoint")
    high = _hours(cooling_setpoint, hours, "cooling_setpoint")
    if np.any(low >= high):
        raise ValueError("heating_setpoint must be under cooling_setpoint in every hour")
    several = np.ndim(hot_limit) > 1
    limits = [_hours(one, hours, "hot_limit") for one in (np.asarray(hot_limit) if several else [hot_limit])]
    rises = list(np.asarray(limit_shift)) if several else [limit_shift]
    if len(limits) != len(rises):
        raise ValueError(f"limit_shift must be one for each of {len(limits)} limits, got {len(rises)}")
    most, least = in_a_row(heating_power, lanes), -in_a_row(cooling_power, lanes)
    if np.any(most < 0) or np.any(least > 0):
        raise ValueError("heating_power and cooling_power must be 0 or more")
    present = np.asarray(_hours(True if occupied is None else occupied, hours, "occupied") > 0)
    rules = Rules(
        low,
        high,
        _whole(bins, hours, "bins"),
        limits,
        present,
        min(max(int(warm_up_steps), 0), hours),
        float(start),
    )
    air = Series.of(outdoor, lanes, hours, "temp_air")
    warmer = in_a_row(0.0 if outdoor_shift is None else outdoor_shift, lanes)
    step = replace(
        step,
        **{
            entry.name: forms_in_a_row(getattr(step, entry.name), lanes)
            for entry in fields(step)
            if entry.name != "lost"
        },
    )
    flows, steady = _flows(step, gains, internal, air, lanes, hours)
    rows = Lanes(
        step,
        flows,
        steady + step.outdoor * warmer,
        in_a_row(0.0 if setpoint_shift is None else setpoint_shift, lanes),
        [in_a_row(rise, lanes) for rise in rises],
        most,
        least,
        air,
        warmer,
        None if opening is None else Openings(opening, lanes, _hours(wind, hours, "wind")),
        math.gcd(*(flow.series.over for flow in flows)) if flows else most.size,
    )
    chosen, kept = np.zeros(0, dtype=np.int64), None
    if record is not None:
        recorded = np.asarray(np.arange(most.size).reshape(lanes)[record])
        chosen = recorded.reshape(-1)
        kept = Record(*(np.zeros((hours, chosen.size)) for _ in range(4)))
    parts = [march(rows, at, rules, kept, chosen) for at in rows.parts()]
    if kept is not None:
        kept = Record(
            *(getattr(kept, entry.name).reshape(hours, *recorded.shape) for entry in fields(Record))
        )
    year = balance(parts, lanes, step_hours, kept, never=not present.any())
    return year if several else replace(year, hot_hours=year.hot_hours[0])


def _flows(
    step: Coefficients,
    gains: Sequence[Gain],
    internal: Gain,
    outdoor: Series,
    lanes: tuple[int, ...],
    hours: int,
) -> tuple[list[Flow], Array]:
    """Return what changes by the hour, and what all else does to the forms."""
    forms_at = {"room": step.solar, "walls": step.walls, "windows": step.windows}
    named = [(gain, forms_at[gain.place], "solar") for gain in gains] + [
        (internal, step.internal, "internal")
    ]
    flows = [Flow(outdoor, step.outdoor)]
    steady = np.zeros_like(step.outdoor)
    for gain, form, name in named:
        series = Series.of(gain.hourly, lanes, hours, name)
        forms = form * in_a_row(gain.factor, lanes)
        if series.steady:
            steady += forms * series.hour(0, slice(None))
        else:
            flows.append(Flow(series, forms))
    return flows, steady


def _lanes(
    step: Coefficients,
    gains: Sequence[Gain],
    internal: Gain,
    opening: Opening | None,
    *by_lane: ArrayLike | None,
) -> tuple[int, ...]:
    shapes = [step.lost.shape, *(np.shape(value) for value in by_lane if value is not None)]
    for gain in [*gains, internal]:
        shapes += [np.shape(gain.hourly)[:-1], np.shape(gain.factor)]
    if opening is not None:
        shapes += opening.shapes
    try:
        return np.broadcast_shapes(*shapes)
    except ValueError:
        raise ValueError(f"the axes before the hours do not fit together: {sorted(set(shapes))}") from None


def _hours(value: ArrayLike | None, hours: int, name: str) -> Array:
    array = np.asarray(0.0 if value is None else value, dtype=float)
    if array.shape not in ((), (hours,)):
        raise ValueError(f"{name} must be a number or {hours} of them, got shape {array.shape}")
    return np.array(np.broadcast_to(array, (hours,)))


def _whole(value: ArrayLike | None, hours: int, name: str) -> NDArray[np.int64]:
    array = np.zeros(hours, dtype=np.int64) if value is None else np.asarray(value)
    if array.shape != (hours,) or array.dtype.kind not in "iu":
        raise ValueError(f"{name} must be {hours} whole numbers, got {array.dtype} of shape {array.shape}")
    if array.min() < 0:
        raise ValueError(f"{name} must be from 0")
    return array.astype(np.int64)
