"""Measured spectra from a job's files to its findings and pages, beside the three bands of the same files."""

import shutil
from pathlib import Path

import pytest

from reportkit.base.errors import JobError
from reportkit.documents.view import Report
from reportkit.findings.findings import Findings
from reportkit.findings.glass import Rated
from reportkit.study import Study

JOBS = Path(__file__).parents[2] / "jobs"
POINTS = (*range(300, 800, 10), *range(800, 2501, 50))
FILM = "  - id: ceramic-grey-40\n"


def table(head, light, heat):
    """An invented spectrum that changes at 700 nm, the edge of two bands [%]."""
    at = [(nm, light if nm <= 700 else heat) for nm in POINTS]
    at += [(700.001, heat)]
    return "\n".join([head, *(";".join(f"{x:.7g}" for x in (nm, *row)) for nm, row in sorted(at))])


@pytest.fixture
def job(tmp_path):
    """A metric demo job."""
    for name in ("_shared", "hill-studio"):
        shutil.copytree(JOBS / name, tmp_path / name, ignore=shutil.ignore_patterns("runs"))
    return tmp_path / "hill-studio"


def give(job, spectrum):
    """Write a spectrum below a film of the job."""
    text = (job / "job.yaml").read_text("utf-8")
    (job / "job.yaml").write_text(text.replace(FILM, f"{FILM}    spectrum: {{{spectrum}}}\n"), "utf-8")


def glazing(job, fields):
    """Put a glazing of the job's own in place of the shared one."""
    with (job / "job.yaml").open("a", encoding="utf-8") as file:
        file.write(f"\nglazings:\n  - {{id: unit-clear, {fields}}}\n")


def rated(study, film):
    """The ratings of a film by glazing."""
    return {one.id: one for one in Findings(study).glazings if isinstance(one, Rated) and one.film == film}


def test_a_job_without_files_has_none(study_of):
    """Nothing is measured, nothing is said."""
    found = Findings(study_of("hill-studio")).spectra
    assert found.files == found.glazings == ()
    blocks = Report(study_of("hill-studio")).section("claims").blocks
    assert not [block for block in blocks if str(getattr(block, "id", "")).startswith("measured")]


def test_a_film_that_is_flat_in_each_band_has_the_numbers_of_its_bands(job, study_of):
    """Its file says in each band what the shared sheet prints: the ratings are those of the sheet (a limit).

    34 % of the sun and 40 % of the light: the near infrared that follows is
    (.34 - .433 x .40 - .046 x .01)/.5205 (the shares of ASTM G173); the reflectances alike.
    """
    infrared = [
        100 * (solar - 0.43305 * light - 0.04645 * uv) / 0.52050
        for solar, light, uv in ((0.34, 0.40, 0.01), (0.09, 0.08, 0.08), (0.09, 0.08, 0.08))
    ]
    text = table("nm;T %;R_glass %;R_film %", (40, 8, 8), infrared).splitlines()
    text = [f"{row.split(';')[0]};1;8;8" if row[:3].isdigit() and float(row.split(";")[0]) < 400 else row
            for row in text]  # fmt: skip
    text.insert(next(n for n, row in enumerate(text) if row.startswith("400;")), "399.999;1;8;8")
    (job / "film.csv").write_text("\n".join(text))
    give(job, "file: film.csv")
    study = Study.open(job)
    fine, sheet = rated(study, "ceramic-grey-40"), rated(study_of("hill-studio"), "ceramic-grey-40")
    assert fine
    for name, one in fine.items():
        assert one.t_solar == pytest.approx(sheet[name].t_solar, abs=1e-3)
        assert one.shgc == pytest.approx(sheet[name].shgc, abs=2e-3)
        assert one.t_visible == pytest.approx(sheet[name].t_visible, abs=3e-3)  # the eye sees past 700 nm
        assert one.u_w_m2k == pytest.approx(sheet[name].u_w_m2k)
    found = Findings(study).spectra
    assert [(one.film, one.file) for one in found.files] == [("ceramic-grey-40", "film.csv")]
    assert found.files[0].values.t_solar == pytest.approx(0.34, abs=1e-3)
    assert found.files[0].printed["t_solar"] == 0.34
    for one in found.glazings:
        assert one.three_bands.shgc == pytest.approx(one.by_wavelength.shgc, abs=2e-3)


def test_a_file_that_is_not_the_sheets_is_told_in_strong_letters(job):
    """The file is computed with, the sheet's values stand beside it, and the page says they are apart."""
    (job / "film.csv").write_text(table("nm;T %;R_glass %;R_film %", (60, 10, 9), (15, 10, 38)))
    give(job, "file: film.csv")
    study = Study.open(job)
    assert all(0.5 < one.t_visible < 0.6 for one in rated(study, "ceramic-grey-40").values())
    page = {block.id: block for block in Report(study).section("claims").blocks if getattr(block, "id", "")}
    rows = {str(row.cells[0]): row for row in page["measured-1"].rows}
    light = next(row for name, row in rows.items() if "Visible transmittance" in name)
    assert light.emphasis == "strong" and "60.0%" in str(light.cells[1]) and "40.0%" in str(light.cells[2])
    asked = str(Report(study).section("doubts").blocks)
    assert (
        "Ultraviolet transmittance: film.csv says 60.0%, the sheet 1.0%. Are both of the same film and glass?"
        in asked
    )
    assert "by more than 2 points" in str(page["measured-1"].note)
    shown = str(page["three-bands"].rows)
    assert (
        shown.count("by wavelength") == shown.count("in three bands") == len(rated(study, "ceramic-grey-40"))
    )


def test_a_short_file_says_what_is_held(job):
    """From 350 to 2100 nm: the share of the sun outside is on the page and in the film's notes."""
    text = table("nm;T %;R_glass %;R_film %", (40, 8, 8), (20, 9, 9)).splitlines()
    kept = [text[0], *(row for row in text[1:] if 350 <= float(row.split(";")[0]) <= 2100)]
    (job / "film.csv").write_text("\n".join(kept))
    give(job, "file: film.csv")
    study = Study.open(job)
    (one,) = Findings(study).spectra.files
    assert (one.shortest_nm, one.longest_nm) == (350, 2100) and 0.01 < one.held < 0.04
    assert all("350 to 2100 nm" in str(found.notes) for found in rated(study, "ceramic-grey-40").values())
    table_ = next(b for b in Report(study).section("claims").blocks if getattr(b, "id", "") == "measured-1")
    assert "is held" in str(table_.note)


def test_a_measured_sheet_of_glass_counts_for_bare_and_filmed(job):
    """Dark glass by its file: the bare unit and every film on it let less through; its file is told."""
    (job / "dark.csv").write_text(table("nm;T %;R %", (30, 5), (20, 5)))
    lites = "lites: [{{thickness_mm: 6{}}}, {{thickness_mm: 6}}], gaps: [{{width_mm: 12}}]"
    plain = job.parent / "plain"
    shutil.copytree(job, plain)
    glazing(plain, lites.format(""))
    glazing(job, lites.format(", spectrum: {file: dark.csv}"))
    before, after = Findings(Study.open(plain)), Findings(Study.open(job))
    for old, new in zip(before.glazings, after.glazings, strict=True):
        if new.id == "unit-clear" and isinstance(new, Rated):
            assert new.t_visible < 0.5 * old.t_visible and new.shgc < old.shgc
    (one,) = after.spectra.files
    assert (one.glazing, one.lite, one.film, one.printed) == ("unit-clear", 1, None, {})
    assert any(entry.film is None for entry in after.spectra.glazings)


def test_a_coatings_file_that_its_glass_cannot_be_is_a_fault(job):
    """A coated sheet that would pass more than the glass below it lets to the coating."""
    (job / "coated.csv").write_text(table("nm;T %;R_outside %;R_inside %", (88, 4, 10), (86, 4, 12)))
    glazing(
        job,
        "lites: [{thickness_mm: 6, glass: grey, spectrum: {file: coated.csv}}, {thickness_mm: 4}], "
        "gaps: [{width_mm: 12}], coating: {kind: soft_low_e, surface: 2}",
    )
    with pytest.raises(JobError, match=r"coated\.csv: must be the table of a coated sheet of glass"):
        _ = Study.open(job).filmed
