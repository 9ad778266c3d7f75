"""Which panes get which film is one list: page one, panes, price, cuts, screen and sheet agree."""

import re
from dataclasses import replace
from decimal import Decimal

import numpy as np
import pytest

from reportkit.documents.blocks import Table
from reportkit.documents.view import Report
from reportkit.findings.findings import Results
from reportkit.job.model import Choice, Normals, WeatherChoice
from reportkit.study import Study


def texts(part):
    """Return every piece of text in a part of a document, in order."""
    if isinstance(part, str):
        yield part
    elif isinstance(part, (list, tuple)):
        for inner in part:
            yield from texts(inner)
    elif hasattr(part, "__dataclass_fields__"):
        for name in part.__dataclass_fields__:
            if name != "words":
                yield from texts(getattr(part, name))


def said(report, name):
    """Return the text of a section."""
    return " ".join(texts(report.section(name).blocks)).replace("\u00a0", " ")


def tables(part):
    """Return every table in a part of a document."""
    if isinstance(part, Table):
        yield part
    elif isinstance(part, (list, tuple)):
        for inner in part:
            yield from tables(inner)
    elif hasattr(part, "__dataclass_fields__"):
        for name in part.__dataclass_fields__:
            yield from tables(getattr(part, name))


def agree(study):
    """Check that every place that lists filmed panes lists the same, and return them with their films."""
    report = Report(study)
    results = dict(Results(report.findings))
    filmed = {pane["id"]: pane["film"] for pane in results["panes"] if pane["film"]}
    (chosen,) = [entry for entry in results["options"] if entry["chosen"]]
    counts = {pane["id"]: pane["quantity"] for pane in results["panes"]}
    total = sum(counts[name] for name in filmed)
    assert chosen["panes_filmed"] == total
    assert set(chosen["films"]) == set(filmed.values())
    named = [int(number) for number in re.findall(r"on (\d+) panes?\b", said(report, "summary"))]
    assert named[:1] == ([total] if filmed else [])

    assert {piece["pane"] for piece in results["pieces"]} == set(filmed)
    cut = {
        (piece["pane"].removesuffix(" spare"), roll["film"])
        for roll in (results["cutting"] or {"rolls": []})["rolls"]
        for strip in roll["strips"]
        for piece in strip["pieces"]
    }
    assert cut == set(filmed.items())
    assert {one["pane"] for one in results["which_panes"]["panes"]} == set(filmed)
    priced = {line["id"].split(":")[1] for line in results["price"]["lines"] if line["group"] == "film"}
    assert priced <= set(filmed.values())
    assert {line["pane"] for line in results["labour"]["panes"]} == set(filmed)
    assert Decimal(chosen["cost"]) == Decimal(results["price"]["total"])
    verdicts = {(entry["pane"], entry["film"]): entry["verdict"] for entry in results["screens"]}
    assert all(verdicts[placed] != "refuse" for placed in filmed.items())
    for pane in results["panes"]:
        assert (pane["film"] is None) or pane["bare_because"] is None
        if pane["screen"] and pane["film"] is None:
            assert pane["bare_because"]
        # what film does shows in the year and at the worst hour alike
        changed = pane["peak_solar_filmed_w"] != pane["peak_solar_w"]
        assert changed == (pane["film"] is not None and pane["peak_solar_w"] > 0), pane["id"]
    slots = (results["schedule"] or {"slots": []})["slots"]
    assert {slot["pane"] for slot in slots} in (set(filmed), set())
    sheet = {
        text.replace("\u00a0", " ").split(" ")[0]
        for table in tables(report.section("work").blocks)
        for row in table.rows
        for text in texts(getattr(row, "cells", row))
    }
    assert sheet & set(counts) == set(filmed)
    return filmed


@pytest.mark.parametrize("name", ["corner-shop", "harbour-house", "hill-studio"])
def test_the_demos_agree(study_of, name):
    """Every place lists the panes that the demo's offer is for."""
    assert agree(study_of(name))


def means(sun, cold, warm):
    """Return monthly means of an invented place, sun in kWh/m2 a day."""
    wave = np.cos(2 * np.pi * (np.arange(12) - 6.5) / 12) / 2 + 0.5
    return Normals(
        mean_c=[round(float(value), 1) for value in cold + (warm - cold) * wave],
        daily_range_k=[8.0] * 12,
        sun_kwh_m2_day=[round(float(value), 2) for value in sun * (0.35 + 0.65 * wave)],
        source="invented",
    )


def under_means(study, **changes):
    """Return a demo's study under monthly means of a dull year, with other changes of its job."""
    choice = WeatherChoice(use="normals", normals=means(4.0, 4.0, 19.0))
    job = study.job.model_copy(update={"weather": choice, **changes})
    return Study(replace(study.loaded, job=job))


@pytest.mark.parametrize("name", ["corner-shop", "hill-studio"])
def test_under_monthly_means_the_peak_is_of_the_films_that_are_placed(study_of, name):
    """The clear sky's watts are those of the panes that the price and the year are for."""
    made = under_means(study_of(name))
    agree(made)
    assert made.films
    for film in made.films:
        option = next(entry for entry in made.film_options if entry.id == film)
        at = made.peak_gains(option).by_pane[made.bad_hour]
        bare = made.peak_gains(made.nothing).by_pane[made.bad_hour]
        for index, placed in enumerate(option.film_by_pane):
            assert (at[index] != bare[index]) == (placed is not None and bare[index] > 0)


def test_the_screen_under_monthly_means_has_the_sun_of_clear_days(study_of):
    """No pane passes under a year of means that clear days of the same place refuse."""
    study = study_of("corner-shop")
    made = under_means(study)
    clear = Study(
        replace(study.loaded, job=study.job.model_copy(update={"weather": WeatherChoice(use="clear_days")}))
    )
    order = ("nothing_found", "ask", "refuse")
    assert any(found.verdict != "refuse" for found in clear.screens.values())
    for key, found in clear.screens.items():
        assert order.index(made.screens[key].verdict) >= order.index(found.verdict), key


def test_a_seat_under_monthly_means_is_by_the_pane_that_lets_in_most(study_of):
    """The pane is picked by the clear sky's heat at the worst hour, not by another year's hour."""
    made = under_means(study_of("corner-shop"))
    index, _ = made.by_window
    bare = made.peak_gains(made.nothing).by_pane[made.bad_hour]
    assert bare[index] == bare[made.complained].max()


def test_a_choice_by_face_agrees(study_of):
    """A film on one face and another on the next: each where the offer has it."""
    study = study_of("corner-shop")
    first, second = list(study.films)[:2]
    faces = [face.id for face in study.job.faces]
    made = under_means(study, choice=Choice(faces={faces[0]: first, faces[-1]: second}))
    assert set(agree(made).values()) <= {first, second}


def test_a_budget_agrees(study_of):
    """A budget for part of the panes: the part is one list too."""
    study = study_of("corner-shop")
    limits = study.job.limits.model_copy(update={"budget": Decimal(1200)})
    made = Study(replace(study.loaded, job=study.job.model_copy(update={"limits": limits})))
    filmed = agree(made)
    assert 0 < len(filmed) < len(study.job.panes)
