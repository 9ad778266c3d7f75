"""Glazings and films drawn at random and at the ends of what a job may hold: the physics carries them all."""

from itertools import product
from typing import get_args

import numpy as np
from pydantic import ValidationError

from reportkit.job.model import (
    CoatingSpec,
    FilmClass,
    FilmSpec,
    GapSpec,
    GlassKind,
    GlazingSpec,
    LiteSpec,
    RatedValues,
    Record,
    RollOffer,
    Strength,
)
from reportkit.physics import glass
from reportkit.study import translate
from reportkit.study.claims import checked
from reportkit.study.filmed import rated

GLAZINGS, FILMS = 80, 40
DAYS = glass.SCENARIOS


class Drawn:
    """Records drawn from a seed; what the models refuse is drawn again."""

    def __init__(self, seed):
        self.random = np.random.default_rng(seed)

    def pick(self, choices):
        """Return one of several."""
        return choices[int(self.random.integers(len(choices)))]

    def number(self, low, high):
        """Return one of the ends in two of five draws, else something between."""
        return float(self.pick((low, high, *self.random.uniform(low, high, 3))))

    def until_valid(self, make) -> Record:
        """Return the first record that its model takes."""
        while True:
            try:
                return make()
            except ValidationError:
                continue

    def lite(self):
        """Return a sheet of glass."""
        return LiteSpec(
            thickness_mm=self.number(1.5, 30),
            glass=self.pick(get_args(GlassKind)),
            strength=self.pick(get_args(Strength)),
            textured=self.pick((None, None, None, "front", "back")),
        )

    def gap(self):
        """Return a gap."""
        return GapSpec(
            width_mm=self.number(3, 40),
            gas=self.pick(("air", "argon", "krypton")),
            fill_percent=self.number(0.5, 100),
        )

    def glazing(self, number):
        """Return a glazing of one to three sheets."""
        sheets = self.pick((1, 2, 3))

        def make():
            coating = self.pick((None, *("hard_low_e", "soft_low_e", "solar_control_low_e")))
            surface = int(self.random.integers(1, 2 * sheets + 1))
            return GlazingSpec(
                id=f"g{number}",
                lites=tuple(self.until_valid(self.lite) for _ in range(sheets)),
                gaps=tuple(self.gap() for _ in range(sheets - 1)),
                coating=coating and CoatingSpec(kind=coating, surface=surface),
            )

        return self.until_valid(make)

    def film(self, number):
        """Return a film whose sheet prints anything."""

        def share(top=100.0, missing=0.3):
            return None if self.random.random() < missing else round(self.number(0, top), 1)

        def make():
            vt, ts = round(self.number(0, 90), 1), share(90, 0.2)
            return FilmSpec(
                id=f"f{number}",
                film_class=self.pick(get_args(FilmClass)),
                side=self.pick(("inside", "outside")),
                thickness_um=50,
                rated=RatedValues(
                    on_thickness_mm=self.number(1.5, 12),
                    on_glass=self.pick(("clear", "clear", *get_args(GlassKind))),
                    conditions=self.pick(("nfrc", "en")),
                    solar_transmittance_percent=ts,
                    solar_reflectance_glass_side_percent=None if ts is None else share(100 - ts, 0.2),
                    solar_reflectance_film_side_percent=None if ts is None else share(100 - ts, 0.5),
                    visible_transmittance_percent=vt,
                    visible_reflectance_glass_side_percent=share(100 - vt, 0.2),
                    visible_reflectance_film_side_percent=share(100 - vt, 0.5),
                    uv_transmittance_percent=share(20, 0.2),
                    shgc=self.pick((None, round(self.number(0, 1), 2))),
                    emissivity=self.number(0.02, 0.98),
                ),
                rolls=(RollOffer(width=1524, length=30_000, price="100"),),
            )

        return self.until_valid(make)


def possible(kind, vt, ts, back, side, emissivity):
    """Return a film that can be: T, R and light agree with each other."""
    return FilmSpec(
        id=kind,
        film_class="sputtered",
        side=side,
        thickness_um=50,
        rated=RatedValues(
            solar_transmittance_percent=ts,
            solar_reflectance_glass_side_percent=back,
            solar_reflectance_film_side_percent=back,
            visible_transmittance_percent=vt,
            visible_reflectance_glass_side_percent=back,
            visible_reflectance_film_side_percent=back,
            uv_transmittance_percent=1,
            emissivity=emissivity,
        ),
        rolls=(RollOffer(width=1524, length=30_000, price="100"),),
    )


POSSIBLE = tuple(
    possible(f"{name}-{side}-{emissivity}", vt, ts, back, side, emissivity)
    for (name, vt, ts, back), side, emissivity in product(
        (("black", 1, 1, 6), ("dark", 5, 8, 6), ("mirror", 12, 11, 60), ("clear", 88, 80, 8)),
        ("inside", "outside"),
        (0.02, 0.9),
    )
)


def holds(made, conditions):
    """Check the sums of a glazing's optics, its rating, its gains by the hour and its screen."""
    light = glass.optics(made, np.arange(0.0, 91.0, 15.0))
    for part in (light, light.diffuse):
        total = part.t + part.r_out + part.absorbed.sum(axis=-1)
        np.testing.assert_allclose(total, 1.0, atol=1e-9)
        for values in (part.t, part.r_out, part.r_in, part.absorbed):
            assert values.min() >= -1e-9 and values.max() <= 1 + 1e-9
    rating = glass.rate(made, conditions)
    numbers = [value for value in vars(rating).values() if isinstance(value, float)]
    assert numbers and np.isfinite(numbers).all()
    assert 0 <= rating.t_visible <= 1 and 0 < rating.u_w_m2k < 8
    assert float(light.t_solar[0]) - 1e-6 <= rating.shgc <= 1
    table = glass.gain_table(made, conditions)
    gains = table.interp(np.linspace(0.0, 90.0, 19))
    assert np.isfinite(gains).all() and gains.min() >= -1e-9 and np.isfinite(table.shgc_diffuse)


def test_whatever_a_job_may_hold_is_computed_or_refused_with_a_reason():
    """Nothing raises, nothing is nan, T + R + A is 1, SHGC lies between Ts and 1, and a refusal says why."""
    drawn = Drawn(0)
    films = [drawn.film(number) for number in range(FILMS)]
    facts = glass.PaneFacts(1200, 1500, blind=True, shadow="moving")
    made = refused = 0
    for number in range(GLAZINGS):
        spec = drawn.glazing(number)
        bare = {spec.id: translate.glazing(spec)}
        conditions = drawn.pick(("nfrc", "en"))
        holds(bare[spec.id], conditions)
        for film in (*(drawn.pick(films) for _ in range(2)), *(drawn.pick(POSSIBLE) for _ in range(2))):
            filmed, why = translate.film_on(bare, spec.id, film)
            if filmed is None:
                assert why
                refused += 1
                continue
            made += 1
            holds(filmed, conditions)
            screened = glass.screen(filmed, facts, scenarios=DAYS)
            worst = screened.worst
            assert np.isfinite(
                [
                    worst.difference.low,
                    worst.difference.high,
                    worst.t_centre,
                    worst.t_edge,
                    screened.absorptance.high,
                ]
            ).all()
    assert made > GLAZINGS and refused > GLAZINGS / 10


def test_whatever_a_sheet_prints_is_judged():
    """A film's sheet of any numbers in range is computed or called impossible, and never breaks the job."""
    drawn = Drawn(1)
    spec = GlazingSpec(id="plain", lites=(LiteSpec(thickness_mm=4),))
    bare = {"plain": translate.glazing(spec)}
    for number in range(25):
        film = drawn.film(number)
        filmed, why = translate.film_on(bare, "plain", film)
        filmed_glass = {
            ("plain", None): rated("plain", None, bare["plain"], "", "nfrc"),
            ("plain", film.id): rated("plain", film.id, filmed, why, "nfrc"),
        }
        found = checked(film, filmed_glass, "nfrc")
        if filmed is None:
            assert any(finding.severity == "impossible" for finding in found.findings), (film, why)
        for entry in found.ranges:
            assert 0 <= entry.low <= entry.high <= 1
