"""Hourly heat balance of rooms for many options and samples in one pass over the year.

The quantity is the heating or cooling power that keeps a room between two set points, and the
temperatures that result, by the simple hourly method of ISO 13790:2008, Annex C: five resistances and
one capacity (5R1C), the method that ISO 52016-1:2017 followed. The network is linear between the set
points, so one step is three linear forms (air, operative and mass temperature) of the mass
temperature, the weather and the gains, with coefficients that are worked out once for each *lane*.

A lane is one room with one option and one sample of the uncertain inputs; lanes are the leading axes
of every array, say (rooms, options, samples), and each input needs only the axes it varies over.
What is not covered: moisture, air moving between rooms, stratification, and a controller's
dynamics; a room's neighbours are taken to be as warm as itself.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from reportkit.base.arrays import Array
from reportkit.physics.room.network import Room, coefficients, levels_of

#: Hours whose share that does not depend on the state is worked out at once, and how many numbers of it are
#: held at most: small enough for a processor's own memory.
BLOCK_HOURS, BLOCK_NUMBERS = 256, 60_000

#: A set point counts as missed when the air is further from it than this [K] (our convention).
UNMET_KELVIN = 0.1


@dataclass(frozen=True)
class Gain:
    """A heat flow by hour times a factor by lane.

    ``hourly`` [W] ends with the hours, its leading axes broadcast to the lanes; ``factor`` [-]
    broadcasts to the lanes. So (options, 1, hours) times (samples,) is never stored in full.
    """

    hourly: ArrayLike
    factor: ArrayLike = 1.0


@dataclass(frozen=True)
class Record:
    """Hours kept for chosen lanes, each (hours, chosen): air and operative [C], power [W]."""

    air: Array
    operative: Array
    power: Array


@dataclass(frozen=True)
class Balance:
    """A year of a set of lanes.

    ``heating`` and ``cooling`` [kWh] are (bins, lanes), heat moved and both counted positive;
    ``peak_heating`` and ``peak_cooling`` [W] the same shape; ``hot_hours`` [h], ``hottest`` [C]
    (operative, of occupied hours), ``coldest`` [C] and ``unmet_heating``, ``unmet_cooling`` [h] are
    (lanes). ``mass_change`` [kWh] is the heat the mass holds more at the end than at the start.
    """

    heating: Array
    cooling: Array
    peak_heating: Array
    peak_cooling: Array
    hot_hours: Array
    hottest: Array
    coldest: Array
    unmet_heating: Array
    unmet_cooling: Array
    mass_change: Array
    record: Record | None = None


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
    ventilation_index: ArrayLike | None = None,
    hot_limit: ArrayLike = 26.0,
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
        Sun through the glass [W]; further flows onto the surfaces (sun on walls, loss to the sky,
        a ground of another temperature) are further gains of the same list and may be negative.
    internal
        People, lamps and appliances [W]: half to the air, half by radiation.
    heating_setpoint, cooling_setpoint
        Air temperature [C], (H,) or a number; heating must be below cooling in every hour.
    heating_power, cooling_power
        Capacity of the plant [W], by lane, 0 or more: 0 is none, infinite is enough for anything.
    setpoint_shift
        Added to both set points [K], by lane.
    outdoor_shift
        Added to the outdoor temperature of every hour [K], by lane: a warm year, a cold one.
    ventilation_index
        Which level of ``room.ventilation`` holds, (H,) of int; needed where there are several.
    hot_limit
        An occupied hour whose operative temperature [C] is over this is hot; (H,) or a number.
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
        Mass temperature [C] before the warm-up.
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
    Applicability: rooms that behave as one zone, hourly steps. The method's error in yearly energies
    is of the order of a tenth against detailed programs. The standard's loss term of radiant gains
    through the windows is kept (see ``Coefficients.lost``).

    References
    ----------
    ISO 13790:2008, Annex C, C.1 to C.5, and table 12 (from memory of the standard).

    Examples
    --------
    >>> import numpy as np
    >>> box = Room(20.0, 165e3 * 20, 2.5 * 20, windows=15.0, opaque=10.0, ventilation=20.0)
    >>> year = heat_balance(box, np.zeros(48), solar=Gain(np.zeros(48)), internal=Gain(np.zeros(48)),
    ...                heating_setpoint=20.0, cooling_setpoint=26.0)
    >>> year.heating.shape
    (1,)
    """
    outdoor = np.asarray(temp_air, dtype=float)
    if outdoor.ndim == 0 or outdoor.size == 0:
        raise ValueError(f"temp_air must be one value for each hour, got shape {outdoor.shape}")
    hours = outdoor.shape[-1]
    streams = [solar] if isinstance(solar, Gain) else list(solar)
    if not streams:
        raise ValueError("solar must have a gain; one of zeros where there is no sun")
    air_of = Gain(outdoor)
    lanes = _lanes(
        room, [*streams, air_of], internal, heating_power, cooling_power, setpoint_shift, outdoor_shift
    )
    steps = [
        coefficients(room, lanes=lanes, level=level, step_hours=step_hours)
        for level in range(len(levels_of(room)))
    ]
    if ventilation_index is None and len(steps) > 1:
        raise ValueError("ventilation_index must say which level holds when there are several")
    level_of = _whole(ventilation_index, hours, "ventilation_index", below=len(steps))
    bin_of = _whole(bins, hours, "bins")
    present = _hours(True if occupied is None else occupied, hours, "occupied") > 0
    low = _hours(heating_setpoint, hours, "heating_setpoint")
    high = _hours(cooling_setpoint, hours, "cooling_setpoint")
    if np.any(low >= high):
        raise ValueError("heating_setpoint must be under cooling_setpoint in every hour")
    limit = _hours(hot_limit, hours, "hot_limit")
    most = np.broadcast_to(np.asarray(heating_power, dtype=float), lanes)
    least = -np.broadcast_to(np.asarray(cooling_power, dtype=float), lanes)
    if np.any(most < 0) or np.any(least > 0):
        raise ValueError("heating_power and cooling_power must be 0 or more")
    shift = None if setpoint_shift is None else np.asarray(setpoint_shift, dtype=float)
    warmer = 0.0 if outdoor_shift is None else np.asarray(outdoor_shift, dtype=float)
    airs = _by_hour(air_of, lanes, hours, "temp_air")
    suns = [(_by_hour(gain, lanes, hours, "solar"), np.asarray(gain.factor, dtype=float)) for gain in streams]
    inner, inner_factor = (
        _by_hour(internal, lanes, hours, "internal"),
        np.asarray(internal.factor, dtype=float),
    )

    # What does not depend on the state is worked out for a block of hours at once; inside the loop over the
    # hours everything works in place, and what is summed is summed block by block.
    state = np.full(lanes, float(start))
    began = state
    block = max(1, min(BLOCK_HOURS, BLOCK_NUMBERS // (3 * max(1, state.size))))
    forms = np.empty((3, *lanes))  # air, operative, mass at the end of the step
    air, operative, mass = forms[0, ...], forms[1, ...], forms[2, ...]
    term, wish = np.empty((3, *lanes)), np.empty(lanes)
    drive, spare = np.empty((block, 3, *lanes)), np.empty((block, 3, *lanes))
    powers, felt, missed, sunny, inner_flow = (np.empty((block, *lanes)) for _ in range(5))
    totals = _Totals(lanes, int(bin_of.max()) + 1)
    limited = bool(np.any(np.isfinite(most)) or np.any(np.isfinite(least)))
    per_kelvin = [1.0 / step.power[0] for step in steps]
    kept = None
    if record is not None:
        chosen = np.empty(lanes)[record].shape
        kept = Record(np.empty((hours, *chosen)), np.empty((hours, *chosen)), np.empty((hours, *chosen)))

    axes = (slice(None), *(None,) * len(lanes))
    warm_up = min(max(int(warm_up_steps), 0), hours)
    starts = [*range(hours - warm_up, hours, block), *range(0, hours, block)]
    before = len(range(hours - warm_up, hours, block))  # blocks of the warm-up
    for number, first in enumerate(starts):
        counts = number >= before
        if number == before:
            began = state.copy()
        at = slice(first, min(first + block, hours))
        size = at.stop - at.start
        sun, inside = sunny[:size], inner_flow[:size]
        np.multiply(suns[0][0][at], suns[0][1], out=sun)
        for base, factor in suns[1:]:
            np.multiply(base[at], factor, out=inside)
            sun += inside
        np.multiply(inner[at], inner_factor, out=inside)
        warmth = (airs[at] + warmer)[:, None]
        runs = [slice(0, size)] if len(steps) == 1 else [slice(n, n + 1) for n in range(size)]
        for run in runs:
            step, driven, part = steps[level_of[first + run.start]], drive[run], spare[run]
            np.multiply(step.solar, sun[run, None], out=driven)
            for factor, flow in ((step.internal, inside[run, None]), (step.outdoor, warmth[run])):
                np.multiply(factor, flow, out=part)
                driven += part
        floor, roof = low[at][axes], high[at][axes]
        if shift is not None:
            floor, roof = floor + shift, roof + shift
        for place, level in enumerate(level_of[at]):
            step, power, short = steps[level], powers[place, ...], missed[place, ...]
            np.multiply(step.mass, state, out=forms)
            forms += drive[place]  # the three forms without plant
            # the power that brings the air back between the set points, as far as the plant can
            np.maximum(air, floor[place], out=wish)
            np.minimum(wish, roof[place], out=wish)
            wish -= air
            wish *= per_kelvin[level]
            if limited:
                np.minimum(wish, most, out=power)
                np.maximum(power, least, out=power)
                np.subtract(wish, power, out=short)
                short *= step.power[0]
            else:
                power[...] = wish
            np.multiply(step.power, power, out=term)
            forms += term
            np.copyto(state, mass)
            felt[place, ...] = operative
            if kept is not None:
                hour = first + place
                kept.air[hour], kept.operative[hour], kept.power[hour] = (
                    air[record],
                    operative[record],
                    power[record],
                )
        if counts:
            totals.add_power(powers[:size], bin_of[at])
            if limited:
                totals.add_unmet(missed[:size])
            totals.add_operative(felt[:size][present[at]], limit[at][present[at]][axes])

    capacity = np.broadcast_to(np.asarray(room.mass_capacity, dtype=float), lanes)
    change = (state - began) * capacity / 3.6e6
    return totals.balance(step_hours, change, kept, never=not present.any())


class _Totals:
    """Sums and extremes over the hours, added up in place."""

    def __init__(self, lanes: tuple[int, ...], bins: int) -> None:
        self.heating, self.net = np.zeros((bins, *lanes)), np.zeros((bins, *lanes))
        self.peak_heating, self.peak_cooling = np.zeros((bins, *lanes)), np.zeros((bins, *lanes))
        self.hot, self.unmet_heating, self.unmet_cooling = (np.zeros(lanes, dtype=np.int64) for _ in range(3))
        self.hottest, self.coldest = np.full(lanes, -np.inf), np.full(lanes, np.inf)

    def add_power(self, power: Array, places: NDArray[np.int64]) -> None:
        """Add some hours' power [W], hours first, to their bins."""
        for place in np.unique(places):
            mine = power[places == place]
            self.heating[place, ...] += np.maximum(mine, 0.0).sum(axis=0)
            self.net[place, ...] += mine.sum(axis=0)
            most, least = self.peak_heating[place, ...], self.peak_cooling[place, ...]
            np.maximum(most, mine.max(axis=0), out=most)
            np.minimum(least, mine.min(axis=0), out=least)

    def add_unmet(self, kelvin: Array) -> None:
        """Count hours whose air stays ``kelvin`` [K] short of (or, negative, over) its set point."""
        self.unmet_heating += (kelvin > UNMET_KELVIN).sum(axis=0)
        self.unmet_cooling += (kelvin < -UNMET_KELVIN).sum(axis=0)

    def add_operative(self, operative: Array, limit: Array) -> None:
        """Compare occupied hours' operative temperature [C] with the limit [C] and the extremes."""
        if operative.shape[0]:
            self.hot += (operative > limit).sum(axis=0)
            np.maximum(self.hottest, operative.max(axis=0), out=self.hottest)
            np.minimum(self.coldest, operative.min(axis=0), out=self.coldest)

    def balance(self, step_hours: float, change: Array, record: Record | None, *, never: bool) -> Balance:
        """Return the result; nan throughout for a lane whose mass ended as nan."""
        bad = np.isnan(change)

        def out(values: ArrayLike) -> Array:
            result = np.array(values, dtype=float)
            result[..., bad] = np.nan
            return result

        if never:
            self.hottest[...] = self.coldest[...] = np.nan
        to_kwh = step_hours / 1000.0
        return Balance(
            heating=out(self.heating * to_kwh),
            cooling=out(np.maximum(self.heating - self.net, 0.0) * to_kwh),
            peak_heating=out(self.peak_heating),
            peak_cooling=out(np.maximum(-self.peak_cooling, 0.0)),
            hot_hours=out(self.hot * step_hours),
            hottest=out(self.hottest),
            coldest=out(self.coldest),
            unmet_heating=out(self.unmet_heating * step_hours),
            unmet_cooling=out(self.unmet_cooling * step_hours),
            mass_change=out(change),
            record=record,
        )


def _lanes(
    room: Room,
    streams: Sequence[Gain],
    internal: Gain,
    heating_power: ArrayLike,
    cooling_power: ArrayLike,
    *shifts: ArrayLike | None,
) -> tuple[int, ...]:
    plain: list[ArrayLike] = [room.floor_area, room.mass_capacity, room.mass_area, room.windows, room.opaque]
    plain += [*levels_of(room), heating_power, cooling_power]
    plain += [0.0 if shift is None else shift for shift in shifts]
    shapes = [np.shape(value) for value in plain]
    for gain in [*streams, internal]:
        shapes += [np.shape(gain.hourly)[:-1], np.shape(gain.factor)]
    try:
        return np.broadcast_shapes(*shapes)
    except ValueError:
        raise ValueError(f"the axes before the hours do not fit together: {sorted(set(shapes))}") from None


def _by_hour(gain: Gain, lanes: tuple[int, ...], hours: int, name: str) -> Array:
    """Return a gain hours first, its other axes aligned with the lanes but not repeated."""
    array = np.asarray(gain.hourly, dtype=float)
    if array.ndim == 0:
        array = array[None]
    if array.shape[-1] not in (1, hours):
        raise ValueError(f"{name} must end with {hours} hours, got shape {array.shape}")
    first = np.moveaxis(np.broadcast_to(array, (*array.shape[:-1], hours)), -1, 0)
    missing = len(lanes) - (array.ndim - 1)
    return np.ascontiguousarray(first.reshape((hours, *(1,) * missing, *array.shape[:-1])))


def _hours(value: ArrayLike, hours: int, name: str) -> Array:
    array = np.asarray(value, dtype=float)
    if array.shape not in ((), (hours,)):
        raise ValueError(f"{name} must be a number or {hours} of them, got shape {array.shape}")
    return np.array(np.broadcast_to(array, (hours,)))


def _whole(value: ArrayLike | None, hours: int, name: str, *, below: int | None = None) -> NDArray[np.int64]:
    array = np.zeros(hours, dtype=np.int64) if value is None else np.asarray(value)
    if array.shape != (hours,) or array.dtype.kind not in "iu":
        raise ValueError(f"{name} must be {hours} whole numbers, got {array.dtype} of shape {array.shape}")
    if array.min() < 0 or (below is not None and array.max() >= below):
        raise ValueError(f"{name} must be from 0" + ("" if below is None else f" to {below - 1}"))
    return array.astype(np.int64)
