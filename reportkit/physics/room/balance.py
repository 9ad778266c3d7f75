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

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from reportkit.base.arrays import Array, Mask
from reportkit.physics.room.network import Coefficients, Room, coefficients
from reportkit.physics.room.opening import Opening, Openings
from reportkit.physics.room.totals import Balance, Record, Totals

#: Hours whose share that does not depend on the state is worked out at once, and how many numbers of it are
#: held at most: small enough for a processor's own memory.
BLOCK_HOURS, BLOCK_NUMBERS = 256, 60_000

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
    air_of = Gain(outdoor)
    gains = [solar] if isinstance(solar, Gain) else list(solar)
    if not gains:
        raise ValueError("solar must have a gain; one of zeros where there is no sun")
    step = coefficients(room, step_hours=step_hours)
    lanes = _lanes(
        step, [*gains, air_of], internal, opening, heating_power, cooling_power, setpoint_shift, outdoor_shift
    )
    bin_of = _whole(bins, hours, "bins")
    present: Mask = np.asarray(_hours(True if occupied is None else occupied, hours, "occupied") > 0)
    low = _hours(heating_setpoint, hours, "heating_setpoint")
    high = _hours(cooling_setpoint, hours, "cooling_setpoint")
    if np.any(low >= high):
        raise ValueError("heating_setpoint must be under cooling_setpoint in every hour")
    several = np.ndim(hot_limit) > 1
    limits = [_hours(one, hours, "hot_limit") for one in (np.asarray(hot_limit) if several else [hot_limit])]
    shifts = [np.asarray(one, dtype=float) for one in (np.asarray(limit_shift) if several else [limit_shift])]
    if len(limits) != len(shifts):
        raise ValueError(f"limit_shift must be one for each of {len(limits)} limits, got {len(shifts)}")
    most = np.broadcast_to(np.asarray(heating_power, dtype=float), lanes)
    least = -np.broadcast_to(np.asarray(cooling_power, dtype=float), lanes)
    if np.any(most < 0) or np.any(least > 0):
        raise ValueError("heating_power and cooling_power must be 0 or more")
    shift = None if setpoint_shift is None else np.asarray(setpoint_shift, dtype=float)
    warmer = 0.0 if outdoor_shift is None else np.asarray(outdoor_shift, dtype=float)
    airs = _by_hour(air_of, lanes, hours, "temp_air")
    openings = None if opening is None else Openings(opening, lanes, _hours(wind, hours, "wind"))
    # set points of a plant that isn't there hold no opening
    unheated, uncooled = np.where(most > 0.0, 0.0, -np.inf), np.where(least < 0.0, 0.0, np.inf)

    # What does not depend on the state is worked out for a block of hours at once; inside the loop over the
    # hours everything works in place, and what is summed is summed block by block. Row n of a block holds the
    # modes at the end of its hour n - 1, and the air and operative temperature that this hour has.
    decay, by_mode, felt_by_mode = (_full(values, lanes) for values in (step.decay, step.air, step.operative))
    modes = len(decay)
    heat_of_modes = _full(step.heat, lanes)
    per_watt = _full(step.power, lanes)
    per_kelvin = 1.0 / per_watt[modes]
    block = max(1, min(BLOCK_HOURS, BLOCK_NUMBERS // (3 * max(1, int(np.prod(lanes))))))
    drive = _Drive(step, gains, internal, air_of, warmer, lanes, block)
    forms = np.empty((block + 1, modes + 2, *lanes))
    forms[0, :modes] = began = heat_of_modes * float(start)
    term, wish = np.empty((modes, *lanes)), np.empty((block, *lanes))
    powers, carried = np.empty((block, *lanes)), np.zeros((block, *lanes))
    totals = Totals(lanes, int(bin_of.max()) + 1, len(limits))
    limited = bool(np.any(np.isfinite(most)) or np.any(np.isfinite(least)))
    kept = None
    if record is not None:
        chosen = np.empty(lanes)[record].shape
        kept = Record(*(np.empty((hours, *chosen)) for _ in range(4)))

    axes = (slice(None), *(None,) * len(lanes))
    warm_up = min(max(int(warm_up_steps), 0), hours)
    starts = [*range(hours - warm_up, hours, block), *range(0, hours, block)]
    before = len(range(hours - warm_up, hours, block))  # blocks of the warm-up
    for number, first in enumerate(starts):
        counts = number >= before
        if number == before:
            began = forms[0, :modes].copy()
        at = slice(first, min(first + block, hours))
        size = at.stop - at.start
        drive.fill(forms[1 : size + 1], at)
        floor, roof, warmth = low[at][axes], high[at][axes], airs[at] + warmer
        if shift is not None:
            floor, roof = floor + shift, roof + shift
        for place in range(size):
            state, form = forms[place, :modes], forms[place + 1]
            air, wanted, power = form[modes, ...], wish[place, ...], powers[place, ...]
            np.multiply(by_mode, state, out=term)
            for part in term:
                air += part
            heat = None
            if openings is not None and openings.ever[first + place]:
                heat = openings.heat(
                    first + place,
                    air,
                    warmth[place],
                    per_watt[modes],
                    floor[place] + unheated,
                    roof[place] + uncooled,
                )
                carried[place, ...] = heat
                air += per_watt[modes] * heat
            # the power that brings the air back between the set points, as far as the plant can
            np.maximum(air, floor[place], out=wanted)
            np.minimum(wanted, roof[place], out=wanted)
            wanted -= air
            wanted *= per_kelvin
            if limited:
                np.minimum(wanted, most, out=power)
                np.maximum(power, least, out=power)
            else:
                power[...] = wanted
            np.multiply(decay, state, out=term)
            form[:modes] += term
            np.multiply(per_watt[:modes], power if heat is None else power + heat, out=term)
            form[:modes] += term
        if counts:
            ended = forms[1 : size + 1]
            totals.add_power(powers[:size], bin_of[at])
            if limited:
                totals.add_unmet((wish[:size] - powers[:size]) * per_watt[modes])
            if openings is not None:
                carried[:size][~openings.ever[at]] = 0.0
                totals.add_opened(carried[:size])
            here = np.ones(size, dtype=bool) if kept is not None else np.asarray(present[at])
            felt = ended[here, modes + 1]
            for mode in range(modes):
                felt += felt_by_mode[mode] * forms[:size][here, mode]
            felt += per_watt[modes + 1] * (powers[:size] + carried[:size])[here]
            if kept is not None:
                for name, values in (
                    ("air", ended[:, modes] + per_watt[modes] * powers[:size]),
                    ("operative", felt),
                    ("power", powers[:size]),
                    ("opened", carried[:size]),
                ):
                    getattr(kept, name)[at] = values[(slice(None), *_index(record))]
                felt = felt[present[at]]
            over = [one[at][present[at]][axes] + more for one, more in zip(limits, shifts, strict=True)]
            totals.add_operative(felt, over)
        forms[0, :modes] = forms[size, :modes]

    change = (heat_of_modes * (forms[0, :modes] - began)).sum(axis=0) / 3.6e6
    year = totals.balance(step_hours, change, kept, never=not present.any())
    return year if several else replace(year, hot_hours=year.hot_hours[0])


class _Drive:
    """What the weather and the gains add to every form of a step, whatever the state."""

    def __init__(
        self,
        step: Coefficients,
        gains: Sequence[Gain],
        internal: Gain,
        outdoor: Gain,
        warmer: Array | float,
        lanes: tuple[int, ...],
        block: int,
    ) -> None:
        hours = np.shape(outdoor.hourly)[-1]
        places = {"room": step.solar, "walls": step.walls, "windows": step.windows}
        flows: list[tuple[Gain, Array, str]] = [(gain, places[gain.place], "solar") for gain in gains]
        flows += [(internal, step.internal, "internal"), (outdoor, step.outdoor, "temp_air")]
        # a flow alike for all lanes but for its factor: one column by hour, one row by lane
        columns, rows = [np.ones(hours)], [_full(step.outdoor, lanes) * warmer]
        self._wide: list[tuple[Array, list[tuple[Array, Array]]]] = []
        for gain, form, name in flows:
            hourly, factor = _by_hour(gain, lanes, hours, name), np.asarray(gain.factor, dtype=float)
            if hourly.size == hours:
                columns.append(hourly.reshape(hours))
                rows.append(_full(form, lanes) * factor)
                continue
            for known, members in self._wide:
                if known is form:
                    members.append((hourly, factor))
                    break
            else:
                self._wide.append((form, [(hourly, factor)]))
        self._wide = [(_full(form, lanes), members) for form, members in self._wide]
        self._flow, self._more = np.empty((block, *lanes)), np.empty((block, *lanes))
        self._spread = np.empty((block, *rows[0].shape))
        self._columns = np.ascontiguousarray(np.stack(columns, axis=1))
        self._rows = np.stack(rows).reshape(len(rows), -1)

    def fill(self, forms: Array, at: slice) -> None:
        """Write the drive of some hours into (hours, forms, lanes)."""
        size = forms.shape[0]
        np.matmul(self._columns[at], self._rows, out=forms.reshape(size, -1))
        for form, members in self._wide:
            flow, more, spread = self._flow[:size], self._more[:size], self._spread[:size]
            np.multiply(members[0][0][at], members[0][1], out=flow)
            for hourly, factor in members[1:]:
                np.multiply(hourly[at], factor, out=more)
                flow += more
            np.multiply(form, flow[:, None], out=spread)
            forms += spread


def _index(record: Any) -> tuple[Any, ...]:
    """Return an index as the tuple that may follow another one."""
    return record if isinstance(record, tuple) else (record,)


def _full(values: Array, lanes: tuple[int, ...]) -> Array:
    """Return (rows, some lanes) as (rows, all lanes), in one piece."""
    spread = values.reshape(len(values), *(1,) * (len(lanes) - values.ndim + 1), *values.shape[1:])
    return np.array(np.broadcast_to(spread, (len(values), *lanes)))


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
