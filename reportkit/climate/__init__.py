"""Weather for a site: typical years from files, clear days, monthly normals, and small tables about places.

The only readers of weather files and of the tables that ship with pvlib and timezonefinder. Everything comes
out as a `Weather` whose times are interval middles in the site's civil zone.
"""

from reportkit.climate.clear import clear_days
from reportkit.climate.download import fetch_pvgis
from reportkit.climate.files import check_year, header, typical_year
from reportkit.climate.nearby import brought, distance
from reportkit.climate.normals import from_normals, most_sun
from reportkit.climate.places import (
    SHIPPED,
    Spectrum,
    civil_zone,
    elevation,
    linke_turbidity,
    reference_spectrum,
    shipped_path,
    shipped_site,
    shipped_year,
)
from reportkit.climate.raw import NAMES as FORMATS
from reportkit.climate.weather import Site, Weather, standard_pressure

__all__ = [
    "FORMATS",
    "SHIPPED",
    "Site",
    "Spectrum",
    "Weather",
    "brought",
    "check_year",
    "civil_zone",
    "clear_days",
    "distance",
    "elevation",
    "fetch_pvgis",
    "from_normals",
    "header",
    "linke_turbidity",
    "most_sun",
    "reference_spectrum",
    "shipped_path",
    "shipped_site",
    "shipped_year",
    "standard_pressure",
    "typical_year",
]
