"""What the pictures read from the findings: the options by name and look, units shown, spans of time."""

from __future__ import annotations

import datetime as dt
import unicodedata
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, Protocol

from reportkit.base import units
from reportkit.documents.language.formats import Formats
from reportkit.documents.language.names import SHADES
from reportkit.documents.layouts import style
from reportkit.documents.layouts.style import Role
from reportkit.findings.options import OptionFound
from reportkit.study.ways import typed_id

if TYPE_CHECKING:
    from reportkit.findings.findings import Findings

#: A change below this share of the whole is told as no change.
NO_CHANGE = 0.005

#: Colors from no sun to the most, ever darker, so that they also rank in grey.
RAMP = ("#fdf0cf", "#f8dc97", "#efc055", "#d99a00", "#ad6a00", "#7a4200", "#472200")


class Wording(Protocol):
    """Sentences in the reader's language: an English template and its values in, a sentence out."""

    def __call__(self, template: str, **values: Any) -> str:
        """Translate a template and fill it."""
        ...


class Named(Protocol):
    """A record of the job that has a name: a film, face, room or glazing."""

    @property
    def id(self) -> str:
        """Its id."""
        ...

    @property
    def name(self) -> str:
        """Its name, or empty."""
        ...


@dataclass(frozen=True)
class Entry:
    """One option: its name, how it is drawn, and what was found of it."""

    id: str
    kind: str
    name: str
    role: Role
    chosen: bool
    option: OptionFound


def plain_name(text: str) -> str:
    """Return a typed name as one line, without signs that no picture can hold."""
    line = " ".join(text.split())
    return "".join(sign for sign in line if unicodedata.category(sign) not in ("Cc", "Cs", "Co"))


def named(records: Iterable[Named], identifier: str) -> str:
    """Return the name of a record by its id, as a picture can hold it; the id where it has none."""
    for record in records:
        if record.id == identifier:
            return plain_name(record.name) or identifier
    return identifier


#: Shades are grey, and differ from each other in dash and marker.
_SHADES = (
    ("dotted", "s"),
    ((0, (4.0, 2.0)), "*"),
    ((0, (7.0, 1.5, 1.0, 1.5)), "D"),
    ((0, (1.0, 2.5)), "^"),
    ("dashdot", "v"),
)


def _role(order: int) -> Role:
    """Return the look of the option number ``order``; past the sixth, dashes and markers change too."""
    role = style.film(order)
    again = order // len(style.FILMS)
    if not again:
        return role
    dash, marker, hatch = (style.film(order + step * again) for step in (1, 2, 3))
    return replace(role, dash=dash.dash, marker=marker.marker, hatch=hatch.hatch)


def options(findings: Findings, words: Wording) -> list[Entry]:
    """Return every option in the order of the findings."""
    entries: list[Entry] = []
    films = 0
    for option in findings.options:
        if option.kind == "none":
            name, role = words("bare glass"), style.BARE
        elif option.kind == "shade":
            name = words(SHADES[option.id])
            dash, marker = _SHADES[sum(entry.kind == "shade" for entry in entries) % len(_SHADES)]
            role = replace(style.SHADE, dash=dash, marker=marker)
        else:
            film = option.film
            typed = {typed_id(n): way.name for n, way in enumerate(findings.job.alternatives, start=1)}
            name = named(findings.job.films, film) if film else words("the films chosen")
            same = next((entry for entry in entries if film and entry.option.film == film), None)
            if same is None:
                role = _role(films)
                films += 1
            else:
                # the same film on fewer panes: its color, but its own dash, marker and hatch
                name = words("{film}, on some panes", film=name)
                role = replace(same.role, dash=(0, (1.0, 1.0)), marker="s", hatch="||||")
            name = plain_name(typed.get(option.id, name))
        entries.append(Entry(option.id, option.kind, name, role, option.chosen, option))
    return entries


def bare_of(entries: Sequence[Entry]) -> Entry:
    """Return the option of doing nothing."""
    return next(entry for entry in entries if entry.kind == "none")


def chosen_of(entries: Sequence[Entry]) -> Entry:
    """Return the option the offer is for; doing nothing where none is marked."""
    return next((entry for entry in entries if entry.chosen), None) or bare_of(entries)


def sentence(text: str) -> str:
    """Return text with its first letter a capital."""
    return text[:1].upper() + text[1:]


def hour_of(moment: dt.datetime) -> float:
    """Return the clock time in hours."""
    return moment.hour + moment.minute / 60 + moment.second / 3600


def clock(fmt: Formats, hour: int) -> str:
    """Return a full hour, 0 to 24, as the locale writes it."""
    return fmt.clock(dt.time(hour % 24))


def month_span(fmt: Formats, words: Wording, numbers: Sequence[int]) -> str:
    """Return a span of months in words."""
    first, last = fmt.month(numbers[0], short=False), fmt.month(numbers[-1], short=False)
    return words("{first} to {last}", first=first, last=last)


def other_half(summer: Sequence[int]) -> list[int]:
    """Return the months that follow a span of months, up to its start."""
    return [(summer[-1] + step) % 12 + 1 for step in range(12 - len(summer))]


def irradiance_shown(fmt: Formats) -> tuple[float, str]:
    """Return what W/m2 is multiplied with to be shown, and the unit shown."""
    if fmt.units == "us":
        return units.BTU_PER_HOUR_PER_W / units.SQUARE_FEET_PER_M2, "Btu/h·ft²"
    return 1.0, "W/m²"


def ramp(share: float) -> str:
    """Return a color for a share of the most sun, 0 to 1."""
    place = min(max(share, 0.0), 1.0) * (len(RAMP) - 1)
    low = min(int(place), len(RAMP) - 2)
    part = place - low
    ends = [[int(color[i : i + 2], 16) for i in (1, 3, 5)] for color in RAMP[low : low + 2]]
    mixed = [round(a + (b - a) * part) for a, b in zip(*ends, strict=True)]
    return "#" + "".join(f"{value:02x}" for value in mixed)


def ink_on(color: str) -> str:
    """Return the letter color that reads on a ground: dark or paper, whichever contrasts more."""

    def luminance(hexed: str) -> float:
        parts = [int(hexed[i : i + 2], 16) / 255 for i in (1, 3, 5)]
        linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
        return sum(weight * part for weight, part in zip((0.2126, 0.7152, 0.0722), linear, strict=True))

    ground = luminance(color)
    dark = (ground + 0.05) / (luminance(style.INK) + 0.05)
    light = (luminance(style.PAPER) + 0.05) / (ground + 0.05)
    return style.INK if dark >= light else style.PAPER
