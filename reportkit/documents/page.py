"""What every section needs at hand: the findings, the way numbers are written, the words, the names."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property
from typing import TYPE_CHECKING

from reportkit.documents.language.formats import Formats
from reportkit.documents.language.names import SHADES
from reportkit.documents.language.words import Words
from reportkit.study.ways import typed_id

if TYPE_CHECKING:
    from reportkit.documents.figures.facts import Named
    from reportkit.findings.findings import Findings
    from reportkit.findings.options import OptionFound
    from reportkit.findings.rooms import Spread
    from reportkit.job.reading.photos import Photo
    from reportkit.study.options import Option


#: A range wider than this part of its middle is shown as a range (common practice, no source).
WIDE = 0.5


class Page:
    """What was found, seen by a reader.

    Parameters
    ----------
    findings
        What was found, of a study or read back.
    photos
        The photos of panes by the pane's id, and each photo's name among the inputs.

    Attributes
    ----------
    job
        The job as read.
    fmt, words
        The reader's numbers and language.
    """

    def __init__(self, findings: Findings, photos: Mapping[str, tuple[str, Photo]] | None = None) -> None:
        self.findings = findings
        self.photos = dict(photos or {})
        self.job = job = findings.job
        locale, language = job.locale or job.language, Words(job.language).language
        self.fmt = Formats(locale, units=job.units, currency=job.currency, language=language)
        self.words = Words(job.language, self.fmt)

    @cached_property
    def paper(self) -> str:
        """``us-letter`` or ``a4``: the job's, else the locale's."""
        job = self.job
        chosen = {"letter": "us-letter", "a4": "a4"}.get(job.paper or "")
        return chosen or ("us-letter" if job.units == "us" else self.fmt.paper)

    def film(self, identifier: str | None) -> str:
        """Return a film's name, or the words for bare glass."""
        return self.words("bare glass") if identifier is None else _named(self.job.films, identifier)

    @cached_property
    def films(self) -> tuple[str, ...]:
        """The ids of the films compared."""
        return tuple(dict.fromkeys(entry.film for entry in self.findings.glazings if entry.film))

    def room(self, identifier: str) -> str:
        """Return a room's name."""
        return _named(self.job.rooms, identifier)

    def face(self, identifier: str) -> str:
        """Return a face's name."""
        return _named(self.job.faces, identifier)

    def glazing(self, identifier: str) -> str:
        """Return a glazing's name."""
        return _named(self.job.glazings, identifier)

    def option(self, entry: OptionFound | Option) -> str:
        """Return the name of an option, of the findings or of a study."""
        if entry.kind == "none":
            return self.words("Leave the glass as it is")
        if entry.kind == "shade":
            return self.words(SHADES[entry.id])
        typed = {typed_id(n): way.name for n, way in enumerate(self.job.alternatives, start=1)}
        if entry.id in typed:
            return typed[entry.id]
        if entry.film:
            name = self.film(entry.film)
            mixed = entry.id not in (entry.film, "nothing")
            return self.words("{film}, on some panes", film=name) if mixed else name
        return self.words("The films you chose")

    def option_named(self, identifier: str) -> OptionFound:
        """Return an option by its id."""
        return next(entry for entry in self.findings.options if entry.id == identifier)

    def when(self, moment: dt.datetime) -> str:
        """Return a moment as day and clock time."""
        return self.words("{day}, about {time}", day=self.fmt.day(moment.date()), time=self.hour(moment))

    def hour(self, moment: dt.datetime) -> str:
        """Return the clock time of a moment, to the hour it lies in the middle of."""
        return self.fmt.clock(moment)

    def months(self, numbers: Sequence[int]) -> str:
        """Return the span of half a year's months."""
        return self.words(
            "{first} to {last}",
            first=self.fmt.month(numbers[0], short=False),
            last=self.fmt.month(numbers[-1], short=False),
        )

    @cached_property
    def bare(self) -> OptionFound:
        """The option of doing nothing."""
        return next(entry for entry in self.findings.options if entry.kind == "none")

    @cached_property
    def chosen(self) -> OptionFound:
        """The option the offer is for."""
        return next(entry for entry in self.findings.options if entry.chosen)

    def hours(self, spread: Spread) -> str:
        """Return a number of hours to two digits, or its range where that is wide, as tables write it."""
        words, fmt = self.words, self.fmt
        middle, low, high = spread.p50, spread.p10, spread.p90
        if high >= 1 and high - low > WIDE * middle:
            least, most = fmt.ends(low, high)
            return words("{low} to {high}", low=least, high=most)
        return words("hardly any") if middle < 1 else words("about {n}", n=fmt.significant(middle))

    def less(self, before: float, after: float) -> str:
        """Return by what share a power falls [W], as it follows from both as printed, to three figures."""
        shown, then = (float(f"{power:.3g}") for power in (before, after))
        return self.fmt.percent(1 - then / shown if shown > 0 else 0.0)

    @property
    def own_home(self) -> bool:
        """Whether people fit their own windows: a plan with its cost in place of an offer with its price."""
        return self.job.own_home

    @property
    def asked_label(self) -> str:
        """The heading over what troubles whoever reads it."""
        return self.words("What you wanted") if self.own_home else self.words("What you asked")

    @property
    def price_label(self) -> str:
        """What a total is called: the price to a client, the cost to people in their own home."""
        return self.words("Cost") if self.own_home else self.words("Price, fitted")

    @property
    def leaves_glass(self) -> bool:
        """Whether the offer is to do nothing."""
        return self.chosen.kind == "none"

    @property
    def whole_year(self) -> bool:
        """Whether a whole year of weather is known."""
        return self.findings.weather.kind != "clear_sky"


def _named(records: Iterable[Named], identifier: str) -> str:
    """Return the name of a record by its id; the id where it has none."""
    return next((record.name for record in records if record.id == identifier), "") or identifier
