"""The rooms over a year and the money, in the demo jobs' results."""

import numpy as np
import pytest

from reportkit.findings.findings import Results
from reportkit.findings.savings import years_to_pay
from reportkit.physics.room import likely
from reportkit.study import Study
from reportkit.study.presence import within


def by_id(records, identifier):
    """Return the record with an id."""
    return next(entry for entry in records if entry["id"] == identifier)


def ordered(spread):
    """Whether a range's ends are in order."""
    values = [float(spread[key]) for key in ("p10", "p50", "p90")]
    return values == sorted(values)


def test_the_warm_shop_saves_cooling_and_adds_heating_room_by_room(results_of):
    """Film on a room's panes lowers its cooling; only the shop is heated, and needs a little more."""
    results = results_of("corner-shop")
    for name in ("shop", "living"):
        room = by_id(results["rooms"], name)
        bare = by_id(room["options"], "nothing")
        filmed = {
            o["id"]
            for o in results["options"]
            if o["panes_filmed"] == by_id(results["options"], "selective-65")["panes_filmed"]
        }
        for entry in room["options"]:
            assert ordered(entry["cooling_kwh"])
            assert entry["cooling_kwh"]["p50"] <= bare["cooling_kwh"]["p50"]
            if entry["id"] in filmed:
                assert entry["cooling_kwh"]["p50"] < bare["cooling_kwh"]["p50"]
    shop = by_id(results["rooms"], "shop")
    bare = by_id(shop["options"], "nothing")
    assert by_id(shop["options"], "ceramic-grey-40")["heating_kwh"]["p50"] > bare["heating_kwh"]["p50"]
    living = by_id(results["rooms"], "living")["options"][0]
    assert living["heating_kwh"] is None
    assert living["withheld"]["heating_kwh"] == "no_heating"


def test_rooms_that_are_not_described_say_so(results_of):
    """No invented numbers: the back store has no options, with the reason."""
    store = by_id(results_of("corner-shop")["rooms"], "store")
    assert store["options"] == []
    assert store["withheld"]["options"] == "room_not_described"


def test_film_does_not_pay_on_the_cold_coast(results_of):
    """No film earns its price back there, and plain solar film raises the heating bill."""
    results = results_of("harbour-house")
    films = [entry for entry in results["options"] if entry["kind"] == "film"]
    assert films
    for entry in films:
        assert entry["verdict"] == "does_not_pay"
        assert float(entry["npv"]["p90"]) < 0
        assert entry["payback_years"] is None
        assert entry["withheld"]["payback_years"] == "not_within_years"
    assert float(by_id(films, "selective-65")["saving_per_year"]["p90"]) < 0
    assert by_id(films, "selective-65")["co2_kg"]["p90"] < 0


def test_without_weather_all_money_and_room_numbers_are_withheld(results_of):
    """Null with the reason beside it, for every option and room."""
    results = results_of("hill-studio")
    for entry in results["options"]:
        for key in ("cooling_kwh", "heating_kwh", "hot_hours", "saving_per_year", "npv", "payback_years"):
            assert entry[key] is None
            assert entry["withheld"][key] == "clear_days"
    assert all(room["options"] == [] for room in results["rooms"])


@pytest.mark.parametrize(
    ("never", "found"),
    [(0, (4.0, 5.0, 6.0)), (9, (4.0, 5.0, 6.0)), (10, (4.0, 5.0, None)), (49, (4.0, 5.0, None)), (50, None)],
)
def test_years_to_pay_end_where_one_of_ten_cases_never_pays(never, found):
    """Of 100 cases some never pay: the late end is open, and with half of them there is no range."""
    paid = sorted([4.0] * 20 + [5.0] * 45 + [6.0] * 35)[: 100 - never]
    made = years_to_pay(np.array(paid + [np.inf] * never))
    assert (made and (made.p10, made.p50, made.p90)) == found


@pytest.mark.parametrize("name", ["corner-shop", "harbour-house"])
def test_money_ranges_agree_with_each_other(results_of, name):
    """The band starts at minus the price; a saving whose low end is below zero never pays for sure."""
    told = [entry for entry in results_of(name)["options"] if entry["cash"] is not None]
    assert len(told) > 1
    for entry in told:
        assert float(entry["cash"][0]["p50"]) == pytest.approx(-float(entry["cost"]))
        assert len(entry["cash"]) == entry["years"] + 1
        assert all(ordered(year) for year in entry["cash"])
        assert ordered(entry["saving_per_year"])
        if float(entry["saving_per_year"]["p10"]) < 0:
            assert entry["verdict"] != "pays"
        if entry["drivers"]:
            shares = [driver["share"] for driver in entry["drivers"]]
            assert shares == sorted(shares, reverse=True)
            assert sum(shares) <= 1 + 1e-9


def test_the_energies_of_options_are_the_sums_of_the_rooms_samples(study_of, results_of):
    """An option's cooling is the sum over the cooled rooms, sample by sample, not a sum of percentiles."""
    study, results = study_of("corner-shop"), results_of("corner-shop")
    assert len(results["options"]) > 2 and study.room_years
    for index, entry in enumerate(results["options"]):
        total = sum(year.cooling[:, index].sum(axis=0) for year in study.room_years)
        assert entry["cooling_kwh"]["p10"] <= total.mean() <= entry["cooling_kwh"]["p90"]


def test_the_same_seed_gives_the_same_numbers(study_of):
    """A second study of the same job repeats every sample to 1e-9 of its value."""
    first = study_of("harbour-house")
    again = Study(first.loaded)
    assert first.room_years and first.room_years is not again.room_years
    for one, two in zip(first.room_years, again.room_years, strict=True):
        assert two.heating == pytest.approx(one.heating, rel=1e-9)
        assert likely(one.unknown).keys() == one.inputs.keys()


def test_clock_spans_go_past_midnight():
    """From 22 to 6 is the night; from 8 to 18 the day."""
    hours = np.arange(24)
    assert list(hours[within(hours, (22, 6))]) == [0, 1, 2, 3, 4, 5, 22, 23]
    assert list(hours[within(hours, (8, 18))]) == list(range(8, 18))


def test_by_the_window_film_cuts_the_sun_on_a_person(results_of):
    """Less solar transmittance, less sun on the person; a hotter pane for an absorbing film."""
    for name in ("corner-shop", "harbour-house", "hill-studio"):
        seats = results_of(name)["by_window"]["options"]
        bare = by_id(seats, "nothing")
        for entry in seats:
            assert entry["sun_on_person_k"] <= bare["sun_on_person_k"] + 1e-9
        assert min(entry["sun_on_person_k"] for entry in seats) < 0.9 * bare["sun_on_person_k"]


def test_a_low_emissivity_film_cools_the_inner_face_in_winter(study_of):
    """On single glass the film's face is colder on the coldest hour, and sweats at a lower humidity."""
    study = study_of("corner-shop")
    index, seats = study.by_window
    assert study.job.panes[index].glazing == "plate-6"
    entry = by_option(study, "low-e-60")
    assert entry.film_by_pane[index] == "low-e-60"
    assert seats["low-e-60"].cold_face_c < seats["nothing"].cold_face_c
    assert seats["low-e-60"].humidity_limit < seats["nothing"].humidity_limit


def by_option(study, identifier):
    """Return a study's option by its id."""
    return next(entry for entry in study.options if entry.id == identifier)


def test_a_glare_the_weather_does_not_tell_is_null(study_of, monkeypatch):
    """A seat without a probability of glare is found all the same, with null in its place."""
    study = Study(study_of("harbour-house").loaded)
    monkeypatch.setattr("reportkit.study.bywindow._glare", lambda *asked: float("nan"))
    seats = Results(study)["by_window"]["options"]
    assert seats and all(entry["dgp"] is None for entry in seats)
