"""The job as read and checked: frozen records, lengths in millimetres, angles in degrees.

What a person may write, field by field, is exactly what these records accept; an unknown key is a fault.
Each field says what it means, with an example, where it stands: the guide, the schema, the messages and the
survey's form take it from there. Numbers that a spec sheet prints in percent are typed in percent and become
shares of 1 only in ``reportkit.study``. Reading files is done in ``reportkit.job.reading.reader``, rules that
need more than one record (does this room exist?) in ``reportkit.job.reading.rules``.
"""

from __future__ import annotations

import datetime as dt
from typing import Annotated, Literal

from pydantic import Field

from reportkit.job.model.about import about
from reportkit.job.model.alternatives import Alternative
from reportkit.job.model.approvals import Approval
from reportkit.job.model.building import Building
from reportkit.job.model.complaint import Complaint, Limits
from reportkit.job.model.decisions import Choice, Decision
from reportkit.job.model.energy import Energy
from reportkit.job.model.films import FilmSpec
from reportkit.job.model.fitting import Fitting
from reportkit.job.model.glazings import GlazingSpec
from reportkit.job.model.panes import Pane, Survey
from reportkit.job.model.prices import Prices
from reportkit.job.model.quote import Business, Client, Discount, Quote
from reportkit.job.model.readings import Reading
from reportkit.job.model.rooms import Room
from reportkit.job.model.shades import ShadeSpec
from reportkit.job.model.site import Face, Horizon, Site
from reportkit.job.model.status import Status
from reportkit.job.model.typed import Id, Record, Text
from reportkit.job.model.weather import WeatherChoice


class Job(Record):
    """One job: everything the program may know about it."""

    id: Annotated[Id, about("short name of the job; it stands in the footer of every page", "corner-shop")]
    title: Annotated[
        Text, about("what the work is, for the first page", "South and west windows of the shop")
    ] = ""
    invented: Annotated[bool, about("yes for a made-up job; the documents then say so", "no")] = False
    units: Annotated[
        Literal["us", "metric"],
        about(
            "us (feet, inches) or metric; a bare length in the survey takes inches or millimetres", "metric"
        ),
    ]
    language: Annotated[str, about("language the documents are written in: en or es", "en")] = "en"
    locale: Annotated[
        str | None,
        about(
            "language and place whose signs numbers, dates and money have; en_DE: English with 1.234,56",
            "en_GB",
        ),
    ] = None
    currency: Annotated[
        str,
        Field(pattern=r"^[A-Z]{3}$"),
        about("three-letter code (ISO 4217) of every amount in the job", "EUR"),
    ]
    paper: Annotated[Literal["letter", "a4"] | None, about("letter or a4", "a4")] = None
    rating: Annotated[
        Literal["nfrc", "en"] | None,
        about("which rating conditions: nfrc (North America) or en (Europe); never mixed", "en"),
    ] = None
    site: Annotated[Site, about("where the windows are", "place: Invented Bay")] = Site()
    weather: Annotated[WeatherChoice, about("which weather the sun is taken from", "use: clear_days")] = (
        WeatherChoice()
    )
    complaint: Annotated[Complaint, about("what troubles the client", "text: The office is too hot by four")]
    client: Annotated[Client, about("who the proposal is for", "name: Ana Example")] = Client()
    business: Annotated[
        Business | None,
        about("who the proposal is from; with quote left out, for your own windows", "name: Example Films"),
    ] = None
    quote: Annotated[
        Quote | None, about("number, dates and terms of the offer; with business", "number: Q-7")
    ] = None
    status: Annotated[
        Status, about("what has been sent, accepted, done: each with its day", "fitted: 2026-06-02")
    ] = Status()
    survey: Annotated[Survey, about("who measured the panes, and when", "measured_by: Ana Example")] = (
        Survey()
    )
    limits: Annotated[
        Limits,
        about("how dark and how mirrored the glass may become", "darkest_visible_transmittance_percent: 40"),
    ] = Limits()
    recommend: Annotated[
        Literal["most_relief", "least_heat", "best_value", "most_light", "lowest_price"],
        about(
            "rule by which a film is recommended: most_relief, least_heat, best_value, most_light or lowest_price",
            "most_relief",
        ),
    ] = "most_relief"
    building: Annotated[
        Building,
        about("age, owner and neighbours, for permissions; buildings only, no vehicles", "country: IE"),
    ] = Building()
    rooms: Annotated[
        tuple[Room, ...], Field(min_length=1), about("the rooms that have panes", "- id: kitchen")
    ]
    horizons: Annotated[
        tuple[Horizon, ...], about("skylines that stand before the sun: trees, hills, houses", "- id: hill")
    ] = ()
    faces: Annotated[
        tuple[Face, ...],
        Field(min_length=1),
        about("the sides of the building that have panes", "- id: south"),
    ]
    glazings: Annotated[
        tuple[GlazingSpec, ...],
        Field(min_length=1),
        about("what the openings are filled with", "- id: double"),
    ]
    films: Annotated[tuple[FilmSpec, ...], about("the films that could be fitted", "- id: grey")] = ()
    compare: Annotated[
        tuple[str, ...], about("ids of the films to compare; left out: all of them", "- grey")
    ] = ()
    choice: Annotated[
        Choice, about("the film already chosen, for the job, by face, or by pane", "job: grey")
    ] = Choice()
    alternatives: Annotated[
        tuple[Alternative, ...],
        Field(max_length=2),
        about(
            "up to two other ways to stand beside what is offered; left out: found among the films compared",
            "see below",
        ),
    ] = ()
    approvals: Annotated[
        tuple[Approval, ...],
        about(
            "written approvals by the film maker of a film on glass that the screen asks about or refuses",
            "see below",
        ),
    ] = ()
    fitting: Annotated[Fitting, about("how the film is cut and fitted", "method: trim_on_glass")] = Fitting()
    prices: Annotated[
        Prices, about("the fitter's own rates, in the job's currency", "labour_per_hour: 40")
    ] = Prices()
    energy: Annotated[
        Energy | None, about("what energy costs; left out: no yearly money", "electricity: {rate: 0.30}")
    ] = None
    shades: Annotated[
        tuple[ShadeSpec, ...],
        about("shades to compare film with, at your own price", "- kind: outside_screen"),
    ] = ()
    panes: Annotated[
        tuple[Pane, ...],
        Field(min_length=1),
        about("the rows of the survey: windows.csv, windows.xlsx, or a sheet of job.xlsx", "see windows.csv"),
    ]
    decisions: Annotated[
        tuple[Decision, ...],
        about("the entries of decisions.yaml, the newest in force", "see decisions.yaml"),
    ] = ()
    readings: Annotated[
        tuple[Reading, ...], about("the rows of readings.csv, written after the work", "see readings.csv")
    ] = ()

    @property
    def own_home(self) -> bool:
        """Whether people fit their own windows: nobody offers, nobody accepts."""
        return self.quote is None

    @property
    def unpriced(self) -> str:
        """Why no yearly money is given where rooms are computed, or empty where it is."""
        bodies = [room.heat for room in self.rooms if room.heat]
        if not any(body.cooling or body.heating for body in bodies):
            return "no_cooling_no_heating"
        needed = {body.heating.fuel for body in bodies if body.heating} - {"electricity"}
        electric = any(
            body.cooling or (body.heating and body.heating.fuel == "electricity") for body in bodies
        )
        if self.energy is None or (electric and self.energy.electricity is None):
            return "no_energy_price"
        return "" if needed <= {spec.id for spec in self.energy.fuels} else "no_energy_price"

    @property
    def discount(self) -> Discount | None:
        """What is taken off the price; nobody takes off anything where nobody offers."""
        return self.quote.discount if self.quote else None

    @property
    def day(self) -> dt.date:
        """The day the documents bear: the quote's, else that of the work, of the survey or of the prices."""
        days = (
            self.quote and self.quote.date,
            self.fitting.date,
            self.survey.measured_on,
            self.prices.dated,
        )
        return next(day for day in days if day)  # a rule asks for one of them

    @property
    def numbers(self) -> dict[str, int]:
        """Where each pane stands in `panes`, by its name; the name of a row singled out whole is its first's."""
        rows = {pane.row: index for index, pane in reversed(list(enumerate(self.panes)))}
        return rows | {pane.id: index for index, pane in enumerate(self.panes)}

    def film_named(self, pane: Pane) -> str | None:
        """Return the film named for a pane, or ``none``; None where nothing is said: the nearest wins.

        A pane singled out of its row is nearer than the row.
        """
        choice = self.choice
        single = choice.panes.get(pane.id) if pane.number else None
        of_row = pane.film or choice.panes.get(pane.row)
        return single or of_row or choice.faces.get(pane.face) or choice.job
