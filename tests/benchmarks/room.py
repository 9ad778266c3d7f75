"""How fast the hourly balance is, as ratios to two plainer ways of the same sums.

Run by hand: ``python tests/benchmarks/room.py``. The plainer ways are one call for each lane, that is
one pass over the year for each option and sample, and the same steps written out in plain Python for
each lane. Both are timed on a few lanes and scaled up; their results are compared with those of the
single pass first.
"""

from __future__ import annotations

import math
import time
import tracemalloc
from collections.abc import Callable

import numpy as np

from reportkit.physics.room import Balance, Gain, Room, coefficients, envelope, heat_balance

HOURS = np.arange(8760)
OUTDOOR = 10.0 + 10.0 * np.sin(2 * np.pi * HOURS / 8760) + 5.0 * np.sin(2 * np.pi * HOURS / 24)
DAYLIGHT = 1500.0 * np.maximum(0.0, np.sin(2 * np.pi * (HOURS - 6) / 24))
WARM_UP = 1440


def inputs(rooms: int, options: int, samples: int) -> tuple[np.ndarray, ...]:
    """Return window transfer, air changes, sun by room and option, and the sun's factor."""
    windows = np.linspace(10.0, 20.0, options)[:, None]
    air = np.linspace(0.4, 1.4, samples)
    sun = np.linspace(1.0, 0.3, options)[:, None, None] * np.linspace(1.0, 1.5, rooms)[:, None, None, None]
    return windows, air, sun * DAYLIGHT, np.linspace(0.85, 1.15, samples)


def room(windows: object, air: object) -> Room:
    """Return a room of 20 m2 by window transfer [W/K] and air changes [1/h]."""
    return envelope.room(
        20.0,
        height=2.5,
        mass="medium",
        glass_area=5.0,
        windows=windows,  # type: ignore[arg-type]
        opaque=10.0,
        air_change=air,  # type: ignore[arg-type]
    )


def run(windows: object, air: object, sun: object, factor: object) -> Balance:
    """Run the balance as a job does: limits of plant, twelve bins, hot hours."""
    return heat_balance(
        room(windows, air),
        OUTDOOR,
        solar=Gain(sun, factor),  # type: ignore[arg-type]
        internal=Gain(np.full(8760, 100.0)),
        heating_setpoint=20.0,
        cooling_setpoint=26.0,
        heating_power=4000.0,
        cooling_power=3000.0,
        bins=HOURS // 730,
        warm_up_steps=WARM_UP,
    )


def plain(windows: float, air: float, sun: np.ndarray) -> float:
    """Return the year's cooling [kWh] of one lane by the same steps in plain Python."""
    step = coefficients(room(windows, air))
    decay, by_mode, heat = step.decay.tolist(), step.air.tolist(), step.heat.tolist()
    modes = range(len(decay))
    rows = {name: getattr(step, name).tolist() for name in ("outdoor", "solar", "internal", "power")}
    outdoor, gains = OUTDOOR.tolist(), sun.tolist()
    state, cooling = [20.0 * held for held in heat], 0.0
    for number in range(-WARM_UP, 8760):
        flows = {"outdoor": outdoor[number % 8760], "solar": gains[number % 8760], "internal": 100.0}
        drive = [sum(rows[name][row] * flow for name, flow in flows.items()) for row in (*modes, len(decay))]
        free = drive[-1] + sum(by_mode[mode] * state[mode] for mode in modes)
        power = (min(max(free, 20.0), 26.0) - free) / rows["power"][len(decay)]
        power = min(max(power, -3000.0), 4000.0)
        if number >= 0:
            cooling -= min(power, 0.0) / 1000.0
        state = [decay[mode] * state[mode] + drive[mode] + rows["power"][mode] * power for mode in modes]
    return cooling


def timed(work: Callable[[], object], repeat: int = 3) -> float:
    """Return the least of a few times [s]."""
    best = math.inf
    for _ in range(repeat):
        start = time.perf_counter()
        work()
        best = min(best, time.perf_counter() - start)
    return best


def main() -> None:
    """Print seconds and ratios for one job's room and for six rooms."""
    print(
        f"{'rooms x options x samples':>28} {'one pass':>10} {'of that a lane':>15} {'a lane each':>22}"
        f" {'plain Python':>22}"
    )
    for shape in ((1, 6, 128), (6, 8, 256)):
        windows, air, sun, factor = inputs(*shape)
        lanes = math.prod(shape)
        whole = run(windows, air, sun, factor)
        assert math.isclose(
            float(whole.cooling[:, 0, 1, 2].sum()),
            plain(windows[1, 0], air[2], sun[0, 1, 0] * factor[2]),
            rel_tol=1e-9,
        )
        one_pass = timed(lambda: run(windows, air, sun, factor))  # noqa: B023 - called at once
        single = timed(lambda: run(windows[0, 0], air[0], sun[0, 0, 0], factor[0]))  # noqa: B023 - same
        python = timed(lambda: plain(windows[0, 0], air[0], sun[0, 0, 0] * factor[0]))  # noqa: B023 - same
        print(
            f"{' x '.join(map(str, shape)):>28} {one_pass:>8.2f} s {one_pass / lanes * 1e6:>12.0f} us"
            f" {single * lanes:>10.1f} s ({single * lanes / one_pass:>5.0f} x)"
            f" {python * lanes:>10.1f} s ({python * lanes / one_pass:>5.0f} x)"
        )
    windows, air, sun, factor = inputs(6, 8, 256)
    tracemalloc.start()
    run(windows, air, sun, factor)
    print(f"largest memory of the six rooms: {tracemalloc.get_traced_memory()[1] / 1e6:.0f} MB")


if __name__ == "__main__":
    main()
