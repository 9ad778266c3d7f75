"""The one orchestration: a job's stages, each computed when first asked for and kept."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

import numpy as np

from reportkit import cutting, money
from reportkit.job import LoadedJob, load_job
from reportkit.study import candidates, ways, years
from reportkit.study import options as opt
from reportkit.study import peaks as extremes
from reportkit.study import worth as worths
from reportkit.study.advice import Advised, advise
from reportkit.study.bywindow import Seat, by_window
from reportkit.study.claims import Checked, checked
from reportkit.study.filmed import Filmed, filmed_glass
from reportkit.study.offer import Offer, alternatives, offer, possible
from reportkit.study.options import Gains, Option
from reportkit.study.panes import Ranking, WithinBudget, beside_the_point, ranking
from reportkit.study.readings import After, after
from reportkit.study.relief import BILLS, Baseline
from reportkit.study.rooms import RoomYear, room_year
from reportkit.study.schedule import Schedule, schedule
from reportkit.study.screening import Screening, Screenings
from reportkit.study.shades import shade_option
from reportkit.study.situation import Situation
from reportkit.study.solar import Sky, Solar, solar, weathers
from reportkit.study.worth import Worth

if TYPE_CHECKING:
    from reportkit.climate import Weather
    from reportkit.job.model import FilmSpec, Job


class Study:
    """Everything computed about one job.

    Parameters
    ----------
    loaded
        The job, read and checked.
    """

    def __init__(self, loaded: LoadedJob) -> None:
        self.loaded = loaded
        self._made_quickly: dict[tuple[str | None, ...], Offer] = {}
        self._made_at_peaks: dict[Any, Gains] = {}

    @classmethod
    def open(cls, job_dir: str | Path) -> Study:
        """Read a job folder; raises `JobError` with every fault in it."""
        return cls(load_job(Path(job_dir)))

    @property
    def job(self) -> Job:
        """The job as read."""
        return self.loaded.job

    @property
    def conditions(self) -> Literal["nfrc", "en"]:
        """Rating conditions: the job's, else NFRC for US units and EN for metric ones."""
        return self.job.rating or ("nfrc" if self.job.units == "us" else "en")

    @cached_property
    def weathers(self) -> tuple[Weather, ...]:
        """The years of hourly weather, each as likely; one where it is a file's, or twelve clear days."""
        return weathers(self.loaded)

    @property
    def weather(self) -> Weather:
        """The first of them: all that is told as one number is computed with it."""
        return self.weathers[0]

    @cached_property
    def sun(self) -> Solar:
        """The sun on faces and panes."""
        return solar(self.loaded, self.weather)

    @cached_property
    def skies(self) -> tuple[Sky, ...]:
        """The years and their sun."""
        return years.skies(self.loaded, self.weathers, self.sun)

    @cached_property
    def films(self) -> dict[str, FilmSpec]:
        """The films compared and those the job names, by id, in the catalogue's order."""
        return opt.films(self.loaded)

    @cached_property
    def filmed(self) -> Filmed:
        """Every glazing bare and with each film, rated."""
        return filmed_glass(self.loaded, tuple(self.films.values()), self.conditions)

    @cached_property
    def peaks(self) -> Sky:
        """The hours that peaks are read from: the weather's own, or clear days where it is made of means."""
        return extremes.sky(self.loaded, self.weather, self.sun)

    @cached_property
    def complained(self) -> np.ndarray:
        """Mask of the panes complained of."""
        return opt.complained(self.loaded)

    @cached_property
    def situation(self) -> Situation:
        """What stands before any option is made."""
        return Situation(
            self.loaded, self.weather, self.sun, self.films, self.filmed, self.peaks, self.complained
        )

    def _option(self, name: str, wanted: tuple[str | None, ...]) -> Option:
        def made(films: tuple[str | None, ...]) -> Option:
            return opt.option(name, films, self.loaded, self.filmed, self.sun, self.screens)

        return candidates.cut_from_rolls(self.job.panes, wanted, made, self.quick_offer)

    @cached_property
    def nothing(self) -> Option:
        """Leaving the glass as it is."""
        return self._option(opt.NOTHING, (None,) * len(self.job.panes))

    @cached_property
    def screens(self) -> Screenings:
        """The breakage screen of every pane with every film, by pane and film id."""
        return extremes.screens(self.situation)

    @cached_property
    def sheets(self) -> tuple[Checked, ...]:
        """What can be said of every film's sheet."""
        return tuple(checked(spec, self.filmed, self.conditions) for spec in self.films.values())

    def screen_of(self, index: int) -> Screening | None:
        """Return what the screen says of a pane with the film it was to get; None where it was none."""
        wanted = opt.wanted_films(self.loaded)
        pane = self.job.panes[index].id
        if wanted:
            named = wanted[index]
        elif pane in dict(self.chosen.bare_because):
            named = next(iter(self.chosen.films), None)
        else:
            named = self.chosen.film_by_pane[index]
        return self.screens[pane, named] if named else None

    @cached_property
    def film_options(self) -> tuple[Option, ...]:
        """Each film on every pane it can go on."""
        return candidates.film_options(self.situation, self._option, self.quick_offer)

    @cached_property
    def within_budget(self) -> dict[str, WithinBudget]:
        """The best panes for each film that is over the job's budget but within its other limits."""
        return candidates.within_budget(self.baseline, self.film_options, self.quick_offer)

    @cached_property
    def part_options(self) -> tuple[Option, ...]:
        """Films on the best panes for the budget, where all panes would cost more."""
        return tuple(
            self._option(candidates.part_id(name), found.film_by_pane)
            for name, found in self.within_budget.items()
            if found.panes
        )

    @cached_property
    def bad_hour(self) -> int:
        """Index, among the hours of ``peaks``, of the hour at which most heat comes in.

        Through the bare panes complained of, and among warm hours where the temperature is known.
        """
        return opt.bad_hour(self.peak_gains(self.nothing), self.complained, self.peaks.weather)

    def peak_gains(self, option: Option) -> Gains:
        """Return an option's heat at the hours of ``peaks``, with its films where they are."""
        key = option.id if option.kind == "shade" else option.film_by_pane
        if key not in self._made_at_peaks:
            self._made_at_peaks[key] = extremes.gains(self.situation, option)
        return self._made_at_peaks[key]

    @cached_property
    def baseline(self) -> Baseline:
        """What relief is counted from."""
        return Baseline(self.situation, self.nothing, self.peak_gains, self.bad_hour)

    @cached_property
    def advised(self) -> Advised:
        """The trade-off among options and the recommendation by the job's rule."""
        bills = BILLS in self.job.complaint.kinds  # only they ask for the rooms' year here
        seen = candidates.candidates(
            self.baseline,
            (*self.film_options, *self.part_options),
            self.quick_offers,
            self.estimates if bills else {},
            self.bill_shares if bills else {},
        )
        return candidates.explained(advise(self.nothing, seen, self.job), self.film_options)

    @property
    def recommended(self) -> Option:
        """The first choice by the printed rule; doing nothing where no film is of use within the limits."""
        return self.advised.option

    @cached_property
    def chosen(self) -> Option:
        """What the offer is for: the films the job names, else the recommended one."""
        wanted = opt.wanted_films(self.loaded)
        if wanted is None:
            return self.recommended
        return self.known_or_made(opt.CHOSEN, wanted)

    def known_or_made(self, name: str, wanted: tuple[str | None, ...]) -> Option:
        """Return the option that puts the same films on the same panes, else a new one of this name."""
        made = self._option(name, wanted)
        known = (self.nothing, *self.film_options, *self.part_options)
        return next((entry for entry in known if entry.film_by_pane == made.film_by_pane), made)

    @cached_property
    def other_ways(self) -> tuple[ways.Way, ...]:
        """The other whole ways that stand beside what is offered: those the job types, else those found."""
        if self.job.alternatives:
            return ways.typed(self.job, self.chosen, self.known_or_made)
        idle = beside_the_point(self.baseline, self.chosen, self.offer, self.quick_offer)
        return ways.found(self.job, self.advised, self.chosen, idle, self.known_or_made)

    @property
    def chosen_by(self) -> Literal["job", "rule"]:
        """``job`` where the job names the films, else ``rule``."""
        return "rule" if opt.wanted_films(self.loaded) is None else "job"

    @cached_property
    def shade_options(self) -> tuple[Option, ...]:
        """The shades the job asks to compare with."""
        return tuple(
            shade_option(spec, self.nothing, self.loaded, self.filmed, self.sun) for spec in self.job.shades
        )

    @cached_property
    def options(self) -> tuple[Option, ...]:
        """Doing nothing, each film, part of the panes for the budget, the job's mix, other ways, shades."""
        listed, more = [self.nothing, *self.film_options], list[Option]()
        bills = BILLS in self.job.complaint.kinds  # the recommendation itself asks for the rooms' year
        if bills:
            more += self.part_options
        elif self.recommended in self.part_options:
            more.append(self.recommended)
        if self.chosen_by == "job":
            more.append(self.chosen)
        if self.job.alternatives or not bills:
            more += [way.option for way in self.other_ways]
        for entry in more:
            if not any(entry is other for other in listed):
                listed.append(entry)
        return (*listed, *self.shade_options)

    @cached_property
    def offer(self) -> Offer:
        """The offer for what is chosen, its cut plan carried to the proof.

        Raises
        ------
        JobError
            If the rolls given cannot hold the pieces.
        """
        return possible(offer(self.chosen.film_by_pane, self.loaded, self.films, mode="exact"))

    def quick_offer(self, film_by_pane: tuple[str | None, ...]) -> Offer:
        """Return the offer for films on panes by the quick cut plan; made once."""
        if film_by_pane not in self._made_quickly:
            self._made_quickly[film_by_pane] = offer(film_by_pane, self.loaded, self.films, mode="quick")
        return self._made_quickly[film_by_pane]

    @cached_property
    def quick_offers(self) -> dict[str, Offer]:
        """An offer for each film on every pane and on those a budget allows, by option id."""
        return {
            entry.id: self.quick_offer(entry.film_by_pane)
            for entry in (*self.film_options, *self.part_options)
        }

    @cached_property
    def alternatives(self) -> tuple[cutting.Alternative, ...]:
        """What else one could buy for what is chosen."""
        return alternatives(self.offer, self.loaded)

    @cached_property
    def offers(self) -> dict[str, Offer]:
        """An offer for every option, by option id; the chosen one's is exact."""
        return {
            entry.id: self.offer if entry is self.chosen else self.quick_offer(entry.film_by_pane)
            for entry in self.options
            if entry.kind != "shade"
        }

    @cached_property
    def schedule(self) -> Schedule | None:
        """When to fit which pane; None where no day is set or nothing is fitted."""
        return schedule(self.situation, self.chosen, self.offer.labour)

    @cached_property
    def after(self) -> After:
        """What meters showed after the work, beside what was computed; empty where nothing was read."""
        return after(self.loaded, self.filmed, self.chosen)

    @cached_property
    def ranking(self) -> Ranking:
        """The panes that what is chosen puts film on, by relief for money."""
        return ranking(self.baseline, self.chosen, self.offer)

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
            room_year(room, self.options, self.loaded, self.filmed, self.skies, self.bins, self.job.energy)
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
            self.peak_gains(self.nothing),
            self.loaded,
            self.filmed,
            self.peaks,
            self.bad_hour,
            self.complained,
        )

    @property
    def no_money(self) -> str:
        """Why no yearly money is given, or empty where it is."""
        return self.no_rooms or self.job.unpriced

    @cached_property
    def _bills(self) -> tuple[np.ndarray, np.ndarray | None] | None:
        """Yearly bills and carbon dioxide by option and sample; None where ``no_money`` says why."""
        energy = self.job.energy
        if self.no_money or energy is None:
            return None
        use = worths.used(self.room_years, self.loaded)
        return worths.bills(use, self.tariff, self.bins, energy), worths.carbon(use, energy)

    @cached_property
    def bill_shares(self) -> dict[str, float]:
        """The likely saving of every option as a share of the bills now; empty where none is known."""
        if self._bills is None:
            return {}
        shares = worths.saved_shares(self._bills[0])
        return {entry.id: share for entry, share in zip(self.options, shares, strict=True)}

    def _worths(self, offers: Mapping[str, Offer]) -> dict[str, Worth]:
        if self._bills is None:
            return {}
        cost, co2 = self._bills
        growth = self.room_years[0].inputs["price_growth"]
        return {
            entry.id: worths.worth(index, entry, offers.get(entry.id), cost, co2, self.loaded, growth)
            for index, entry in enumerate(self.options)
        }

    @cached_property
    def estimates(self) -> dict[str, Worth]:
        """Every option's money by quick offers: what a recommendation that minds bills goes by."""
        return self._worths(self.quick_offers)

    @cached_property
    def worths(self) -> dict[str, Worth]:
        """Every option's money by its id; empty where ``no_money`` says why."""
        return self._worths(self.offers)
