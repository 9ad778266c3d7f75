"""What glare, privacy and the screen take as given is listed where it is used and was not typed."""

from dataclasses import replace

import pytest
from small_job import written

from reportkit.documents.sections.basis import assumptions
from reportkit.job.model import Normals, WeatherChoice
from reportkit.study import Study, assumed

#: Monthly means of an invented mild place.
MEANS = Normals(
    mean_c=(4, 5, 7, 10, 13, 16, 18, 18, 15, 11, 7, 5),
    daily_range_k=(5, 6, 7, 8, 9, 9, 9, 9, 8, 7, 6, 5),
    sun_kwh_m2_day=(0.7, 1.3, 2.4, 3.8, 4.9, 5.2, 5.0, 4.2, 3.0, 1.7, 0.9, 0.6),
    source="Invented almanac",
)


@pytest.fixture
def shop(study_of):
    """Return a function from changes of the corner shop's job to the study of the changed one."""
    base = study_of("corner-shop")

    def made(kinds, **changes):
        asked = base.job.complaint.model_copy(update={"kinds": kinds})
        job = base.job.model_copy(update={"complaint": asked} | changes)
        return Study(replace(base.loaded, job=job))

    return made


#: What every screen with film takes, where one pane is patterned.
SCREENED = {
    "screen.rebate": "30 W/m²K, and from 15 W/m²K to 60 W/m²K",
    "screen.near": "80% of the limit",
    "screen.rolled": "50% of the limit",
}
#: Its clear glass has an SHGC over .85, and a blind is compared.
SHADED = {"shades.method": "0.15 to 0.85"}
REBATE = "heat from the edge of the glass to its frame"


def fields(entries):
    """Return the values listed, by their fields."""
    return {entry.field: entry.value for entry in entries}


def test_the_air_of_the_screens_clear_days_is_listed_where_it_is_used(shop):
    """Under monthly means and under clear days the screen has no air of its own; a typical year has."""
    air = {"screen.winter": "-5 °C", "screen.equinox": "8 °C", "screen.summer": "32 °C"}
    for weather in (WeatherChoice(use="normals", normals=MEANS), WeatherChoice(use="clear_days")):
        study = shop(("heat",), weather=weather)
        wind = {"rooms.wind": "4 m/s"} if weather.use == "normals" else {}  # clear days have no rooms
        assert fields(assumed.fixed(study)) == SCREENED | SHADED | air | wind
        days = [case.day for case in study.screens["E1", "dyed-grey-35"].cases]
        if study.weather.kind == "clear_sky":
            assert [f"{day.t_out:.0f} °C" for day in days] == list(air.values())
    assert fields(assumed.fixed(shop(("heat",)))) == SCREENED | SHADED


def test_the_sill_is_listed_for_the_panes_that_have_none(shop):
    """By name, for glare only, and only among the panes complained of."""
    bare = tuple(
        pane.model_copy(update={"sill": None if pane.id in ("E1", "E2", "B1") else pane.sill or 900})
        for pane in shop(("glare",)).job.panes
    )
    found = {entry.field: entry for entry in assumed.left_open(shop(("glare",), panes=bare))}
    assert found["panes.sill"].value == "0.9 m"
    named = [pane.id for pane in bare if pane.sill is None and pane.room == "shop"]
    assert named and found["panes.sill"].why == f"not given for {', '.join(named)}"
    assert "panes.sill" not in fields(assumed.left_open(shop(("privacy", "fading"), panes=bare)))


def test_hours_are_listed_for_a_room_that_is_not_described(shop):
    """A home's hours stand in for those of the room complained of, for glare and privacy."""
    job = shop(("glare",)).job
    rooms = tuple(room.model_copy(update={"heat": None}) for room in job.rooms)
    for kinds, listed in ((("glare",), True), (("privacy",), True), (("heat", "fading"), False)):
        found = fields(assumed.left_open(shop(kinds, rooms=rooms)))
        assert (found.get("rooms.shop.heat.occupied_hours") == "7 to 23 h") == listed
        assert "rooms.living.heat.occupied_hours" not in found
    assert "rooms.shop.heat.occupied_hours" not in fields(assumed.left_open(shop(("glare",))))


@pytest.mark.parametrize(
    ("units", "language", "expected"),
    [
        (
            "metric",
            "en",
            {
                "air on a clear winter day": "−5 °C",
                "height of the eye": "1.2 m",
                REBATE: "30.00 W/m²·K, and from 15.00 W/m²·K to 60.00 W/m²·K",
            },
        ),
        # -5 x 1.8 + 32 and 1.2 / .3048; 1 Btu/h ft2 F is 5.678 W/m2K (NIST SP 811)
        (
            "us",
            "en",
            {
                "air on a clear winter day": "23 °F",
                "height of the eye": "4 ft",
                REBATE: "5.28 Btu/h·ft²·°F, and from 2.64 Btu/h·ft²·°F to 10.57 Btu/h·ft²·°F",
            },
        ),
        ("us", "es", {"aire en un día despejado de invierno": "23 °F", "altura del ojo": "4 ft"}),
    ],
)
def test_the_table_is_written_for_the_reader(study_of, page_of, units, language, expected):
    """Each row has a label, a value in the reader's unit, where it comes from and why."""
    page = page_of(
        study_of("hill-studio"), job={"units": units, "language": language, "locale": f"{language}_US"}
    )
    (table,) = (block for block in assumptions(page) if block.id == "taken")
    rows = [
        ["".join(run.text for run in cell).replace("\u00a0", " ") for cell in row.cells] for row in table.rows
    ]
    assert all(all(row) for row in rows)
    shown = {row[0]: row[1] for row in rows}
    assert expected.items() <= shown.items()
    assert len(rows) == 12  # three of privacy, three of glare, six of the screen: one pane is wired


@pytest.mark.parametrize(
    ("thickness", "kind", "listed"),
    [
        ("3", "inside_white_blind", "0.15 to 0.85"),
        ("10", "inside_white_blind", None),
        ("3", "awning", None),
        ("3", None, None),
    ],
)
def test_glass_beyond_the_method_of_shades_is_listed_where_a_shade_is_drawn(
    tmp_path, thickness, kind, listed
):
    """Clear 3 mm glass has .87, over the .85 of ISO 52022-1's simple method (from memory); thick glass less.

    An awning is geometry, and without a shade it is no matter.
    """
    glass = {"glazings": [{"id": "one", "lites": [{"thickness_mm": thickness}]}]}
    shades = {"shades": [{"kind": kind}] if kind else []}
    study = Study.open(written(tmp_path, glass, shades))
    assert fields(assumed.fixed(study)).get("shades.method") == listed
    (said,) = [entry.why for entry in assumed.fixed(study) if entry.field == "shades.method"] or [""]
    assert said.endswith("glass of A, B") == bool(listed)
