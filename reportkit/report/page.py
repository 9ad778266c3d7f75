"""What every section needs at hand: the findings, the way numbers are written, the words, the names."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, Any

from reportkit.report.formats import Formats
from reportkit.report.names import SHADES
from reportkit.report.words import Words

if TYPE_CHECKING:
    from reportkit.findings.findings import Results
    from reportkit.findings.options import OptionFound
    from reportkit.job.photos import Photo
    from reportkit.report.figures.facts import Named
    from reportkit.study.options import Option


class Page:
    """What was found, seen by a reader.

    Parameters
    ----------
    results
        What was found, of a study or read back.
    photos
        The photos of panes by the pane's id, and each photo's name among the inputs.

    Attributes
    ----------
    findings
        The same as records.
    fmt, words
        The reader's numbers and language.
    """

    def __init__(self, results: Results, photos: Mapping[str, tuple[str, Photo]] | None = None) -> None:
        self.results = results
        self.findings = results.findings
        self.photos = dict(photos or {})
        job = self.findings.job
        locale, language = job.locale or job.language, Words(job.language).language
        self.fmt = Formats(locale, units=job.units, currency=job.currency, language=language)
        self.words = Words(job.language, self.fmt)

    @property
    def job(self) -> Mapping[str, Any]:
        """The job as data of results.json, for the parts that read data."""
        data: Mapping[str, Any] = self.results["job"]
        return data

    @cached_property
    def paper(self) -> str:
        """``us-letter`` or ``a4``: the job's, else the locale's."""
        job = self.findings.job
        chosen = {"letter": "us-letter", "a4": "a4"}.get(job.paper or "")
        return chosen or ("us-letter" if job.units == "us" else self.fmt.paper)

    def film(self, identifier: str | None) -> str:
        """Return a film's name, or the words for bare glass."""
        return self.words("bare glass") if identifier is None else _named(self.findings.job.films, identifier)

    @cached_property
    def films(self) -> tuple[str, ...]:
        """The ids of the films compared."""
        return tuple(dict.fromkeys(entry.film for entry in self.findings.glazings if entry.film))

    def room(self, identifier: str) -> str:
        """Return a room's name."""
        return _named(self.findings.job.rooms, identifier)

    def face(self, identifier: str) -> str:
        """Return a face's name."""
        return _named(self.findings.job.faces, identifier)

    def glazing(self, identifier: str) -> str:
        """Return a glazing's name."""
        return _named(self.findings.job.glazings, identifier)

    def option(self, entry: OptionFound | Option | Mapping[str, Any]) -> str:
        """Return the name of an option, of the findings or of a study."""
        if isinstance(entry, Mapping):
            return self._option(entry["id"], entry["kind"], entry["film"])
        return self._option(entry.id, entry.kind, entry.film)

    def _option(self, identifier: str, kind: str, film: str | None) -> str:
        if kind == "none":
            return self.words("Leave the glass as it is")
        if kind == "shade":
            return self.words(SHADES[identifier])
        if film:
            name = self.film(film)
            mixed = identifier not in (film, "nothing")
            return self.words("{film}, on some panes", film=name) if mixed else name
        return self.words("The films you chose")

    def option_named(self, identifier: str) -> OptionFound:
        """Return an option by its id."""
        return next(entry for entry in self.findings.options if entry.id == identifier)

    def when(self, moment: dt.datetime | str) -> str:
        """Return a time, a moment or as ISO text, as day and clock time."""
        if isinstance(moment, str):
            moment = dt.datetime.fromisoformat(moment)
        return self.words("{day}, about {time}", day=self.fmt.day(moment.date()), time=self.hour(moment))

    def hour(self, moment: dt.datetime | str) -> str:
        """Return the clock time of a moment, or of ISO text, to the hour it lies in the middle of."""
        return self.fmt.clock(dt.datetime.fromisoformat(moment) if isinstance(moment, str) else moment)

    def months(self, numbers: Sequence[int]) -> str:
        """Return the span of half a year's months."""
        return self.words(
            "{first} to {last}",
            first=self.fmt.month(numbers[0], short=False),
            last=self.fmt.month(numbers[-1], short=False),
        )

    @cached_property
    def bare_option(self) -> OptionFound:
        """The option of doing nothing."""
        return next(entry for entry in self.findings.options if entry.kind == "none")

    @cached_property
    def chosen_option(self) -> OptionFound:
        """The option the offer is for."""
        return next(entry for entry in self.findings.options if entry.chosen)

    @cached_property
    def nothing(self) -> Mapping[str, Any]:
        """The option of doing nothing."""
        return next(entry for entry in self.results["options"] if entry["kind"] == "none")

    @cached_property
    def chosen(self) -> Mapping[str, Any]:
        """The option the offer is for."""
        return next(entry for entry in self.results["options"] if entry["chosen"])

    def less(self, before: float, after: float) -> str:
        """Return by what share a power falls [W], as it follows from both as printed, to three figures."""
        shown, then = (float(f"{power:.3g}") for power in (before, after))
        return self.fmt.percent(1 - then / shown if shown > 0 else 0.0)

    @property
    def leaves_glass(self) -> bool:
        """Whether the offer is to do nothing."""
        return self.chosen_option.kind == "none"

    @property
    def whole_year(self) -> bool:
        """Whether a whole year of weather is known."""
        return self.findings.weather.kind != "clear_sky"


def _named(records: Iterable[Named], identifier: str) -> str:
    """Return the name of a record by its id; the id where it has none."""
    return next((record.name for record in records if record.id == identifier), "") or identifier
