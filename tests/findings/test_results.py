"""results.json: its schema, its sums, and what it withholds."""

import json
from decimal import Decimal

import jsonschema
import pytest
from pydantic import ValidationError

from reportkit.findings.findings import Results, StoredFindings, results_schema

DEMOS = ["corner-shop", "harbour-house", "hill-studio"]


@pytest.mark.parametrize("name", DEMOS)
def test_results_follow_their_schema(results_of, name):
    """Every section of every demo job fits the shipped JSON Schema, and is JSON without NaN."""
    results = json.loads(json.dumps(results_of(name), allow_nan=False))
    schema = results_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.Draft202012Validator(schema).validate(results)
    assert set(results) == set(schema["properties"])
    assert set(results) == set(schema["required"])  # none of them may be left out


@pytest.mark.parametrize("name", DEMOS)
def test_results_read_back_are_the_same_findings(study_of, results_of, name):
    """Every section of results.json becomes records again, and those give the same data to the last digit."""
    stored = json.loads(json.dumps(results_of(name)))
    findings = StoredFindings(study_of(name).job, stored)
    assert findings.options[0].peak_solar_w == stored["options"][0]["peak_solar_w"]
    assert dict(Results(findings)) == stored


def test_what_is_read_back_must_fit_its_record(study_of, results_of):
    """A share over 1 in a file is refused when its section is asked for."""
    stored = json.loads(json.dumps(results_of("corner-shop")))
    stored["glazings"][0]["shgc"] = 1.7
    findings = StoredFindings(study_of("corner-shop").job, stored)
    assert findings.panes
    with pytest.raises(ValidationError, match="shgc"):
        _ = findings.glazings


def test_the_schema_can_refuse(results_of):
    """The schema is not empty: a share over 1 and a missing section are refused."""
    results = json.loads(json.dumps(results_of("corner-shop")))
    results["glazings"][0]["shgc"] = 1.7
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(results, results_schema())
    results = json.loads(json.dumps(results_of("corner-shop")))
    del results["price"]
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(results, results_schema())


def test_every_field_has_its_meaning():
    """Each field of each record says in the schema what it means, and a length, power or share its unit."""
    schema = results_schema()
    for name, record in schema["$defs"].items():
        for key, field in record.get("properties", {}).items():
            if not name.endswith("Limits"):  # the client's limits are fields of the job, told in its guide
                assert field.get("description", field.get("$ref")), f"{name}.{key}"
    shgc = schema["$defs"]["Rated"]["properties"]["shgc"]
    assert "[1]" in shgc["description"] and shgc["maximum"] == 1


def test_no_verdict_says_install_it(results_of):
    """In this trade "fit" means "install it": a clean screen says that nothing was found, and no more."""
    results = json.loads(json.dumps(results_of("corner-shop")))
    words = {entry["verdict"] for entry in results["screens"]}
    assert words <= {"nothing_found", "ask", "refuse"}
    results["screens"][0]["verdict"] = "fit"
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(results, results_schema())


@pytest.mark.parametrize("name", ["corner-shop", "harbour-house"])
def test_energies_agree_with_each_other(results_of, name):
    """Months sum to the year, summer and winter too, and what is kept out is the difference."""
    results = results_of(name)
    nothing = results["options"][0]
    assert len(results["options"]) > 2
    for entry in results["options"]:
        assert sum(entry["monthly_solar_kwh"]) == pytest.approx(entry["annual_solar_kwh"])
        halves = entry["summer_solar_kwh"] + entry["winter_solar_kwh"]
        assert halves == pytest.approx(entry["annual_solar_kwh"])
        kept = entry["summer_kept_out_kwh"] + entry["winter_kept_out_kwh"]
        assert kept == pytest.approx(nothing["annual_solar_kwh"] - entry["annual_solar_kwh"], abs=1e-4)
        warm_cold = entry["kept_out_warm_kwh"] + entry["kept_out_cold_kwh"]
        assert warm_cold == pytest.approx(kept, abs=1e-4)


def test_the_cold_coast_shows_that_film_does_not_pay_in_energy(results_of):
    """Where it is cold all year nearly all the sun kept out would have helped to heat."""
    films = [entry for entry in results_of("harbour-house")["options"] if entry["kind"] == "film"]
    assert films
    for entry in films:
        assert entry["kept_out_cold_kwh"] > 10 * entry["kept_out_warm_kwh"]


def test_without_a_year_every_yearly_number_is_withheld_with_its_reason(results_of):
    """No weather file: null, and the reason beside it."""
    results = results_of("hill-studio")
    assert results["faces"] and results["options"] and results["panes"]
    for face in results["faces"]:
        assert face["annual_kwh_m2"] is None
        assert face["withheld"]["annual_kwh_m2"] == "clear_days"
    for entry in results["options"]:
        yearly = [key for key in entry if key.endswith("_kwh")]
        assert yearly
        for key in yearly:
            assert entry[key] is None
            assert entry["withheld"][key] == "clear_days"
    for pane in results["panes"]:
        assert pane["annual_solar_kwh"] is None


@pytest.mark.parametrize("name", DEMOS)
def test_the_price_adds_up_as_printed(results_of, name):
    """Lines sum to the net or total, net and tax to the total, deposit and balance too."""
    price = results_of(name)["price"]
    lines = sum(Decimal(line["amount"]) for line in price["lines"])
    assert lines == Decimal(price["total"] if price["tax_included"] else price["net"])
    assert Decimal(price["net"]) + Decimal(price["tax"]) == Decimal(price["total"])
    assert Decimal(price["deposit"]) + Decimal(price["balance"]) == Decimal(price["total"])


@pytest.mark.parametrize("name", DEMOS)
def test_peaks_of_panes_sum_to_the_option(results_of, name):
    """The panes complained of sum to the option's watts at the worst hour, bare and chosen."""
    results = results_of(name)
    room = results["bad_day"]["room"]
    panes = [p for p in results["panes"] if room is None or p["room"] == room]
    chosen = next(e for e in results["options"] if e["chosen"])
    assert sum(p["peak_solar_w"] for p in panes) == pytest.approx(results["options"][0]["peak_solar_w"])
    assert sum(p["peak_solar_filmed_w"] for p in panes) == pytest.approx(chosen["peak_solar_w"])
    at = results["bad_day"]["hours"].index(results["bad_day"]["time"])
    for entry in results["options"]:
        assert results["bad_day"]["watts"][entry["id"]][at] == pytest.approx(entry["peak_solar_w"])


@pytest.mark.parametrize("name", DEMOS)
def test_every_filmed_pane_is_cut_and_no_other(results_of, name):
    """Pieces, panes and plan name the same panes, as often as there are panes."""
    results = results_of(name)
    filmed = {p["id"]: p["quantity"] for p in results["panes"] if p["film"]}
    assert {p["pane"] for p in results["pieces"]} == set(filmed)
    placed = [
        piece for roll in results["cutting"]["rolls"] for strip in roll["strips"] for piece in strip["pieces"]
    ]
    for name_, quantity in filmed.items():
        parts = [p for p in placed if p["pane"] == name_ and p["seam"] is None]
        seams = [p for p in placed if p["pane"] == name_ and p["seam"]]
        whole = len(parts) + sum(1 for p in seams if p["seam"]["part"] == 1)
        assert whole == quantity, name_
