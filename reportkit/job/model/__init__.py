"""What a job is: frozen records, one module for each noun, each field with its type, meaning and example."""

from reportkit.job.model.alternatives import Alternative
from reportkit.job.model.approvals import Approval
from reportkit.job.model.building import Building
from reportkit.job.model.complaint import Complaint, Limits
from reportkit.job.model.decisions import BARE, Choice, Decision
from reportkit.job.model.energy import DemandSpec, Electricity, Energy, FuelSpec, PeriodSpec, TierSpec
from reportkit.job.model.films import Chart, Claims, FilmClass, FilmSpec, RatedValues, RollOffer
from reportkit.job.model.fitting import Fitting
from reportkit.job.model.glazings import (
    CoatingSpec,
    FrameSpec,
    GapSpec,
    GlassKind,
    GlazingSpec,
    KnownSpec,
    LiteSpec,
    Strength,
)
from reportkit.job.model.job import Job
from reportkit.job.model.panes import Pane, Survey
from reportkit.job.model.prices import Prices, Tax
from reportkit.job.model.quote import Business, Client, Quote
from reportkit.job.model.readings import OPEN, Reading
from reportkit.job.model.rooms import Body, Cooling, Heating, Room
from reportkit.job.model.shades import ShadeSpec
from reportkit.job.model.site import Face, Horizon, Site, Tree
from reportkit.job.model.spectra import FilmSpectrum, LiteSpectrum, Measured, Spectra
from reportkit.job.model.typed import Record
from reportkit.job.model.weather import Normals, WeatherChoice

__all__ = [
    "BARE",
    "OPEN",
    "Alternative",
    "Approval",
    "Body",
    "Building",
    "Business",
    "Chart",
    "Choice",
    "Claims",
    "Client",
    "CoatingSpec",
    "Complaint",
    "Cooling",
    "Decision",
    "DemandSpec",
    "Electricity",
    "Energy",
    "Face",
    "FilmClass",
    "FilmSpec",
    "FilmSpectrum",
    "Fitting",
    "FrameSpec",
    "FuelSpec",
    "GapSpec",
    "GlassKind",
    "GlazingSpec",
    "Heating",
    "Horizon",
    "Job",
    "KnownSpec",
    "Limits",
    "LiteSpec",
    "LiteSpectrum",
    "Measured",
    "Normals",
    "Pane",
    "PeriodSpec",
    "Prices",
    "Quote",
    "RatedValues",
    "Reading",
    "Record",
    "RollOffer",
    "Room",
    "ShadeSpec",
    "Site",
    "Spectra",
    "Strength",
    "Survey",
    "Tax",
    "TierSpec",
    "Tree",
    "WeatherChoice",
]
