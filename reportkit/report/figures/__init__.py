"""The pictures of the documents: each a function from the findings to a figure whose title is its finding.

Every function takes what a study found, the reader's `Formats`, and the reader's words; it computes no
physics. It returns None (or nothing in a list) where the findings do not hold what the picture shows.
"""

from reportkit.report.figures.bad_day import bad_day
from reportkit.report.figures.elevation import elevation
from reportkit.report.figures.light_and_heat import light_and_heat
from reportkit.report.figures.months import months
from reportkit.report.figures.readings import readings
from reportkit.report.figures.roll_layout import roll_layout
from reportkit.report.figures.sun_hours import sun_hours
from reportkit.report.figures.views import views
from reportkit.report.figures.worth import worth

__all__ = [
    "bad_day",
    "elevation",
    "light_and_heat",
    "months",
    "readings",
    "roll_layout",
    "sun_hours",
    "views",
    "worth",
]
