"""A commented new job that passes every rule, for a person to put their own numbers into."""

from __future__ import annotations

from importlib import resources
from pathlib import Path
from string import Template
from typing import Literal

from reportkit.errors import InputError
from reportkit.job.models import Id, Record

JOB_FILE = "job.yaml"
SURVEY_FILE = "windows.csv"

#: What differs between a starter in feet and inches and one in millimetres; every amount is invented.
_SAMPLES: dict[str, dict[str, str]] = {
    "us": {
        "currency": "USD",
        "locale": "en_US",
        "paper": "letter",
        "rating": "nfrc",
        "latitude": "36.10",
        "longitude": "-79.95",
        "clock": "America/New_York",
        "weather": "  use: shipped\n  name: greensboro",
        "lite": "3",
        "roll": "60 in",
        "roll_length": "100 ft",
        "by_length": "price_per_ft: 8.60",
        "step": "1 ft",
        "edge_gap": "1/16 in",
        "trim": "1/2 in",
        "table": "8 ft",
        "offcut": "16 in, 24 in",
        "floor": "260 ft2",
        "ceiling": "8 ft",
        "walls": "190 ft2",
        "too_hot": "79 F",
        "cool": "76 F",
        "warm": "68 F",
        "setback": "62 F",
        "capacity": "12000 Btu/h",
        "awning": "4 ft",
        "electricity": "0.15",
        "gas": "1.30",
        "gas_unit": "therm",
        "gas_kwh": "29.3",
        "tax": "Sales tax",
        "tax_percent": "7",
    },
    "metric": {
        "currency": "EUR",
        "locale": "en_IE",
        "paper": "a4",
        "rating": "en",
        "latitude": "47.20",
        "longitude": "8.10",
        "clock": "Europe/Zurich",
        "weather": "  use: clear_days",
        "lite": "4",
        "roll": "1524 mm",
        "roll_length": "30.5 m",
        "by_length": "price_per_m: 28.00",
        "step": "0.5 m",
        "edge_gap": "1.5 mm",
        "trim": "12 mm",
        "table": "2440 mm",
        "offcut": "400 mm, 600 mm",
        "floor": "24 m2",
        "ceiling": "2500 mm",
        "walls": "18 m2",
        "too_hot": "26 C",
        "cool": "25 C",
        "warm": "20 C",
        "setback": "16 C",
        "capacity": "3500 W",
        "awning": "1.2 m",
        "electricity": "0.30",
        "gas": "1.15",
        "gas_unit": "m3",
        "gas_kwh": "10.6",
        "tax": "VAT",
        "tax_percent": "20",
    },
}


class _Name(Record):
    id: Id


def write_starter(folder: Path, *, units: Literal["us", "metric"]) -> tuple[Path, ...]:
    """Write a new job into a folder, which is made if need be.

    Parameters
    ----------
    folder
        Where the job goes.
    units
        ``us`` for feet and inches, ``metric`` for millimetres.

    Returns
    -------
    tuple of Path
        The files written.

    Raises
    ------
    InputError
        If one of the files is there already, or the folder cannot be written.
    ValueError
        If ``units`` is neither.
    """
    if units not in _SAMPLES:
        raise ValueError(f"units must be us or metric, not {units!r}")
    folder = Path(folder)
    places = (folder / JOB_FILE, folder / SURVEY_FILE)
    for place in places:
        if place.exists() or place.is_symlink():
            raise InputError(f"{place} is there already: nothing was written; name another folder")
    files = resources.files("reportkit.job") / "starter_files"
    template = Template((files / "job.yaml").read_text(encoding="utf-8"))
    job = template.substitute(_SAMPLES[units], units=units, id=_id_from(folder))
    survey = (files / f"windows_{units}.csv").read_text(encoding="utf-8")
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for place, text in zip(places, (job, survey), strict=True):
            with place.open("x", encoding="utf-8", newline="\n") as file:
                file.write(text)
    except OSError as error:
        raise InputError(f"{folder} cannot be written: {error.strerror or error}") from error
    return places


def _id_from(folder: Path) -> str:
    """Return a job's id from its folder's name, as a quoted YAML text."""
    name = folder.resolve().name[:60].strip()
    try:
        _Name(id=name)
    except ValueError:
        name = "my-job"
    plain = name.isascii() and name.replace("-", "").replace("_", "").isalnum() and not name.isdigit()
    return name if plain and name[0].isalpha() else "'" + name.replace("'", "''") + "'"
