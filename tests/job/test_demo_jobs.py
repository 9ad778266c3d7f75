"""The demo jobs load, say that they are invented, and hold the cases they are there for."""

from fractions import Fraction
from pathlib import Path

import pytest

from reportkit.job import LoadedJob, load_job

JOBS = Path(__file__).parents[2] / "jobs"
NAMES = ["corner-shop", "harbour-house", "hill-studio"]


@pytest.fixture(scope="module")
def demo() -> dict[str, LoadedJob]:
    """Return the three demo jobs."""
    return {name: load_job(JOBS / name) for name in NAMES}


def test_every_file_says_it_is_invented() -> None:
    """The top of every file below jobs/ says so, and every film and job too."""
    files = [
        path for path in JOBS.rglob("*") if path.suffix in (".yaml", ".csv") and "runs" not in path.parts
    ]
    assert len(files) == 10
    for path in files:
        assert "invented" in path.read_text(encoding="utf-8").split("\n")[0].lower(), path


def test_jobs_and_films_are_marked(demo: dict[str, LoadedJob]) -> None:
    """Each job and each of its films carries the mark that the documents print."""
    assert len(demo) == 3
    for loaded in demo.values():
        assert loaded.job.invented and loaded.job.films
        assert all(film.invented and "Invented" in film.name for film in loaded.job.films)


def test_names_and_ground_are_plainly_invented(demo: dict[str, LoadedJob]) -> None:
    """Clients and streets say that they are made up, and the studio stands on whole degrees."""
    for loaded in demo.values():
        job = loaded.job
        assert job.client.name.split()[0] in ("Invented", "Example")
        assert all("Invented" in line for line in (*job.client.address, *job.business.address))
    studio = demo["hill-studio"]
    assert (studio.latitude, studio.longitude) == (-37, 175)


def test_corner_shop(demo: dict[str, LoadedJob]) -> None:
    """Inches and dollars; a pane wider than every roll, a tempered door, divided panes, a coated unit."""
    loaded = demo["corner-shop"]
    job = loaded.job
    assert (job.units, job.currency, job.paper, job.locale) == ("us", "USD", "letter", "en_US")
    widest = max(roll.width for film in job.films for roll in film.rolls)
    pane = {pane.id: pane for pane in job.panes}
    assert pane["S1"].width > widest and pane["S1"].height > widest
    assert pane["E2"].quantity == 24
    glazing = {glazing.id: glazing for glazing in job.glazings}
    assert glazing[pane["D1"].glazing].lites[0].strength == "tempered"
    assert glazing[pane["W1"].glazing].coating is not None
    assert glazing[pane["B1"].glazing].lites[0].strength == "patterned"
    assert sum(pane.view_group == "shopfront" for pane in job.panes) == 2
    assert len({film.film_class for film in job.films}) == 5
    # one door, three ways of writing 30 5/8 in
    assert set(pane["D1"].widths) == {Fraction(30625, 1000) * Fraction(254, 10)}


def test_harbour_house(demo: dict[str, LoadedJob]) -> None:
    """Millimetres, decimal commas, semicolons, euros, A4, and a business with letters beyond ASCII."""
    loaded = demo["harbour-house"]
    job = loaded.job
    assert (job.units, job.currency, job.paper) == ("metric", "EUR", "a4")
    assert not job.business.name.isascii()
    assert float(job.panes[0].widths[0]) == 1180.5
    assert loaded.latitude == pytest.approx(55.32)
    # the job's own rolls in euros stand in place of the shared ones in dollars
    assert all(roll.price_per_ft is None for film in job.films for roll in film.rolls)


def test_hill_studio(demo: dict[str, LoadedJob]) -> None:
    """South of the equator, no weather file, trees that lose their leaves in its winter, a sloped pane."""
    loaded = demo["hill-studio"]
    job = loaded.job
    assert loaded.latitude < 0
    assert job.weather.use == "clear_days"
    assert {horizon.id: horizon.leafless_months for horizon in job.horizons}["trees"] == (6, 7, 8)
    assert min(face.tilt for face in job.faces) == 30
    assert next(pane for pane in job.panes if pane.id == "W1").out_of_square


def test_films_are_physically_possible(demo: dict[str, LoadedJob]) -> None:
    """Shares add up, and the sheet's SHGC lies between what passes and what passes or is absorbed.

    An inside film on single glass lets about three tenths of what it absorbs into the room (an ordinary
    face; less with a low-emissivity one), so SHGC is near T + 0.3 A: common practice, checked to 0.03.
    """
    films = {film.id: film for loaded in demo.values() for film in loaded.job.films if film.rated.shgc}
    assert len(films) == 6
    for film in films.values():
        rated = film.rated
        outside = film.side == "outside"
        back = (
            rated.solar_reflectance_film_side_percent
            if outside
            else rated.solar_reflectance_glass_side_percent
        )
        assert back is not None and rated.shgc is not None and rated.tser_percent is not None
        passed, absorbed = rated.solar_transmittance_percent, 100 - rated.solar_transmittance_percent - back
        assert absorbed > 0
        inward = 0.2 if film.film_class == "low_emissivity" else 0.3
        assert rated.shgc == pytest.approx((passed + inward * absorbed) / 100, abs=0.03), film.id
        assert rated.tser_percent == pytest.approx(100 - 100 * rated.shgc, abs=1), film.id
