# ruff: noqa: E501 -- one case a line reads as a table
"""Degrees with letters, money with signs and units, points on one line, choices in Spanish, as people type them."""

import openpyxl
import pytest
from small_job import JOB, SURVEY, written

from reportkit.base.errors import JobError
from reportkit.job import load_job
from reportkit.job.reading.signs import Writer
from reportkit.job.writing.convert import convert

US = {"units": "us", "currency": "USD", "locale": "en_US"}


def faults(folder):
    """Return the faults of a job, by field."""
    with pytest.raises(JobError) as caught:
        load_job(folder)
    return {fault.field: fault for fault in caught.value.faults}


def site(**place):
    """Return a site with its own place, and a clock and height that need no map."""
    return {"site": {"elevation_m": "50", "clock": "Etc/GMT", **place}}


@pytest.mark.parametrize(
    ("latitude", "longitude", "north", "east"),
    [("41.65 N", "84.31 W", 41.65, -84.31), ("41,65 N", "0,88 O", 41.65, -0.88), ("33.9° S", "E 18.4", -33.9, 18.4),
     ("41.65 norte", "0.88 oeste", 41.65, -0.88), ("-33.9", "+18.4", -33.9, 18.4)],
)  # fmt: skip
def test_a_letter_tells_the_sign_of_a_degree(tmp_path, latitude, longitude, north, east):
    """South and west are negative (ISO 6709, from memory)."""
    loaded = load_job(written(tmp_path, site(latitude=latitude, longitude=longitude)))
    assert (loaded.latitude, loaded.longitude) == (north, east)
    assert (loaded.job.site.latitude, loaded.job.site.longitude) == (north, east)


@pytest.mark.parametrize(
    ("place", "field"),
    [({"latitude": "41.65 W", "longitude": "0.88"}, "site.latitude"),
     ({"latitude": "41.65", "longitude": "0.88 N"}, "site.longitude"),
     ({"latitude": "41.65", "longitude": "-0.88 W"}, "site.longitude"),
     ({"latitude": "98 N", "longitude": "-0.88"}, "site.latitude")],
)  # fmt: skip
def test_a_letter_of_the_other_axis_or_a_second_sign_is_a_fault(tmp_path, place, field):
    """West is no latitude, and minus west may be either."""
    assert set(faults(written(tmp_path, site(**place)))) == {field}


def test_an_o_is_the_east_where_german_is_written(tmp_path):
    """``O`` is Oeste in Spanish and Ost in German: there it is named, and not guessed."""
    place = site(latitude="41.65 N", longitude="0,88 O")
    fault = faults(written(tmp_path, place, {"locale": "de_DE"}))["site.longitude"]
    assert (fault.found, "E or W" in fault.rule) == ("0,88 O", True)


@pytest.mark.parametrize(
    ("typed", "told"),
    [("$412", "412"), ("412 USD", "412"), ("US$ 412.50", "412.50"), ("412.-", "412"), ("$.50", ".50")],
)
def test_an_amount_with_its_sign(tmp_path, typed, told):
    """The sign is that of the job's currency (Unicode CLDR)."""
    plain = load_job(written(tmp_path, US, {"prices": {"travel": told}})).job
    assert load_job(written(tmp_path, US, {"prices": {"travel": typed}})).job == plain


def test_a_rate_with_its_unit(tmp_path):
    """Each unit is that of its field; a decimal comma is a point."""
    gas = {"id": "gas", "unit": "therm", "rate": "1.20 €/therm"}
    energy = {"electricity": {"rate": "0,21 €/kWh", "fixed_per_month": "5 €/mes"}, "fuels": [gas]}
    prices = {"labour_per_hour": "58/hr", "travel": "310 €", "minimum_charge": "265.-", "call_out": "EUR 32"}
    job = load_job(written(tmp_path, {"energy": energy, "prices": prices})).job
    numbers = (job.prices.labour_per_hour, job.prices.travel, job.prices.minimum_charge, job.prices.call_out)
    assert [str(number) for number in numbers] == ["58", "310", "265", "32"]
    assert str(job.energy.electricity.rate) == "0.21"
    assert (str(job.energy.electricity.fixed_per_month), str(job.energy.fuels[0].rate)) == ("5", "1.20")


@pytest.mark.parametrize("typed", ["£30", "30 USD", "30 €/m2", "30 €/h", "30 €/person", "-30 €"])
def test_another_sign_or_unit_is_a_fault(tmp_path, typed):
    """Thirty pounds are not thirty euros, and a way of thirty euros has no hours."""
    assert set(faults(written(tmp_path, {"prices": {"travel": typed}}))) == {"prices.travel"}


def test_thousands_with_a_sign_still_have_two_readings(tmp_path):
    """``1,200 €`` is told both ways, like ``1,200``."""
    assert "1200 or 1.2" in faults(written(tmp_path, {"prices": {"travel": "1,200 €"}}))["prices.travel"].hint


def test_signs_of_a_currency():
    """A dollar that English calls another's is plain at home (Unicode CLDR)."""
    assert {"$", "mxn"} <= Writer("MXN", "es_MX").signs
    assert "$" not in Writer("EUR", "es_ES").signs
    assert Writer("XQX", "es_ES").signs == Writer(None, "en").signs == frozenset()
    assert "€" in Writer("EUR", "no_such_locale").signs


@pytest.mark.parametrize(
    "typed",
    ["41.00000,12.00000; 41.00108,12.00000", "41.00000, 12.00000 ; 41.00108, 12.00000",
     "41.00000 12.00000;41.00108 12.00000", "41,00000 12,00000; 41,00108 12,00000",
     "41.00000 N, 12.00000 E; 41.00108 N, 12.00000 E"],
)  # fmt: skip
def test_two_points_on_one_line(tmp_path, typed):
    """Walking north, east is to the right."""
    face = {"id": "west", "street": {"points": typed, "side": "derecha"}}
    assert load_job(written(tmp_path, {"faces": [face]})).job.faces[0].bearing == 90.0


@pytest.mark.parametrize("typed", ["41.00000", "here; there", "41 12 3; 41 12 4", ["41.00000", "12.00000"]])
def test_points_that_are_none_are_shown_an_example(tmp_path, typed):
    """Whatever was typed, the mend is two points."""
    face = {"id": "west", "street": {"points": typed, "side": "left"}}
    found = faults(written(tmp_path, {"faces": [face]}))
    assert all(
        "points: [[51.50110, -0.12310], [51.50180, -0.12290]]" in fault.hint for fault in found.values()
    )


def test_the_same_in_a_workbook(tmp_path):
    """The cells of a workbook are read as the lines of the text are."""
    points = [["41.00000", "12.00000"], ["41.00108", "12.00000"]]
    face = {"id": "west", "street": {"points": points, "side": "right"}}
    folder = written(tmp_path, {"faces": [face]})
    plain = load_job(folder).job
    convert(folder)
    path = folder / "job.xlsx"
    book = openpyxl.load_workbook(path)
    typed = {"site.latitude": "41 N", "travel": "30 €", "labour_per_hour": "40 €/h", "complaint.kinds": "calor",
             "street.points": "41.00000,12.00000; 41.00108,12.00000", "street.side": "derecha"}  # fmt: skip
    for sheet in book:
        for row in sheet.iter_rows(max_col=4):
            if row[0].value in typed:
                row[3].value = typed.pop(row[0].value)
    assert typed == {}
    book.save(path)
    assert load_job(folder).job == plain


def test_choices_in_spanish(tmp_path):
    """A Spanish word of the survey, the complaint and a film says what the English one says."""
    kinds = ["deslumbramiento", "decoloración", "privacidad", "facturas", "calor"]
    survey = SURVEY.replace("metal,tower", "PVC,andamio").replace("metal,floor", "madera,suelo")
    film = {"films": [{**JOB["films"][0], "tint": "Gris", "side": "interior"}]}
    job = load_job(written(tmp_path, film, {"complaint": {"kinds": kinds}}, survey=survey)).job
    assert job.complaint.kinds == ("glare", "fading", "privacy", "bills", "heat")
    assert (job.films[0].tint, job.films[0].side) == ("grey", "inside")
    assert {(pane.frame, pane.access) for pane in job.panes} == {("plastic", "tower"), ("timber", "floor")}


def test_vinyl_is_a_plastic_frame(tmp_path):
    """Frames of vinyl are of PVC."""
    job = load_job(written(tmp_path, survey=SURVEY.replace("metal", "Vinyl"))).job
    assert {pane.frame for pane in job.panes} == {"plastic"}


@pytest.mark.parametrize("filling", [" ", ".", "1 ", "€", "°", ";"])
def test_a_text_without_end_is_a_fault_at_once(tmp_path, filling):
    """A hundred thousand signs are no number: the text is refused, and not looked through in every way."""
    endless = f"1{filling * 100_000}x1"
    face = {"id": "west", "street": {"points": f"{endless}; {endless}", "side": "left"}}
    job = {"faces": [face], "prices": {"travel": endless}, **site(latitude=endless, longitude="12")}
    assert {"faces.west.street.points", "prices.travel", "site.latitude"} <= set(
        faults(written(tmp_path, job))
    )


def test_a_sign_that_json_writes_in_two_halves_is_one(tmp_path):
    """RFC 8259, section 7: G clef is written \\uD834\\uDD1E; the title has the one sign."""
    folder = written(tmp_path, {"title": "clef \U0001d11e"})
    assert "\\ud834\\udd1e" in (folder / "job.yaml").read_text("utf-8")
    assert load_job(folder).job.title == "clef \U0001d11e"
