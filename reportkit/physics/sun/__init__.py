"""Sun and sky on faces and panes: position, incidence, transposition, shading.

Pure functions of arrays. H is hours or instants, F faces, P panes; angles in degrees, azimuth clockwise
from true north; irradiance in W/m2.
"""

from reportkit.physics.sun.panes import PaneSun, ground_view, horizon_view, on_panes, sky_view, views
from reportkit.physics.sun.position import SunPosition, cos_incidence, position
from reportkit.physics.sun.shade import Horizon, Shade, local_direction, sunlit_fraction
from reportkit.physics.sun.sky import MODELS, FaceIrradiance, sky_on_faces
from reportkit.physics.sun.totals import direct_hours, monthly_sums

__all__ = [
    "MODELS",
    "FaceIrradiance",
    "Horizon",
    "PaneSun",
    "Shade",
    "SunPosition",
    "cos_incidence",
    "direct_hours",
    "ground_view",
    "horizon_view",
    "local_direction",
    "monthly_sums",
    "on_panes",
    "position",
    "sky_on_faces",
    "sky_view",
    "sunlit_fraction",
    "views",
]
