"""The one orchestration: a job's stages, each computed when first asked for and kept."""

from __future__ import annotations

from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from reportkit import money
from reportkit.job import LoadedJob, load_job
from reportkit.study import options as opt
from reportkit.study import worth as worths
from reportkit.study.bywindow import Seat, by_window
from reportkit.study.offer import Offer, offer
from reportkit.study.options import Fittings, Option
from reportkit.study.rooms import RoomYear, room_year
from reportkit.study.shades import shade_option
from reportkit.study.solar import Solar, solar, weather
from reportkit.study.worth import Worth

if TYPE_CHECKING:
    from reportkit.climate import Weather
    from reportkit.job.models import FilmSpec, Job


class Study:
    """Everything computed about one job.

    Parameters
    ----------
    loaded
        The job, read and checked.

    Examples
    --------
    >>> study = Study.open("jobs/corner-shop")  # doctest: +SKIP
    >>> study.recommended.id  # doctest: +SKIP
    """

    def __init__(self, loaded: LoadedJob) -> None:
        self.loaded = loaded

    @classmethod
    def open(cls, job_dir: str | Path) -> Study:
        """Read a job folder; raises `JobError` with every fault in it."""
        return cls(load_job(Path(job_dir)))

    @property
    def job(self) -> Job:
        """The job as read."""
        return self.loaded.job

    @property
    def conditions(self) -> str:
        """Rating conditions: the job's, else NFRC for US units and EN for metric ones."""
        return self.job.rating or ("nfrc" if self.job.units == "us" else "en")

    @cached_property
    def weather(self) -> Weather:
        """Hourly weather, or twelve clear days."""
        return weather(self.loaded)

    @cached_property
    def sun(self) -> Solar:
        """The sun on faces and panes."""
        return solar(self.loaded, self.weather)

    @cached_property
    def films(self) -> dict[str, FilmSpec]:
        """The films compared and those the job names, by id, in the catalogue's order."""
        job = self.job
        wanted = set(opt.wanted_films(self.loaded) or ()) | set(
            job.compare or [spec.id for spec in job.films]
        )
        return {spec.id: spec for spec in job.films if spec.id in wanted}

    @cached_property
    def fittings(self) -> Fittings:
        """Every glazing bare and with each film, rated."""
        return opt.fittings(self.loaded, tuple(self.films.values()), self.conditions)

    def _option(self, name: str, wanted: tuple[str | None, ...]) -> Option:
        return opt.option(name, wanted, self.loaded, self.fittings, self.sun)

    @cached_property
    def nothing(self) -> Option:
        """Leaving the glass as it is."""
        return self._option(opt.NOTHING, (None,) * len(self.job.panes))

    @cached_property
    def film_options(self) -> tuple[Option, ...]:
        """Each film on every pane it can go on."""
        return tuple(self._option(name, (name,) * len(self.job.panes)) for name in self.films)

    @cached_property
    def complained(self) -> np.ndarray:
        """Mask of the panes complained of."""
        return opt.complained(self.loaded)

    @cached_property
    def bad_hour(self) -> int:
        """Index of the warm hour at which most heat comes through the bare panes complained of."""
        return opt.bad_hour(self.nothing, self.complained, self.weather)

    @cached_property
    def recommended(self) -> Option:
        """The first choice by the printed rule; doing nothing where no film is within the limits."""
        first = opt.first_choice(list(self.film_options), self.bad_hour, self.complained)
        return first or self.nothing

    @cached_property
    def chosen(self) -> Option:
        """What the offer is for: the films the job names, else the recommended one."""
        wanted = opt.wanted_films(self.loaded)
        if wanted is None:
            return self.recommended
        for entry in (self.nothing, *self.film_options):
            if entry.film_by_pane == self._option(opt.CHOSEN, wanted).film_by_pane:
                return entry
        return self._option(opt.CHOSEN, wanted)

    @property
    def chosen_by(self) -> str:
        """``job`` where the job names the films, else ``rule``."""
        return "rule" if opt.wanted_films(self.loaded) is None else "job"

    @cached_property
    def shade_options(self) -> tuple[Option, ...]:
        """The shades the job asks to compare with."""
        return tuple(
            shade_option(spec, self.nothing, self.loaded, self.fittings, self.sun) for spec in self.job.shades
        )

    @cached_property
    def options(self) -> tuple[Option, ...]:
        """Doing nothing, each film, the mix the job names where it is none of these, each shade."""
        listed = (self.nothing, *self.film_options)
        mixed = () if any(entry is self.chosen for entry in listed) else (self.chosen,)
        return (*listed, *mixed, *self.shade_options)

    @cached_property
    def offer(self) -> Offer:
        """The offer for what is chosen, its cut plan carried to the proof."""
        return offer(self.chosen, self.loaded, self.films, mode="exact")

    @cached_property
    def offers(self) -> dict[str, Offer]:
        """An offer for every option, by option id; the chosen one's is exact."""
        return {
            entry.id: self.offer
            if entry is self.chosen
            else offer(entry, self.loaded, self.films, mode="quick")
            for entry in self.options
            if entry.kind != "shade"
        }

    @property
    def no_rooms(self) -> str:
        """Why no room is computed: ``clear_days``, ``room_not_described``, or empty where rooms are."""
        if self.weather.kind == "clear_sky":
            return "clear_days"
        return "" if any(room.heat for room in self.job.rooms) else "room_not_described"

    @cached_property
    def tariff(self) -> money.Tariff:
        """The electricity tariff."""
        return worths.tariff(self.job.energy)

    @cached_property
    def bins(self) -> money.Bins:
        """Where each hour's energy is summed."""
        return worths.tariff_bins(self.tariff, self.weather)

    @cached_property
    def room_years(self) -> tuple[RoomYear, ...]:
        """The year of every described room under every option; none where ``no_rooms`` says why."""
        if self.no_rooms:
            return ()
        return tuple(
            room_year(
                room,
                self.options,
                self.loaded,
                self.fittings,
                self.weather,
                self.sun,
                self.bins,
                self.job.energy,
            )
            for room in self.job.rooms
            if room.heat
        )

    @property
    def complaint_room_year(self) -> RoomYear | None:
        """The year of the room complained of, else of the first described room."""
        years = {year.room: year for year in self.room_years}
        room = self.job.complaint.room
        return years.get(room) if room else next(iter(years.values()), None)

    @cached_property
    def by_window(self) -> tuple[int, dict[str, Seat]]:
        """The pane a person sits by, and what bare glass and each film do there."""
        return by_window(
            self.options,
            self.loaded,
            self.fittings,
            self.sun,
            self.weather,
            self.bad_hour,
            self.complained,
        )

    @property
    def no_money(self) -> str:
        """Why no yearly money is given, or empty where it is."""
        if self.no_rooms:
            return self.no_rooms
        bodies = [room.heat for room in self.job.rooms if room.heat]
        if not any(body.cooling or body.heating for body in bodies):
            return "no_cooling_no_heating"
        energy = self.job.energy
        needed = {body.heating.fuel for body in bodies if body.heating} - {"electricity"}
        electric = any(
            body.cooling or (body.heating and body.heating.fuel == "electricity") for body in bodies
        )
        if energy is None or (electric and energy.electricity is None):
            return "no_energy_price"
        return "" if needed <= {spec.id for spec in energy.fuels} else "no_energy_price"

    @cached_property
    def worths(self) -> dict[str, Worth]:
        """Every option's money by its id; empty where ``no_money`` says why."""
        energy = self.job.energy
        if self.no_money or energy is None:
            return {}
        use = worths.used(self.room_years, self.loaded)
        cost = worths.bills(use, self.tariff, self.bins, energy)
        co2 = worths.carbon(use, energy)
        growth = self.room_years[0].inputs["price_growth"]
        return {
            entry.id: worths.worth(index, entry, self.offers.get(entry.id), cost, co2, self.loaded, growth)
            for index, entry in enumerate(self.options)
        }
