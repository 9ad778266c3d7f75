"""The pictures of the documents: each a function from the findings to a figure whose title is its finding.

Every function takes what a study found, the reader's `Formats`, and the reader's words; it computes no
physics. It returns None (or nothing in a list) where the findings do not hold what the picture shows.
"""

from reportkit.documents.figures.bad_day import bad_day
from reportkit.documents.figures.building import building
from reportkit.documents.figures.elevation import elevation
from reportkit.documents.figures.light_and_heat import light_and_heat
from reportkit.documents.figures.months import months
from reportkit.documents.figures.readings import readings
from reportkit.documents.figures.roll_layout import roll_layout
from reportkit.documents.figures.sun_hours import sun_hours
from reportkit.documents.figures.views import views
from reportkit.documents.figures.worth import worth

__all__ = [
    "bad_day",
    "building",
    "elevation",
    "light_and_heat",
    "months",
    "readings",
    "roll_layout",
    "sun_hours",
    "views",
    "worth",
]
