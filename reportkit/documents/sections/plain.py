"""What was asked about, in the client's own measure: hours too hot, light at the desk, fading, being seen, bills.

No power, energy or unit of light: those stand in the reasons and numbers (`asked`). Each measure has a sentence
for page one, and a short figure that whole ways are compared by.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from reportkit.base.translatable import english
from reportkit.documents.blocks import Fact
from reportkit.documents.page import Page
from reportkit.documents.sections import asked
from reportkit.documents.sections.asked import HEAT, LEAST, kinds
from reportkit.study.relief import BILLS

if TYPE_CHECKING:
    from reportkit.findings.options import OptionFound

Figures = Callable[["Page", "OptionFound"], list[Fact]]


def sentences(page: Page) -> list[str]:
    """Return for each kind asked about what the choice does to it, in the client's measure."""
    return [TOLD[kind](page) for kind in kinds(page)]


def figures(page: Page, entry: OptionFound) -> list[Fact]:
    """Return for each kind asked about the figures of an option, with what they are now."""
    return [fact for kind in kinds(page) for fact in FIGURES[kind](page, entry)]


def _less(page: Page, before: float, after: float) -> str:
    """Return a change as a share in words."""
    words = page.words
    if abs(before - after) <= LEAST * max(before, 1e-9):
        return words("no change")
    if after > before:
        return words("{share} more", share=page.fmt.percent(after / before - 1))
    return words("{share} less", share=page.less(before, after))


def _heat(page: Page) -> str:
    words, now, then = page.words, page.bare.hot_hours, page.chosen.hot_hours
    when = page.when(page.findings.bad_day.time)
    less = _less(page, page.bare.peak_solar_w, page.chosen.peak_solar_w)
    worst = words(
        "At the worst hour ({when}) the sun's heat through the glass: {less}.", when=when, less=less
    )
    if now is None or then is None:
        return worst
    hot = words(
        "Hours in a year when it is too hot: {then} instead of {now}.",
        then=page.hours(then),
        now=page.hours(now),
    )
    return f"{hot} {worst}"


#: What the worst hour is the worst of.
WORST_OF = {
    "warm": english(
        "The worst hour is, of all hours with {base} or more outside, the one at which most of the sun's heat comes in "
        "through {panes}."
    ),
    "half": english(
        "The worst hour is, of all hours from {months}, the one at which most of the sun's heat comes in through {panes}."
    ),
    "year": english("The worst hour is the one at which most of the sun's heat comes in through {panes}."),
}


def worst_hour(page: Page) -> str:
    """Return what the worst hour is the worst of, and on which face; empty where heat was not asked about."""
    if HEAT not in kinds(page):
        return ""
    words, fmt, bare, bad = page.words, page.fmt, page.bare, page.findings.bad_day
    outdoor = bad.outdoor_c[bad.hours.index(bad.time)]
    if outdoor is None:
        of = "half" if bad.time.month in bare.summer_months else "year"
    else:
        of = "warm" if outdoor >= bare.cold_below_c else "year"
    told = [
        words(
            WORST_OF[of],
            base=fmt.temperature(bare.cold_below_c, 0),
            months=page.months(bare.summer_months),
            panes=words("the panes of {room}", room=page.room(bad.room))
            if bad.room
            else words("all panes together"),
        )
    ]
    faces: dict[str, float] = {}
    for pane in page.findings.panes:
        if bad.room in (None, pane.room):
            faces[pane.face] = faces.get(pane.face, 0.0) + pane.peak_solar_w
    whole = sum(faces.values())
    if len(faces) > 1 and whole > 0:
        most = max(faces, key=lambda face: faces[face])
        share = fmt.percent(faces[most] / whole)
        told.append(words("{share} of it comes in through {face}.", share=share, face=page.face(most)))
    if page.findings.weather.kind != "typical_year":
        told.append(words("Looked at are clear days, the 21st of each month."))
    return " ".join(told)


def no_saving(page: Page) -> str:
    """Return why no saving is told though rates of energy, or rooms without a year, were; else empty."""
    rooms = any(room.heat for room in page.job.rooms) and not page.whole_year
    untold = page.chosen.saving_per_year is None and BILLS not in kinds(page)
    return asked.TOLD[BILLS](page) if untold and (page.job.energy or rooms) else ""


def _hot(page: Page, entry: OptionFound) -> list[Fact]:
    words, now, then = page.words, page.bare.hot_hours, entry.hot_hours
    hot = [
        Fact(
            words("Sun's heat at the worst hour"),
            _less(page, page.bare.peak_solar_w, entry.peak_solar_w),
        )
    ]
    if now is not None and then is not None:
        hot.insert(0, asked.fact(page, words("Hours too hot in a year"), page.hours(now), page.hours(then)))
    return hot


def _light(entry: OptionFound) -> float:
    assert entry.asked is not None and entry.asked.glare is not None  # of a kind that was asked about
    return entry.asked.glare.light_at_eye_lx


def _glare(page: Page) -> str:
    return page.words(
        "Light in the eyes of somebody at the window, by day: {less}.",
        less=_less(page, _light(page.bare), _light(page.chosen)),
    )


def _dazzle(page: Page, entry: OptionFound) -> list[Fact]:
    return [
        Fact(page.words("Light in the eyes at the window"), _less(page, _light(page.bare), _light(entry)))
    ]


def _faded(page: Page, entry: OptionFound) -> list[Fact]:
    assert entry.asked is not None and entry.asked.fading is not None
    left = page.fmt.percent(entry.asked.fading.left)
    return [Fact(page.words("Fading light left"), left, page.words("of what comes in now"))]


def _seen(page: Page, entry: OptionFound) -> list[Fact]:
    now = page.bare.asked
    assert entry.asked is not None and entry.asked.privacy is not None
    assert now is not None and now.privacy is not None
    return asked.seen(page, now.privacy, entry.asked.privacy)


def _bills(page: Page, entry: OptionFound) -> list[Fact]:
    return asked.bill_of(page, entry)


def gives_up(page: Page, entry: OptionFound) -> list[str]:
    """Return as short sentences what an option costs beside money."""
    words, fmt, bare = page.words, page.fmt, page.bare
    told = []
    if entry.t_visible is not None and bare.t_visible is not None:
        told.append(
            words(
                "Daylight: {then} of it comes in, {now} now.",
                then=fmt.percent(entry.t_visible),
                now=fmt.percent(bare.t_visible),
            )
        )
    out, before = entry.r_visible_out, bare.r_visible_out
    if out is not None and before is not None and out > before + MIRRORED:
        told.append(
            words(
                "Look: the glass mirrors {then} of the light to the street, {now} now.",
                then=fmt.percent(out),
                now=fmt.percent(before),
            )
        )
    warm, cold = entry.kept_out_warm_kwh, entry.kept_out_cold_kwh
    if warm is not None and cold is not None and cold > warm:
        told.append(words("Winter: most of the sun it keeps out would have helped to heat."))
    return told


#: More mirrored than this share is told [1] (common practice, no source).
MIRRORED = 0.05

#: The sentence of each kind of complaint on page one.
TOLD: dict[str, Callable[[Page], str]] = {
    HEAT: _heat,
    "glare": _glare,
    "fading": asked.TOLD["fading"],
    "privacy": asked.TOLD["privacy"],
    BILLS: asked.TOLD[BILLS],
}

#: The figures of each kind of complaint, by which ways are compared.
FIGURES: dict[str, Figures] = {
    HEAT: _hot,
    "glare": _dazzle,
    "fading": _faded,
    "privacy": _seen,
    BILLS: _bills,
}

#: What a way found does better than the one offered, as its name.
BETTER = {
    ("relief",): english("More relief"),
    ("light",): english("More daylight"),
    ("price",): english("A lower price"),
    ("relief", "light"): english("More relief and daylight"),
    ("relief", "price"): english("More relief, a lower price"),
    ("light", "price"): english("More daylight, a lower price"),
    ("relief", "light", "price"): english("More relief and daylight, a lower price"),
    ("focus",): english("Only the panes it is about"),
}
