"""What the client asked about, kind by kind: a sentence with the figure now and then, and the key facts."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from reportkit.base.translatable import english
from reportkit.documents.blocks import Fact
from reportkit.documents.language.names import REASONS
from reportkit.documents.page import Page
from reportkit.documents.sections.sun import seen_for
from reportkit.documents.sections.worth import heating_counted, verdict
from reportkit.documents.together import in_rooms
from reportkit.study.relief import BILLS
from reportkit.study.sight import SIDES

if TYPE_CHECKING:
    from reportkit.findings.options import AskedFound, OptionFound, Shows

#: A change by less than this part is not told as one (common practice, no source).
LEAST = 0.005

HEAT = "heat"


def kinds(page: Page) -> tuple[str, ...]:
    """Return what was asked about, the first first."""
    return tuple(page.job.complaint.kinds)


def sentences(page: Page) -> list[str]:
    """Return for each kind asked about what the choice does to it."""
    return [TOLD[kind](page) for kind in kinds(page)]


def facts(page: Page) -> list[Fact]:
    """Return the figures of each kind asked about, then and now."""
    return [fact for kind in kinds(page) for fact in FACTS[kind](page)]


def fact(page: Page, label: str, now: str, then: str) -> Fact:
    """Return a figure as the choice leaves it, with what it is now where that differs in kind."""
    return Fact(label, then, "" if page.leaves_glass else page.words("now {value}", value=now))


def _heat(page: Page) -> str:
    words, fmt = page.words, page.fmt
    before, after = page.bare.peak_solar_w, page.chosen.peak_solar_w
    values = {
        "when": page.when(page.findings.bad_day.time),
        "before": fmt.power(before, 3),
        "after": fmt.power(after, 3),
    }
    if abs(before - after) < LEAST * max(before, 1):
        return words(
            "At the worst hour ({when}) the sun's heat through the glass changes by less than one part in 200.",
            **values,
        )
    if after > before:
        return words(
            "At the worst hour ({when}) the sun's heat through the glass rises from {before} to {after}.",
            **values,
        )
    return words(
        "At the worst hour ({when}) the sun's heat through the glass falls from {before} to {after}, {share} less.",
        share=page.less(before, after),
        **values,
    )


def _hot(page: Page) -> list[Fact]:
    words, fmt = page.words, page.fmt
    now, then = page.bare, page.chosen
    label = words("Sun's heat at the worst hour")
    hot = [fact(page, label, *(fmt.power(entry.peak_solar_w, 3) for entry in (now, then)))]
    if now.hot_hours is not None and then.hot_hours is not None:
        label = words("Hours too hot in a year")
        hot.append(fact(page, label, page.hours(now.hot_hours), page.hours(then.hot_hours)))
    return hot


def _asked(option: OptionFound) -> AskedFound:
    """Return the figures of what was asked about, which bare glass and every film have."""
    assert option.asked is not None
    return option.asked


def _at_eye(option: OptionFound) -> float:
    glare = _asked(option).glare
    assert glare is not None
    return glare.light_at_eye_lx


def _light(page: Page) -> tuple[float, float]:
    """Return the light at the eye now and then, in the reader's unit."""
    factor = page.fmt.light_unit[1]
    return _at_eye(page.bare) * factor, _at_eye(page.chosen) * factor


def _shown(page: Page, light: float) -> str:
    return f"{page.fmt.significant(light, 3)}\u00a0{page.fmt.light_unit[0]}"


def _glare(page: Page) -> str:
    """Say what becomes of the light at the eye, and of the sun itself where it is in view."""
    seen = page.findings.sun_in_view
    if seen is None or seen.time is None:
        return _at_the_eye(page)
    in_view = page.words(
        "For {hours} the sun itself stands in the window there: film dims it, only a blind stops it.",
        hours=seen_for(page, seen),
    )
    return f"{_at_the_eye(page)} {in_view}"


def _at_the_eye(page: Page) -> str:
    words = page.words
    before, after = _light(page)
    values = {
        "distance": page.fmt.distance_m(page.findings.by_window.distance_m, 0),
        "before": _shown(page, before),
        "after": _shown(page, after),
    }
    if abs(before - after) <= LEAST * before:
        return words(
            "Light at the eye, {distance} from the glass, changes by less than one part in 200.", **values
        )
    if after > before:
        return words(
            "Light at the eye, {distance} from the glass, rises from {before} to {after}, on average over the "
            "daylight hours somebody is there.",
            **values,
        )
    return words(
        "Light at the eye, {distance} from the glass, falls from {before} to {after}, {share} less, on average "
        "over the daylight hours somebody is there.",
        share=page.less(before, after),
        **values,
    )


def _bright(page: Page) -> list[Fact]:
    now, then = (_shown(page, light) for light in _light(page))
    return [fact(page, page.words("Light at the eye"), now, then)]


def _left(page: Page) -> float:
    fading = _asked(page.chosen).fading
    assert fading is not None
    return fading.left


def _fading(page: Page) -> str:
    left = page.fmt.percent(_left(page))
    return page.words("Of the light that fades things, {left} of what comes in now is left.", left=left)


def _faded(page: Page) -> list[Fact]:
    words, fmt = page.words, page.fmt
    if page.leaves_glass:
        return [Fact(words("Fading light let in"), fmt.percent(page.bare.t_fading))]
    left = _left(page)
    return [Fact(words("Fading light left"), fmt.percent(left), words("of what comes in now"))]


def _shows(page: Page) -> tuple[Shows, Shows]:
    """Return how much of the room shows from outside now and then."""
    now, then = _asked(page.bare).privacy, _asked(page.chosen).privacy
    assert now is not None and then is not None
    return now, then


def _privacy(page: Page) -> str:
    now, then = _shows(page)
    told = page.words(
        "What shows of the room from outside goes from {day} to {day_then} by day, and from {dark} to {dark_then} "
        "after dark with lights on.",
        day=_some(page, now.shows_by_day),
        day_then=_some(page, then.shows_by_day),
        dark=_some(page, now.shows_after_dark),
        dark_then=_some(page, then.shows_after_dark),
    )
    if not then.without_film:
        return told
    stays = page.words(
        "No film comes on {panes}: what shows there stays as it is now.",
        panes=in_rooms(page, then.without_film),
    )
    return f"{told} {stays}"


def _some(page: Page, share: float) -> str:
    """Return a share of what shows in whole percent; none of it and all of it are promised to nobody."""
    words, percent = page.words, page.fmt.percent
    if percent(share) == percent(0):
        return words("under {share}", share=percent(0.01))
    if percent(share) == percent(1):
        return words("over {share}", share=percent(0.99))
    return percent(share)


def _seen(page: Page) -> list[Fact]:
    return seen(page, *_shows(page))


def seen(page: Page, now: Shows, then: Shows) -> list[Fact]:
    """Return how much shows from outside then and now, with how bright the day is taken to be."""
    words = page.words
    day, dark = (
        fact(page, label, _some(page, before), _some(page, after))
        for label, before, after in (
            (words("Seen from outside by day"), now.shows_by_day, then.shows_by_day),
            (words("Seen after dark, lights on"), now.shows_after_dark, then.shows_after_dark),
        )
    )
    room, outdoors = SIDES["day"]
    times = page.fmt.number(outdoors / room, 1)
    taken = words("outside {times} times as bright as inside", times=times)
    bare = words("no film on {panes}", panes=in_rooms(page, then.without_film)) if then.without_film else ""
    note = ", ".join(part for part in (day.note, taken, bare) if part)
    return [Fact(day.label, day.value, note), dark]


def _bills(page: Page) -> str:
    """Say what is saved a year and whether it pays, or why that is not told."""
    if page.chosen.saving_per_year is None:
        why = page.words(REASONS[page.chosen.withheld["saving_per_year"]])
        return page.words("What it saves on energy bills is not given: {why}.", why=why)
    return verdict(page, page.chosen)


def bill(page: Page) -> list[Fact]:
    """Return what the energy bills do in a year with what is chosen; nothing without film."""
    return [] if page.leaves_glass else bill_of(page, page.chosen)


def bill_of(page: Page, entry: OptionFound) -> list[Fact]:
    """Return what the energy bills do in a year with an option: saved, added, or cannot be told."""
    words, fmt = page.words, page.fmt
    saving = entry.saving_per_year
    label = words("Energy bills, a year")
    if saving is None:
        why = words(REASONS[entry.withheld["saving_per_year"]])
        return [Fact(label, words("not given"), why)]
    low, high = float(saving.p10), float(saving.p90)
    counted = heating_counted(page)
    if low > 0:
        return [Fact(label, fmt.money_range(low, high), words(SAVED[counted]))]
    if high < 0:
        return [Fact(label, fmt.money_range(-high, -low), words(MORE[counted]))]
    return [Fact(label, words("cannot tell"), fmt.money_range(low, high))]


#: What a bill's figure holds, less to pay and more, by how much of the heating added is counted.
SAVED = {
    "all": english("saved"),
    "part": english("saved, heating added counted in part"),
    "none": english("saved, heating added not counted"),
}
MORE = {
    "all": english("more to pay, heating added"),
    "part": english("more to pay, heating added counted in part"),
    "none": english("more to pay, heating added not counted"),
}

#: The sentence of each kind of complaint. A new kind is a line here, one below and a word in the job's model.
TOLD: dict[str, Callable[[Page], str]] = {
    HEAT: _heat,
    "glare": _glare,
    "fading": _fading,
    "privacy": _privacy,
    BILLS: _bills,
}

#: The key facts of each kind of complaint.
FACTS: dict[str, Callable[[Page], list[Fact]]] = {
    HEAT: _hot,
    "glare": _bright,
    "fading": _faded,
    "privacy": _seen,
    BILLS: bill,
}
