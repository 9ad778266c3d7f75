"""The breakage screen: nothing found, ask, refuse, never better for worse facts."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reportkit.physics.glass import (
    SCENARIOS,
    Film,
    Gap,
    Glazing,
    MakerChart,
    PaneFacts,
    clear,
    coated,
    double,
    laminated,
    screen,
    single,
    tinted,
    triple,
    wired,
    with_film,
    with_texture,
)
from reportkit.physics.glass.reason import AUTHORITY, DECISIONS

# invented films, no products
LIGHT = Film("light", 0.60, 0.10, 0.70, 0.10, 0.10, 0.10, t_uv=0.01)
DARK = Film("dark", 0.12, 0.07, 0.10, 0.06, 0.06, 0.06, t_uv=0.01)
PANE = single(clear(4))
FACTS = PaneFacts(900.0, 1200.0)


def rank(decision: str) -> int:
    """Order of a decision, worse being higher."""
    return DECISIONS.index(decision)


def test_plain_case_fits_and_still_names_who_decides() -> None:
    """A light film on clear tempered or annealed 4 mm fits, and the film maker's chart still comes first."""
    got = screen(with_film(PANE, LIGHT), FACTS)
    assert (got.decision, got.reasons) == ("nothing_found", ())
    assert got.who == AUTHORITY
    assert "film maker" in got.who[0]
    assert got.worst_bare.difference.high < got.worst.difference.high < got.worst.limit


def test_half_the_sun_absorbed_is_asked_about() -> None:
    """Annealed glass and film absorbing half the sun: ask (trade associations' guide); tempered not."""
    got = screen(with_film(PANE, DARK), FACTS)
    assert got.decision == "ask"
    assert got.absorptance.low == got.absorptance.high > 0.5
    assert "absorb 82 % of the sun" in got.reasons[-1].text
    assert screen(with_film(single(clear(4, temper="tempered")), DARK), FACTS).decision == "nothing_found"


@pytest.mark.parametrize(
    ("glazing", "facts", "word"),
    [
        (single(tinted(4)), {}, "tinted"),
        (single(laminated(4)), {}, "laminated"),
        (triple(clear(4), clear(4), clear(4), gaps=(Gap(12), Gap(12))), {}, "three panes"),
        (single(clear(10)), {}, "thickness"),
        (PANE, {"width_mm": 2000.0, "height_mm": 2000.0}, "area"),
        (PANE, {"age_years": 40.0}, "age"),
        (PANE, {"fogged": True}, "fogged"),
        (PANE, {"slope_deg": 45.0}, "slope"),
        (PANE, {"altitude_m": 2500.0}, "altitude"),
        (PANE, {"shadow": "moving"}, "moving shadow"),
        (PANE, {"shadow": "narrow"}, "narrow shadow"),
        (PANE, {"edge": "unknown"}, "finish of the edge"),
        (single(clear(4, temper="unknown")), {}, "annealed or tempered is not known"),
    ],
)
def test_what_the_chart_decides_is_asked_until_typed(glazing: Glazing, facts: dict, word: str) -> None:
    """Each of these is ask, never fit, while the film maker's limit is not typed."""
    got = screen(with_film(glazing, LIGHT), replace(FACTS, **facts))
    assert rank(got.decision) >= rank("ask")
    assert any(word in reason.text for reason in got.reasons)
    assert all(reason.who in AUTHORITY for reason in got.reasons)


@pytest.mark.parametrize(
    ("glazing", "facts", "allow", "forbid"),
    [
        (single(tinted(4)), {}, {"tinted": True}, {"tinted": False}),
        (single(laminated(4)), {}, {"laminated": True}, {"laminated": False}),
        (single(clear(10)), {}, {"max_thickness_mm": 12.0}, {"max_thickness_mm": 8.0}),
        (PANE, {"width_mm": 2000.0, "height_mm": 2000.0}, {"max_area_m2": 5.0}, {"max_area_m2": 3.0}),
        (PANE, {"altitude_m": 2500.0}, {"max_altitude_m": 3000.0}, {"max_altitude_m": 1000.0}),
        (PANE, {"fogged": True}, {"fogged": True}, {"fogged": False}),
        (PANE, {"shadow": "moving"}, {"shadows": True}, {"shadows": False}),
    ],
)
def test_typed_limits_settle_it(glazing, facts, allow, forbid) -> None:
    """Within a typed limit the question goes away; past it the answer is refuse."""
    filmed, facts = with_film(glazing, LIGHT), replace(FACTS, **facts)
    hot = MakerChart(max_absorptance=0.9)  # so that tinted glass is judged by its own line
    assert screen(filmed, facts, chart=replace(hot, **allow)).decision == "nothing_found"
    assert screen(filmed, facts, chart=replace(hot, **forbid)).decision == "refuse"


def test_absorptance_limit_of_the_chart() -> None:
    """A typed absorptance limit replaces the guide's half."""
    filmed, worked = with_film(PANE, DARK), replace(FACTS, edge="worked")
    assert screen(filmed, worked, chart=MakerChart(max_absorptance=0.9)).decision == "nothing_found"
    assert screen(filmed, worked, chart=MakerChart(max_absorptance=0.8)).decision == "refuse"


@pytest.mark.parametrize(
    ("facts", "word"),
    [
        ({"plastic": True}, "plastic"),
        ({"other_film": True}, "second layer"),
        ({"part_covered": True}, "part of a pane"),
        ({"damaged_edge": True}, "chips or cracks"),
    ],
)
def test_what_is_refused_whatever_the_numbers(facts: dict, word: str) -> None:
    """Common practice: these are refused with the reason."""
    got = screen(with_film(PANE, LIGHT), replace(FACTS, **facts))
    assert got.decision == "refuse"
    assert word in got.reasons[0].text


def test_wired_glass_with_an_absorbing_film_inside_is_refused() -> None:
    """Wire and an absorbing inside film are refused; one that adds no absorption is not, for that reason."""
    got = screen(with_film(single(wired()), LIGHT), FACTS)
    assert got.decision == "refuse"
    assert "wired" in got.reasons[0].text
    clear_film = Film("clear uv", 0.80, 0.08, 0.87, 0.09, 0.08, 0.09, t_uv=0.005)  # invented
    plain = screen(with_film(single(wired()), clear_film), FACTS)
    assert [(r.decision, r.text) for r in plain.reasons if "wired" in r.text] == [
        ("ask", "wired glass: whether the film maker's chart allows it is not known")
    ]


def test_too_warm_a_middle_is_refused() -> None:
    """A dark film on the inner pane of a double unit with a moving shadow in winter passes 30 K."""
    unit = double(clear(4), clear(4), gap=Gap(12))
    got = screen(with_film(unit, DARK), replace(FACTS, shadow="moving"))
    assert got.decision == "refuse"
    assert got.worst.difference.low > got.worst.limit == 30.0
    assert got.worst.lite == 2
    assert "of 30 K allowed" in got.reasons[0].text
    worked = screen(with_film(unit, DARK), replace(FACTS, edge="worked"))
    assert worked.worst.limit == 40.0


def test_between_the_ends_somebody_is_asked() -> None:
    """Fails in a close rebate and passes in a loose one: ask, with both ends; not the middle."""
    unit = with_film(double(clear(4), clear(4), gap=Gap(12)), LIGHT)
    got = screen(unit, replace(FACTS, blind=True))
    edge = got.worst.difference
    assert edge.low < got.worst.limit < edge.high
    reason = next(one for one in got.reasons if one.about == "difference")
    assert (got.decision, reason.decision) == ("ask", "ask")
    assert (reason.least, reason.value) == (edge.low, edge.high)
    assert f"{edge.low:.0f} K to {edge.high:.0f} K warmer" in reason.text


@pytest.mark.parametrize(
    ("glazing", "word"),
    [
        (single(coated(4, "hard")), "coated"),
        (single(with_texture(clear(4), face="back")), "is textured"),
        (single(with_texture(clear(4), face="either")), "nobody told which face"),
        (with_film(PANE, LIGHT), "already carries film"),
    ],
)
def test_faces_that_take_no_film(glazing: Glazing, word: str) -> None:
    """A coated, textured or filmed face is refused by name."""
    with pytest.raises(ValueError, match=word):
        with_film(glazing, LIGHT)


FLAGS = ("blind", "fogged", "plastic", "other_film", "part_covered", "damaged_edge")


@settings(max_examples=40, deadline=None)
@given(
    st.sampled_from([PANE, single(tinted(6)), double(clear(4), clear(4), gap=Gap(12))]),
    st.sampled_from([LIGHT, DARK]),
    st.sets(st.sampled_from(FLAGS)),
    st.sampled_from(FLAGS),
    st.sampled_from(["none", "still", "moving"]),
    st.floats(0.0, 15.0),
)
def test_worse_facts_never_give_a_milder_decision(glazing, film, flags, extra, shadow, colder) -> None:
    """Adding a bad fact, a shadow or a colder frame never makes the decision milder."""
    filmed = with_film(glazing, film)
    before = screen(filmed, replace(FACTS, **dict.fromkeys(flags, True)))
    worse = replace(FACTS, shadow=shadow, **dict.fromkeys(flags | {extra}, True))
    days = tuple(replace(day, t_frame=day.t_frame - colder) for day in SCENARIOS)
    after = screen(filmed, worse, scenarios=days)
    assert rank(after.decision) >= rank(before.decision)
    assert after.worst.difference.high >= before.worst.difference.high - 1e-6


@settings(max_examples=15, deadline=None)
@given(st.floats(0.05, 0.6), st.floats(0.02, 0.1))
def test_a_film_that_absorbs_more_is_never_judged_milder(t: float, less: float) -> None:
    """Taking transmittance away and absorbing it never makes the decision milder."""
    one = Film("one", t + less, 0.08, t + less, 0.08, 0.08, 0.08, t_uv=0.01)
    two = Film("two", t, 0.08, t, 0.08, 0.08, 0.08, t_uv=0.01)
    lighter, darker = (screen(with_film(PANE, film), FACTS) for film in (one, two))
    assert darker.absorptance.high > lighter.absorptance.high
    assert rank(darker.decision) >= rank(lighter.decision)


def test_nothing_is_ever_called_safe() -> None:
    """No decision, reason or authority uses the word."""
    for glazing in (PANE, single(wired()), single(tinted(6))):
        got = screen(with_film(glazing, DARK), replace(FACTS, shadow="moving", fogged=True))
        words = [got.decision, *got.who, *(reason.text + reason.who for reason in got.reasons)]
        assert not any("safe" in word for word in words)
    assert DECISIONS == ("nothing_found", "ask", "refuse")


def test_arguments_are_checked() -> None:
    """A glazing without film and an empty list of days are refused."""
    with pytest.raises(ValueError, match="carries no film"):
        screen(PANE, FACTS)
    with pytest.raises(ValueError, match="at least one scenario"):
        screen(with_film(PANE, LIGHT), FACTS, scenarios=())


def test_plastic_is_refused_until_the_film_is_stated_for_it_and_then_asked_about() -> None:
    """Acrylic and polycarbonate are no glass: a film stated for them is still asked about, never fit."""
    pane = replace(FACTS, plastic=True)
    for chart, decision in (
        (None, "refuse"),
        (MakerChart(plastic=False), "refuse"),
        (MakerChart(plastic=True), "ask"),
    ):
        got = screen(with_film(PANE, LIGHT), pane, chart=chart)
        assert got.decision == decision
        assert any("plastic" in reason.text for reason in got.reasons)
