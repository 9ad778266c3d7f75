"""A typical year for any place from PVGIS, the European Commission's free service.

The only part of the package that uses the network, and only when asked. The file is kept beside the job, so
that the same job can run again without it.
"""

from __future__ import annotations

from pathlib import Path

from reportkit.base.errors import UnavailableError
from reportkit.base.translatable import translatable


def fetch_pvgis(
    latitude: float, longitude: float, *, folder: Path, use_horizon: bool = True, timeout: float = 60.0
) -> Path:
    """Download a typical year once and return the file.

    Parameters
    ----------
    latitude, longitude : float
        North and east positive [deg].
    folder : Path
        Where the file is kept; a file already there is used as it is.
    use_horizon : bool
        Let the service shade the site by its terrain.
    timeout : float
        Longest wait for an answer [s].

    Returns
    -------
    Path
        ``pvgis_LAT_LON.csv`` in the folder; read it with `typical_year`.

    Raises
    ------
    UnavailableError
        If the service cannot be reached or has no data for the place.
    ValueError
        If the coordinates are out of range.

    References
    ----------
    PVGIS web interface, tool "tmy": the European Commission's Joint Research Centre.
    """
    if not (-90.0 <= latitude <= 90.0 and -180.0 <= longitude <= 180.0):
        raise ValueError(f"latitude must be -90 to 90 and longitude -180 to 180, not {latitude}, {longitude}")
    folder = Path(folder)
    end = "" if use_horizon else "_flat"
    path = folder / f"pvgis_{latitude:.3f}_{longitude:.3f}{end}.csv"
    if path.is_file():
        return path
    import requests
    from pvlib.iotools.pvgis import URL

    where = f"{latitude:.3f}, {longitude:.3f}"
    asked = {
        "lat": f"{latitude:.4f}",
        "lon": f"{longitude:.4f}",
        "outputformat": "csv",
        "usehorizon": str(int(use_horizon)),
    }
    try:
        answer = requests.get(f"{URL}tmy", params=asked, timeout=timeout)
    except requests.RequestException as error:
        raise UnavailableError(
            translatable(
                "the typical year for {where} must be downloaded from PVGIS, which cannot be reached "
                "from here ({error}); put a weather file in {folder} "
                "and name it in the job, or write weather: {{use: clear_days}}",
                where=where,
                error=type(error).__name__,
                folder=folder,
            )
        ) from error
    if not answer.ok:
        raise UnavailableError(
            translatable(
                "PVGIS has no typical year for {where} (answer {status}: {text}); "
                "name a weather file in the job, or write weather: {{use: clear_days}}",
                where=where,
                status=answer.status_code,
                text=answer.text[:200],
            )
        )
    folder.mkdir(parents=True, exist_ok=True)
    part = path.with_suffix(".part")
    part.write_bytes(answer.content)
    part.replace(path)
    return path
