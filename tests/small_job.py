"""A small invented job whose price can be worked out by hand, to change a few fields of."""

import copy
import json

JOB = {
    "id": "styles",
    "invented": "yes",
    "units": "metric",
    "currency": "EUR",
    "locale": "en_IE",
    "rating": "en",
    "site": {"latitude": "41", "longitude": "12", "elevation_m": "50", "clock": "Europe/Rome"},
    "weather": {"use": "clear_days"},
    "complaint": {"text": "too hot", "kinds": ["heat"], "room": "office"},
    "client": {"name": "Ana Example"},
    "business": {"name": "Example Films"},
    "quote": {"number": "Q-1", "date": "2026-03-02"},
    "rooms": [{"id": "office"}],
    "faces": [{"id": "west", "bearing": "265"}],
    "glazings": [{"id": "one", "lites": [{"thickness_mm": "4"}]}],
    "films": [
        {
            "id": "grey",
            "film_class": "ceramic",
            "invented": "yes",
            "thickness_um": "50",
            "rated": {
                "solar_transmittance_percent": "38",
                "solar_reflectance_glass_side_percent": "9",
                "visible_transmittance_percent": "42",
            },
            "rolls": [{"width": "1524 mm", "length": "30 m", "price": "600"}],
            "priced_on": "2026-01-12",
        }
    ],
    "choice": {"job": "grey"},
    "fitting": {"method": "cut_to_size", "edge_gap": "0 mm", "minutes": {"plain": "30", "set_up": "30"}},
    "prices": {
        "labour_per_hour": "40",
        "margin_percent": "25",
        "travel": "30",
        "tax": {"name": "VAT", "percent": "20"},
        "dated": "2026-01-12",
    },
}
#: Ten panes of two kinds.
SURVEY = """id,room,face,glazing,quantity,width,height,frame,access
A,office,west,one,8,1000 mm,1250 mm,metal,floor
B,office,west,one,2,1200 mm,1250 mm,metal,tower
"""
#: What a meter read behind the film and beside it, twice.
READINGS = """time,meter,pane,filmed,beside,bare,note
2026-04-20 15:00,sun,A,210,open,640,
2026-04-20 15:20,sun,A,190,open,600,
"""


def laid(base, change):
    """Return a mapping with another laid upon it."""
    if not (isinstance(base, dict) and isinstance(change, dict)):
        return copy.deepcopy(change)
    return base | {name: laid(base.get(name), part) for name, part in change.items()}


def written(folder, *changes, survey=SURVEY):
    """Write the job with changes laid upon it into a folder, and return that."""
    job = JOB
    for change in changes:
        job = laid(job, change)
    (folder / "job.yaml").write_text(json.dumps(job), "utf-8")
    (folder / "windows.csv").write_text(survey, "utf-8")
    return folder
