"""Weather files by their path: what a file says, or its faults with their places.

What was found of a file without faults is kept from one command to the next (`reportkit.base.kept`), by the
file's content, the code that read it and the libraries below that: pandas and pvlib, which are slow to start,
are needed for a new file only.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from functools import cache
from importlib.metadata import version
from pathlib import Path

from reportkit.base.errors import Fault, JobError
from reportkit.base.kept import content, digest, kept
from reportkit.base.translatable import translatable
from reportkit.climate.packed import pack, pack_site, unpack, unpack_site
from reportkit.climate.raw import NAMES, FormatError
from reportkit.climate.readers import FIRST_LINES, detect_kind, read_first_line, read_raw
from reportkit.climate.typical import from_raw, misplaced, new_year_offset
from reportkit.climate.weather import Site, Weather

#: No weather file is longer than this [bytes]; thirty years of hours are under 60 MB in any format.
LARGEST_WEATHER = 100_000_000

_PACKAGE = Path(__file__).parents[1]
#: The rows that read a file, as they were when this process began to import them.
_CODE = digest(sorted(path for row in ("base", "climate") for path in (_PACKAGE / row).rglob("*.py")))


def made_by(*libraries: str) -> tuple[str, ...]:
    """Return what an answer depends on beside what it is made from: this code, Python, numpy, libraries."""
    return _CODE, sys.version, *(_version(name) for name in ("numpy", *libraries))


@cache
def _version(library: str) -> str:
    return version(library)


def _kept(path: Path, *asked: str | float, make: Callable[[], bytes]) -> bytes:
    return kept(lambda: (content(path), *asked, *made_by("pandas", "pvlib")), make)


def _fault(path: Path, rule: str, found: str | None = None, hint: str | None = None, line: int = 0) -> Fault:
    return Fault(file=path.name, line=line, field="weather", rule=rule, found=found, hint=hint)


def _present(path: Path) -> None:
    if not path.is_file():
        raise JobError(
            faults=[
                _fault(
                    path,
                    translatable("the weather file must be there"),
                    found=str(path),
                    hint=translatable("put the file there, mend its name, or leave it out"),
                )
            ]
        )
    if path.stat().st_size > LARGEST_WEATHER:
        rule = translatable(
            "a weather file must be at most {megabytes} MB", megabytes=LARGEST_WEATHER // 1_000_000
        )
        hint = translatable("give one year of hourly rows")
        raise JobError(
            faults=[
                _fault(
                    path, rule, translatable("{megabytes:.1f} MB", megabytes=path.stat().st_size / 1e6), hint
                )
            ]
        )


def header(path: Path, *, kind: str | None = None) -> Site:
    """Return where a weather file was made, before anything else is known.

    Parameters
    ----------
    path : Path
        The file.
    kind : str, optional
        Its format (a key of `reportkit.climate.FORMATS`); from its content where not given.

    Returns
    -------
    Site
        Place, latitude and longitude [deg], elevation [m], the file's own offset from UTC [h].

    Raises
    ------
    JobError
        If the file is missing or is no weather file.
    """
    path = Path(path)
    _present(path)
    try:
        kind = kind or detect_kind(path)
        if kind in FIRST_LINES:
            site = read_first_line(path, kind)
        else:
            site = unpack_site(_kept(path, "site", kind, make=lambda: pack_site(read_raw(path, kind).site)))
    except FormatError as error:
        raise JobError(faults=[_fault(path, error.rule, error.found, error.hint)]) from error
    if wrong := misplaced(site):
        raise JobError(faults=[_fault(path, *wrong)])
    return site


def typical_year(path: Path, *, year: int, timezone: str, kind: str | None = None) -> Weather:
    """Read a weather file as a typical year.

    Parameters
    ----------
    path : Path
        .epw, TMY2, TMY3, PVGIS (typical year or hourly series, csv or json) or NSRDB (csv), hourly.
    year : int
        Calendar year to bring the rows to, 1900 to 2200.
    timezone : str
        The site's civil zone, an IANA name.
    kind : str, optional
        The format (a key of `reportkit.climate.FORMATS`); from the content where not given.

    Returns
    -------
    Weather
        8760 rows, kind "typical_year".

    Raises
    ------
    JobError
        If the file is missing, of another format, lacks columns, has gaps, or is not a whole hourly year, or
        if its clock contradicts the sun; every fault at once.
    ValueError
        If the zone is unknown.
    """
    return unpack(_year(path, year=year, timezone=timezone, kind=kind))


def check_year(path: Path, *, year: int, timezone: str) -> None:
    """Raise what `typical_year` would; a file without a fault is read once only."""
    _year(path, year=year, timezone=timezone, kind=None)


def _year(path: Path, *, year: int, timezone: str, kind: str | None) -> bytes:
    """Return a typical year, packed; parameters and errors as of `typical_year`."""
    path = Path(path)
    _present(path)
    offset = new_year_offset(timezone, year).total_seconds()  # all that a zone's rules have a say in

    def make(kind: str) -> bytes:
        raw = read_raw(path, kind)
        weather, rules = from_raw(raw, name=NAMES[kind], year=year, timezone=timezone)
        if weather is None:
            raise JobError(faults=[_fault(path, *rule) for rule in rules])
        return pack(weather)

    try:
        of = kind or detect_kind(path)
        return _kept(path, "year", of, year, timezone, offset, make=lambda: make(of))
    except FormatError as error:
        raise JobError(faults=[_fault(path, error.rule, error.found, error.hint)]) from error
