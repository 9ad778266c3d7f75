"""What `make` would stop at, found without making anything."""

from __future__ import annotations

from pathlib import Path

from reportkit.job import LoadedJob, load_job


def checked(job_dir: Path) -> LoadedJob:
    """Return a job; raise `JobError` with its faults: what ``make`` would stop at and a person can mend."""
    loaded = load_job(job_dir)
    if loaded.weather_file:
        from reportkit.climate import typical_year

        typical_year(loaded.weather_file, year=loaded.job.day.year, timezone=loaded.clock)
    lites = [lite for glazing in loaded.job.glazings for lite in glazing.lites]
    told = any(glazing.known for glazing in loaded.job.glazings) or any(lite.spectrum for lite in lites)
    if told or any(loaded.job.film_named(pane) for pane in loaded.job.panes):
        from reportkit.study.cuttable import check_cuttable

        check_cuttable(loaded)
    return loaded
