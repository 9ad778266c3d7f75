"""Titles against the numbers they are written from, case by case."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any
from xml.etree import ElementTree

import pytest

from reportkit.documents import figures
from reportkit.documents.language.formats import Formats
from reportkit.documents.language.words import Words

Made = Callable[..., Any]
Writer = Callable[[dict[str, Any]], Formats]


def _loose(text: str) -> str:
    """A title with common spaces for its no-break ones."""
    return text.replace("\u00a0", " ")


@pytest.mark.parametrize(
    ("share", "said"),
    [
        (0.4, "cuts the 09:30 peak of sun heat by 60%"),
        (0.994, "cuts the 09:30 peak of sun heat by 1%"),
        (1.0, "leaves the 09:30 peak of sun heat as it is"),
        (1.004, "leaves the 09:30 peak of sun heat as it is"),
        (1.25, "lets in 25% more sun heat at 09:30 than bare glass"),
        (0.0, "cuts the 09:30 peak of sun heat by 100%"),
    ],
)
def test_bad_day_states_the_cut(make: Made, formats: Writer, words: Words, share: float, said: str) -> None:
    """The title says the share that the film keeps out, nothing, or how much more comes in."""
    results = make(films=1, shares=(share,))
    assert _loose(figures.bad_day(results.findings, formats(results), words).title) == f"Invented grey {said}"


def test_bad_day_without_film(make: Made, formats: Writer, words: Words) -> None:
    """Where nothing is chosen, the title names what comes in and the least of the films."""
    results = make(chosen=None)
    title = _loose(figures.bad_day(results.findings, formats(results), words).title)
    assert "lets in 2,000 W at 09:30" in title
    assert title.endswith("the least is 500 W with Invented silver")
    results = make(films=2, chosen=None, shares=(1.0, 1.2))
    assert (
        _loose(figures.bad_day(results.findings, formats(results), words).title)
        == "Bare glass lets in 2,000 W at 09:30"
    )


def test_bad_day_lines_are_the_results(make: Made, formats: Writer, words: Words) -> None:
    """The interactive lines hold the watts of the results, one line an option."""
    results = make(films=3)
    figure = figures.bad_day(results.findings, formats(results), words)
    assert figure.plotly is not None
    lines = [trace["y"] for trace in figure.plotly["data"]]
    assert lines == list(results["bad_day"]["watts"].values())


@pytest.mark.parametrize(
    ("summer", "winter", "said"),
    [
        (0.4, 0.4, "keeps out 1,400 kWh of sun from April to September, and 500 kWh from October to March"),
        (0.4, 1.2, "keeps out 1,400 kWh of sun from April to September and lets in 170 kWh more from"),
        (1.1, 0.4, "lets in 230 kWh more sun from April to September and keeps out 500 kWh from"),
        (1.1, 1.1, "lets in more sun than bare glass: 230 kWh from April to September, 83 kWh from"),
        (1.0, 1.0, "changes the sun through this glass by less than 0.5% all year"),
    ],
)
def test_months_state_both_halves(
    make: Made, formats: Writer, words: Words, summer: float, winter: float, said: str
) -> None:
    """The title gives summer and winter sums with the right sign of each."""
    results = make(films=1, shares=(summer,), winter_share=winter)
    figure = figures.months(results.findings, formats(results), words)
    assert figure is not None
    assert _loose(figure.title).startswith(f"Invented grey {said}")
    kept = results["options"][1]["summer_kept_out_kwh"]
    bare = sum(results["options"][0]["monthly_solar_kwh"][3:9])
    assert kept == pytest.approx(bare * (1 - summer))


def test_months_south_of_the_equator(make: Made, formats: Writer, words: Words) -> None:
    """The warmer half runs over the turn of the year where the results say so."""
    results = make(films=1)
    for option in results["options"]:
        option["summer_months"] = [10, 11, 12, 1, 2, 3]
    figure = figures.months(results.findings, formats(results), words)
    assert figure is not None
    assert figure.title.index("October to March") < figure.title.index("April to September")
    assert figure.plotly is not None
    assert figure.plotly["data"][0]["x"][0] == "Oct"
    assert figure.plotly["data"][0]["y"][0] == results["options"][0]["monthly_solar_kwh"][9]


def test_sun_hours_name_face_and_time(make: Made, formats: Writer, words: Words) -> None:
    """The title names the face with the highest mean, its month and hour, and the maps hold the means."""
    results = make(faces=3)
    figure = figures.sun_hours(results.findings, formats(results), words)
    assert (
        figure.title
        == "East gets the strongest sun, in July from 09:00 to 10:00: 500 W/m² on average".replace(
            "500 W", "500\u00a0W"
        )
    )
    assert figure.plotly is not None
    shown = figure.plotly["data"][1]["z"]
    grid = results["faces"][1]["mean_by_month_and_hour_w_m2"]
    first = next(
        hour
        for hour in range(24)
        if any(row[hour] >= 1 for f in results["faces"] for row in f["mean_by_month_and_hour_w_m2"])
    )
    means = [grid[6][first + number] for number in range(len(shown))]
    assert [row[6] for row in shown] == pytest.approx(means, abs=0.006)  # two decimals are kept


def test_sun_hours_in_us_units(make: Made, formats: Writer, words: Words) -> None:
    """US readers get Btu/h ft2: one is 3.154591 W/m2 (NIST SP 811, B.9; from memory of it)."""
    results = make(units="us", locale="en-US")
    figure = figures.sun_hours(results.findings, formats(results), words)
    assert figure.plotly is not None
    highest = max(value for row in figure.plotly["data"][0]["z"] for value in row)
    assert highest == pytest.approx(500 / 3.154591, rel=1e-5)
    assert "158\u00a0Btu/h·ft²" in figure.title


def test_sun_hours_equal_and_none(make: Made, formats: Writer, words: Words) -> None:
    """Two equal faces share the title; without sun the title says so."""
    results = make(faces=2)
    results["faces"][1]["mean_by_month_and_hour_w_m2"] = results["faces"][0]["mean_by_month_and_hour_w_m2"]
    figure = figures.sun_hours(results.findings, formats(results), words)
    assert figure.title.startswith("East and South get equally strong sun")
    results = make(level=0.0)
    assert figures.sun_hours(results.findings, formats(results), words).title == "No sun reaches these faces"


def test_light_and_heat_of_the_main_glazing(make: Made, formats: Writer, words: Words) -> None:
    """Values are those of the main glazing, not of another with a larger area."""
    results = make(films=1, panes=4)
    results["panes"][0] |= {"glazing": "G2", "film": None, "quantity": 50}
    results["glazings"] += [{"id": "G2", "film": None, "shgc": 0.1, "t_visible": 0.2}]
    figure = figures.light_and_heat(results.findings, formats(results), words)
    assert "42% of the light and 33% of the sun's heat; bare glass 89% and 82%" in figure.title
    assert figure.plotly is not None
    points = [(trace["x"][0], trace["y"][0]) for trace in figure.plotly["data"] if trace["mode"] == "markers"]
    assert points == [(g["t_visible"], g["shgc"]) for g in results["glazings"][:2]]


def test_light_and_heat_draws_the_limits(make: Made, formats: Writer, words: Words) -> None:
    """A line for each limit of what film can do, through the values found."""
    results = make()
    figure = figures.light_and_heat(results.findings, formats(results), words)
    assert figure.plotly is not None
    lines = [trace for trace in figure.plotly["data"] if trace["mode"] == "lines"]
    limits = [results["claim_limits"][key] for key in ("any", "neutral", "flat")]
    assert [line["y"] for line in lines] == limits


def test_same_film_on_some_panes_has_its_own_name(make: Made, formats: Writer, words: Words) -> None:
    """A choice that puts a compared film on fewer panes is told apart from the film everywhere."""
    results = make(films=1)
    option = dict(results["options"][1], id="chosen", peak_solar_w=1900.0)
    results["options"][1]["chosen"] = False
    results["options"].append(option)
    results["bad_day"]["watts"]["chosen"] = [0.95 * value for value in results["bad_day"]["watts"]["nothing"]]
    figure = figures.bad_day(results.findings, formats(results), words)
    assert figure.title == "Invented grey, on some panes cuts the 09:30 peak of sun heat by 5%"


def test_elevation_numbers_are_gain_per_area(make: Made, formats: Writer, words: Words) -> None:
    """The number in a pane is its watts over the area of all panes alike."""
    results = make(panes=1, faces=1, quantity=3)
    pane = results["panes"][0]
    expected = pane["peak_solar_w"] / (3 * 0.42 * 0.7)
    figure = figures.elevation(results.findings, formats(results), words)[0]
    assert f"{expected:.0f}\u00a0W/m²" in figure.title
    texts = [
        node.text for node in ElementTree.fromstring(figure.svg).iter("{http://www.w3.org/2000/svg}text")
    ]
    assert texts.count(f"{expected:.0f}") == 3
    assert [texts.count(f"P0.{number}") for number in (1, 2, 3)] == [1, 1, 1]


def test_elevation_is_to_scale(make: Made, formats: Writer, words: Words) -> None:
    """Two panes on paper have the ratio of their sides."""
    results = make(panes=2, faces=1)
    results["panes"][0] |= {"width_mm": 600, "height_mm": 1200, "area_m2": 0.72}
    results["panes"][1] |= {"width_mm": 1500, "height_mm": 800, "area_m2": 1.2}
    svg = figures.elevation(results.findings, formats(results), words)[0].svg
    boxes = []
    for path in re.findall(r'<path d="([^"]+)" style="fill: #(?!ffffff)[0-9a-f]{6}; stroke', svg):
        numbers = [float(part) for part in re.findall(r"-?[\d.]+", path)]
        xs, ys = numbers[::2], numbers[1::2]
        boxes.append((max(xs) - min(xs), max(ys) - min(ys)))
    (wide, high), (wide2, high2) = boxes[:2]
    assert wide / high == pytest.approx(0.5, rel=1e-3)
    assert wide2 / wide == pytest.approx(2.5, rel=1e-3)
    assert high2 / high == pytest.approx(800 / 1200, rel=1e-3)


def test_roll_layout_draws_every_piece_once(make: Made, formats: Writer, words: Words) -> None:
    """All pieces are on the sheets, at most forty a sheet, and each is named in the alternative."""
    results = make(panes=3, quantity=30)
    made = figures.roll_layout(results.findings, formats(results), words)
    placed = [p for strip in results["cutting"]["rolls"][0]["strips"] for p in strip["pieces"]]
    assert len(placed) == 90
    counts = [int(re.search(r"(\d+) pieces", figure.title).group(1)) for figure in made]  # type: ignore[union-attr]  # the title of a sheet has it
    assert sum(counts) == 90
    assert max(counts) <= 40
    told = " ".join(figure.alt for figure in made)
    assert sum(told.count(f"P{number} ") for number in range(3)) == 90
    assert told.count("turned") == 30


def test_roll_layout_states_pull_and_waste(make: Made, formats: Writer, words: Words) -> None:
    """The title of a single sheet holds pieces, length pulled and waste of the plan."""
    results = make(panes=4, faces=1)
    plan = results["cutting"]
    used = sum(strip["length_mm"] for strip in plan["rolls"][0]["strips"]) / 1000
    title = figures.roll_layout(results.findings, formats(results), words)[0].title
    assert title.startswith(f"4 pieces from one roll: {used:.1f}\u00a0m pulled, {plan['waste_fraction']:.0%}")
    results["cutting"] = None
    assert figures.roll_layout(results.findings, formats(results), words) == []


@pytest.mark.parametrize(
    ("read", "said"),
    [
        (
            ("as_computed", 0.41, 0.40, False),
            "came 41% of the light behind bare glass, as computed (39% to 41%)",
        ),
        (
            ("more", 0.93, 0.40, False),
            "came 93% of the light behind bare glass, more than the 39% to 41% computed",
        ),
        (("less", 0.2, 0.62, True), "came 20% of the light in the open, less than the 61% to 63% computed"),
        (
            ("as_computed", 0.004, 0.0041, True),
            "came 0.4% of the ultraviolet in the open, as computed (0.4%)",
        ),
        (
            ("cannot_tell", 0.99, 0.985, False),
            "passes 97% to 100% of the light behind bare glass, as computed",
        ),
    ],
)
def test_readings_state_what_they_say(
    make: Made, formats: Writer, words: Words, read: Any, said: str
) -> None:
    """The title carries the shares read and computed and the verdict; what cannot be told is not told."""
    results = make(films=1, shares=(0.4,), read=read)
    (figure,) = figures.readings(results.findings, formats(results), words)
    assert said in _loose(figure.title)
    assert ("annot tell" in figure.title) == (read[0] == "cannot_tell")


def test_readings_lie_on_their_lines(make: Made, formats: Writer, words: Words) -> None:
    """In the interactive picture each point's ratio is the reading's, and the line runs at their mean."""
    results = make(films=1, shares=(0.4,))
    one = results["readings"]["compared"][0]
    (figure,) = figures.readings(results.findings, formats(results), words)
    assert figure.plotly is not None
    alike, *_, line, points = figure.plotly["data"]
    assert alike["x"] == alike["y"] and alike["line"]["dash"] == "dash"  # the caption names it
    assert line["y"][1] / line["x"][1] == pytest.approx(one["share"]["middle"])
    ratios = [y / x for x, y in zip(points["x"], points["y"], strict=True)]
    assert ratios == pytest.approx([pair["share"] for pair in one["pairs"]])


def test_without_readings_there_is_no_picture(make: Made, formats: Writer, words: Words) -> None:
    """Before the work nothing was read."""
    results = make(read=None)
    assert figures.readings(results.findings, formats(results), words) == []
