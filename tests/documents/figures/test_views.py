"""The strip of looks: its colors carry the film's transmittance and reflectances."""

import re

import numpy as np
import pytest

from reportkit.documents.figures import scene
from reportkit.documents.figures.views import ROWS, color_of, exposure, spots, views
from reportkit.findings.views import VIEWS, Scenes, ViewThrough
from reportkit.physics.glass import look
from reportkit.study.sight import SCENES

FILMS = {
    None: (0.88, 0.08, 0.08, ["clear"]),
    "dark": (0.20, 0.33, 0.14, ["clear", "silver"]),
    "brown": (0.36, 0.07, 0.09, ["clear", "bronze"]),
    "light": (0.66, 0.10, 0.10, ["clear", "neutral"]),
}

#: What is assumed on both sides of the glass.
LIGHTS = Scenes.model_validate(SCENES)


def pane(film, scatters=False, name=None):
    """Return the look of a pane; only what the pictures show is filled in."""
    t, out, back, tints = FILMS[film]
    return ViewThrough(
        film=name or film,
        tints=tints,
        t_visible=t,
        r_visible_out=out,
        r_visible_in=back,
        scatters=scatters,
        privacy_ratio=4 * t / out,
        hides_by_day=4 * t / out <= 3.5,
        hides_at_night=False,
        contrast_left=None,
        brightness_beside_bare=dict.fromkeys(VIEWS, 1.0),
    )


def facing(entry, side):
    """Return what a pane mirrors to one side."""
    return entry.r_visible_out if side == "outdoors" else entry.r_visible_in


@pytest.fixture
def looked(make):
    """Results of an invented job with the views above."""

    def make_results(films=3, **how):
        results = make(films=films, **how)
        kinds = ["dark", "brown", "light"]
        films_seen = [pane(kinds[number % 3], name=f"film-{number}") for number in range(films)]
        results["views"]["panes"] = [pane(None), *films_seen]
        return results

    return make_results


def fitted(film, time, side, read):
    """Return T and R read off a drawing: the least-squares share of far and near scene in its tones."""
    entry = pane(film)
    exposed = exposure(pane(None), LIGHTS, time, side)
    other = "outdoors" if side == "indoors" else "indoors"
    rows, seen = [], []
    for far in scene.SCENES[time, other]:
        for near in scene.mirrored(scene.SCENES[time, side]):
            beyond = np.array(far.light) * SCENES[time][other]
            mirrored = np.array(near.light) * SCENES[time][side]
            light = look.seen(
                beyond,
                mirrored,
                t_visible=entry.t_visible,
                r_visible=facing(entry, side),
                tints=entry.tints,
            )
            value = read(light, exposed)
            if value is not None:
                tint = look.transmitted(entry.t_visible, entry.tints)
                rows.append([beyond @ (look.LUMINANCE * tint / entry.t_visible), look.luminance(mirrored)])
                seen.append(look.luminance(value))
    weights = 1 / np.array(seen)
    found = np.linalg.lstsq(np.array(rows) * weights[:, None], np.array(seen) * weights, rcond=None)[0]
    return found.tolist()


def from_color(light, exposed):
    """Return the linear light that a drawn color stands for; None outside the range shown."""
    if np.any(light * exposed > 1) or np.any(light * exposed < 0.01):
        return None
    text = color_of(light, exposed)
    shown = np.array([int(text[k : k + 2], 16) / 255 for k in (1, 3, 5)])
    # IEC 61966-2-1, backwards
    linear = np.where(shown <= 0.04045, shown / 12.92, ((np.maximum(shown, 0.04045) + 0.055) / 1.055) ** 2.4)
    return linear / exposed


@pytest.mark.parametrize("film", list(FILMS))
@pytest.mark.parametrize(("time", "side"), ROWS)
def test_drawn_light_carries_the_shares_of_the_film(film, time, side):
    """Read back from linear light, and from the eight-bit colors drawn: T and R to 1 % (cross-check)."""
    t, out, back, _ = FILMS[film]
    r = out if side == "outdoors" else back
    exact = fitted(film, time, side, lambda light, exposed: light)
    assert exact == pytest.approx([t, r], rel=1e-9)
    drawn = fitted(film, time, side, from_color)
    other = "outdoors" if side == "indoors" else "indoors"
    # each share counts where its light does: 1 % of itself, or of what reaches the eye
    through, veil = t * SCENES[time][other], r * SCENES[time][side]
    assert abs(drawn[0] - t) * SCENES[time][other] < 0.01 * max(through, (through + veil) / 2)
    assert abs(drawn[1] - r) * SCENES[time][side] < 0.01 * max(veil, (through + veil) / 2)


def test_every_spot_of_the_pane_is_one_pair_of_shapes():
    """At any point the last spot that covers it mixes the topmost shape beyond and the topmost mirrored."""
    entry = pane("brown")
    for time, side in ROWS:
        drawn = spots(entry, LIGHTS, time, side)
        other = "outdoors" if side == "indoors" else "indoors"
        far, near = scene.SCENES[time, other], scene.mirrored(scene.SCENES[time, side])
        for x, y in np.random.default_rng(7).uniform(0.01, 0.99, (60, 2)):
            top = [next(s for s in reversed(kind) if scene.holds(s.corners, x, y)) for kind in (far, near)]
            light = next(tone for corners, tone in reversed(drawn) if scene.holds(corners, x, y))
            wanted = look.seen(
                np.array(top[0].light) * SCENES[time][other],
                np.array(top[1].light) * SCENES[time][side],
                t_visible=entry.t_visible,
                r_visible=facing(entry, side),
                tints=entry.tints,
            )
            np.testing.assert_allclose(light, wanted)


def test_scenes_are_convex_and_go_round_one_way():
    """What the clipping relies on: every corner turns the same way and lies in the unit square."""
    for shapes in scene.SCENES.values():
        for shape in (*shapes, *scene.mirrored(shapes)):
            corners = np.array(shape.corners)
            ahead, after = np.roll(corners, -1, axis=0), np.roll(corners, -2, axis=0)
            one, two = ahead - corners, after - ahead
            assert np.all(one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0] > -1e-12)
            assert corners.min() >= 0
            assert corners.max() <= 1


def test_shapes_in_common():
    """Two unit squares a half apart have a quarter in common; two apart have nothing."""
    square = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)]
    moved = [(x + 0.5, y + 0.5) for x, y in square]
    assert scene.area(scene.common(square, moved)) == pytest.approx(0.25)
    assert scene.common(square, [(x + 2, y) for x, y in square]) == []


def test_night_reverses_what_day_hides():
    """From outside by day a mirror film shows the street, at night the room (light of the sitter's place)."""
    entry = pane("dark")
    share = {}
    for time, side in ROWS:
        other = "outdoors" if side == "indoors" else "indoors"
        share[side, time] = look.contrast_left(
            entry.t_visible,
            facing(entry, side),
            beyond=SCENES[time][other],
            near=SCENES[time][side],
        )
    assert share["outdoors", "day"] < look.HIDDEN < share["outdoors", "night"]
    assert share["indoors", "night"] < look.HIDDEN < share["indoors", "day"]


def test_a_pane_that_scatters_shows_no_shapes():
    """Frosted film shows the far side as one tone wherever nothing is mirrored differently."""
    tones = {tuple(light.round(6)) for _, light in spots(pane("light", True), LIGHTS, "day", "indoors")}
    mirrored = {shape.light for shape in scene.mirrored(scene.SCENES["day", "indoors"])}
    assert len(tones) <= len(mirrored)


def test_the_strip_shows_every_film_once_with_bare_glass_first(looked, formats, words):
    """Seven films need two strips, each with bare glass; its picture's paths hold only computed colors."""
    results = looked(films=7, units="us", locale="en-US")
    first, second = views(results.findings, formats(results), words)
    assert (first.id, second.id) == ("views", "views-2")
    assert first.alt.count("of the light through") == 7
    assert second.alt.count("of the light through") == 2
    exposed = exposure(pane(None), LIGHTS, "day", "indoors")
    sky = next(light for _, light in spots(pane(None), LIGHTS, "day", "indoors"))
    assert color_of(sky, exposed) in first.svg
    assert "<image" not in first.svg
    assert len(re.findall("Bare glass", first.svg)) == 1


def test_the_title_states_what_was_found(looked, formats, words):
    """A mirror film hides by day and says that night reverses; a clear one hides never."""
    results = looked()
    title = views(results.findings, formats(results), words)[0].title
    assert "hides the room by day" in title
    assert "at night" in title
    results["views"]["panes"][1] = pane("light", name="film-0")
    assert "neither by day nor at night" in views(results.findings, formats(results), words)[0].title
    none = looked(chosen=None)
    assert views(none.findings, formats(none), words)[0].title
