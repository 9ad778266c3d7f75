"""Fields for claims, the maker's chart, what makes breakage likelier, must-haves, the budget and the rule."""

from decimal import Decimal
from pathlib import Path

import pytest

from reportkit.base.errors import JobError
from reportkit.job import load_job, write_starter


def edited(tmp_path: Path, *pairs: tuple[str, str], survey: tuple[str, str] | None = None) -> Path:
    """Return a starter job in metres with some of its text replaced."""
    write_starter(tmp_path, units="metric")
    for name, changes in (("job.yaml", pairs), ("windows.csv", [survey] if survey else [])):
        path = tmp_path / name
        text = path.read_text(encoding="utf-8")
        for old, new in changes:
            assert old in text, old
            text = text.replace(old, new, 1)
        path.write_text(text, encoding="utf-8")
    return tmp_path


def test_the_remarks_of_the_starter_are_fields(tmp_path: Path) -> None:
    """What the starter shows as remarks is read once the # is taken away."""
    job = load_job(
        edited(
            tmp_path,
            ("  # must_have: [uv, no_metal]", "  must_have: [uv, no_metal]"),
            ("  # budget: 1500", "  budget: 1500,50"),
            ("# recommend: most_relief", "recommend: best_value"),
            ("    # claims:", "    claims:"),
            ("    #   infrared_rejected_percent: 90", "      infrared_rejected_percent: 90"),
            ("    #   infrared_band_nm: [900, 1000]", "      infrared_band_nm: [900, 1000]"),
            ("    #   fading_reduced_percent: 60", "      fading_reduced_percent: 60"),
            ("    # chart:", "    chart:"),
            ("    #   max_absorptance_percent: 60", "      max_absorptance_percent: 60"),
            ("    #   max_area: 2.5 m2", "      max_area: 2.5 m2"),
            ("    #   laminated: no", "      laminated: no"),
        )
    ).job
    assert job.limits.must_have == ("uv", "no_metal")
    assert job.limits.budget == Decimal("1500.50")
    assert job.recommend == "best_value"
    film = job.films[0]
    assert (film.claims.infrared_rejected_percent, film.claims.infrared_band_nm) == (90, (900, 1000))
    assert (film.chart.max_absorptance_percent, film.chart.max_area, film.chart.laminated) == (60, 2.5, False)
    assert film.chart.tinted is None


def test_columns_of_the_survey(tmp_path: Path) -> None:
    """Edge, shadow, blind, heater, dark frame and fogged unit are columns with words of their own."""
    folder = edited(tmp_path)
    (folder / "windows.csv").write_text(
        "id,room,face,glazing,width,height,edge,shadow,blind,heater,dark_frame,fogged\n"
        "A,study,east,door,900,1200,damaged,moving,yes,yes,yes,yes\n"
        "B,study,east,door,900,1200,,,,,,\n",
        encoding="utf-8",
    )
    first, second = load_job(folder).job.panes
    assert (first.edge, first.shadow) == ("damaged", "moving")
    assert first.blind and first.heater and first.dark_frame and first.fogged
    assert (second.edge, second.shadow) == ("cut", "none")
    assert not (second.blind or second.heater or second.dark_frame or second.fogged)


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ("  # must_have: [uv, no_metal]", "  must_have: [shiny]", "must_have"),
        ("  # budget: 1500", "  budget: 1.500", "budget"),
        ("# recommend: most_relief", "recommend: best", "recommend"),
        ("    # claims:", "    claims: {infrared_band_nm: [1000, 900]}", "infrared_band_nm"),
        ("    # chart:", "    chart: {max_absorptance_percent: 140}", "max_absorptance_percent"),
        ("kinds: [glare, heat]", "kinds: []", "kinds"),
    ],
)
def test_slips_are_told_with_their_field(tmp_path: Path, old: str, new: str, field: str) -> None:
    """An unknown word, an amount of two readings, a band the wrong way round: one fault, naming the field."""
    with pytest.raises(JobError) as caught:
        load_job(edited(tmp_path, (old, new)))
    assert [field in fault.field for fault in caught.value.faults] == [True]


def test_a_sheet_may_leave_solar_values_out(tmp_path: Path) -> None:
    """Only VT must be there: the rest of the sheet may have gaps."""
    job = load_job(
        edited(
            tmp_path,
            ("      solar_transmittance_percent: 34\n", ""),
            ("      solar_reflectance_glass_side_percent: 9 ", "      # "),
            ("      visible_reflectance_glass_side_percent: 8\n", ""),
            ("      uv_transmittance_percent: 1\n", ""),
        )
    ).job
    rated = job.films[0].rated
    assert rated.solar_transmittance_percent is None
    assert rated.uv_transmittance_percent is None
    assert rated.visible_transmittance_percent == 40
