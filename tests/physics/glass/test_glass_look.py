"""Light through a pane and off it, and the colors made of it."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reportkit.physics.glass import look

SHARES = st.floats(0.001, 0.999)


@settings(max_examples=60, deadline=None)
@given(t=st.floats(0.0, 1.0), words=st.lists(st.sampled_from(sorted(look.TINTS)), max_size=4))
def test_a_tint_keeps_the_visible_transmittance(t, words):
    """White light behind any mix of tints has exactly the stated share of its luminance, nothing over 1."""
    through = look.transmitted(t, words)
    assert look.luminance(through) == pytest.approx(t, abs=1e-12)
    assert np.all(through >= 0)
    assert np.all(through <= 1 + 1e-12)


def test_tints_lean_the_way_their_word_says():
    """Bronze and gold pass more red than blue, blue more blue than red, green most green; grey is even."""
    red, green, blue = range(3)
    for word in ("bronze", "gold"):
        through = look.transmitted(0.4, [word])
        assert through[red] > through[green] > through[blue]
    assert look.transmitted(0.4, ["blue"])[blue] > look.transmitted(0.4, ["blue"])[red]
    assert np.argmax(look.transmitted(0.4, ["green"])) == green
    assert np.ptp(look.transmitted(0.4, ["grey"])) < 0.03
    assert np.ptp(look.transmitted(0.4, ["neutral"])) == 0


def test_an_unknown_tint_is_refused():
    """A word that is not in the table raises."""
    with pytest.raises(ValueError, match="tint must be one of"):
        look.transmitted(0.5, ["mauve"])


@settings(max_examples=60, deadline=None)
@given(t=SHARES, share=SHARES, beyond=st.floats(0.1, 5000), near=st.floats(0.1, 5000))
def test_what_is_seen_is_through_plus_mirrored(t, share, beyond, near):
    """For grey scenes luminance is T x far + R x near, and what is not veil is the contrast left."""
    r = (1 - t) * share
    light = look.luminance(
        look.seen(np.full(3, beyond), np.full(3, near), t_visible=t, r_visible=r, tints=["bronze"])
    )
    assert light == pytest.approx(t * beyond + r * near, rel=1e-12)
    left = look.contrast_left(t, r, beyond=beyond, near=near)
    assert left == pytest.approx(t * beyond / light, rel=1e-9)


def test_a_pane_cannot_send_on_more_than_it_gets():
    """Shares that sum to over 1, or lie outside 0 to 1, raise."""
    with pytest.raises(ValueError, match="sum to 1"):
        look.seen(np.ones(3), np.ones(3), t_visible=0.7, r_visible=0.4)
    with pytest.raises(ValueError, match="t_visible"):
        look.transmitted(1.2)


@settings(max_examples=60, deadline=None)
@given(t=SHARES, r=SHARES, left=st.floats(0.05, 0.5))
def test_the_privacy_ratio_is_where_the_room_is_just_hidden(t, r, left):
    """At that ratio of brightness exactly the share of contrast named is left; at night it is reversed."""
    ratio = look.privacy_ratio(t, r, left=left)
    assert look.contrast_left(t, r, beyond=1.0, near=ratio) == pytest.approx(left, rel=1e-9)
    assert look.contrast_left(t, r, beyond=1.0, near=ratio / 50) > left


def test_common_practice_holds_for_a_mirror_film_and_not_for_bare_glass():
    """Fitters say three to four times brighter outdoors hides (common practice, no source).

    So it does for a film of VT 20 % that reflects 20 to 27 %; clear glass (.88, .08) would need forty.
    """
    assert look.privacy_ratio(0.20, 0.27) == pytest.approx(3.0, abs=0.05)
    assert look.privacy_ratio(0.20, 0.20) == pytest.approx(4.0)
    assert look.privacy_ratio(0.88, 0.08) > 40
    assert look.privacy_ratio(0.5, 0.0) == float("inf")


def test_the_curve_is_that_of_srgb():
    """IEC 61966-2-1 as a general color library has it: same values."""
    colour = pytest.importorskip("colour")
    tones = np.linspace(0, 1, 257)
    np.testing.assert_allclose(
        look.encoded(tones * 40, 1 / 40), colour.models.eotf_inverse_sRGB(tones), atol=1e-9
    )
    weights = colour.models.RGB_COLOURSPACE_sRGB.matrix_RGB_to_XYZ[1]
    np.testing.assert_allclose(look.LUMINANCE, weights, atol=5e-5)


def test_decoding_is_encoding_backwards():
    """sRGB (IEC 61966-2-1): light within the range shown comes out as it went in."""
    tones = np.linspace(0.0, 2.0, 41)
    np.testing.assert_allclose(look.decoded(look.encoded(tones, 0.5), 0.5), tones, atol=1e-12)
    assert look.decoded(0.5, 1.0) == pytest.approx(0.2140, abs=1e-4)  # the standard's curve at one half


def test_light_too_bright_to_be_shown_is_white():
    """What exceeds the exposure is cut off, never wrapped round."""
    assert look.encoded([3.0, 1e9], 1.0).tolist() == pytest.approx([1.0, 1.0])
