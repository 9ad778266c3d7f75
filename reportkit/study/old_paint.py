"""Cautions about old paint and putty, that may hold lead: by country, and by whether the work is paid."""

from __future__ import annotations

from reportkit.base.translatable import english, joined, translatable
from reportkit.study import circumstances as on
from reportkit.study.caution import Advice, Rule

_RENOVATION = translatable(
    "In the United States, paid work that disturbs more than 6 square feet a room inside, or 20 outside, "
    "in homes and places for children built before 1978 falls under the renovation rule."
)

_TEST = english("Old paint and putty may hold lead. Test before scraping.")


def _paint(what: str, why: str, who: str, *, us: bool | None, paid: bool | None) -> Rule:
    source = "" if us is False else english("40 CFR 745")
    return Rule(Advice("lead_paint", what, why, who, source), on.old_paint(us=us, paid=paid), on.OLD_PAINT)


OLD_PAINT: tuple[Rule, ...] = (
    _paint(
        english("Old paint and putty may hold lead. Only a certified renovator may disturb it in paid work."),
        joined(
            " ",
            [_RENOVATION, translatable("This building may be one. Test before scraping, or have it tested.")],
        ),
        english("a certified renovator, and the state's lead programme where it has one"),
        us=True,
        paid=True,
    ),
    _paint(
        _TEST,
        joined(
            " ",
            [_RENOVATION, translatable("Own work in one's own home does not, but its dust is as harmful.")],
        ),
        english("a certified inspector or a test laboratory"),
        us=True,
        paid=False,
    ),
    _paint(
        _TEST,
        joined(" ", [_RENOVATION, translatable("Whether this work is paid was not told.")]),
        english("a certified renovator"),
        us=True,
        paid=None,
    ),
    _paint(
        _TEST,
        english(
            "Paint sold until the 1970s and later held lead in many countries; "
            "local law says who may disturb it."
        ),
        english("the local authority for health and safety"),
        us=False,
        paid=None,
    ),
    _paint(
        _TEST,
        joined(
            " ",
            [
                _RENOVATION,
                translatable("Elsewhere local law decides. Where the building stands was not told."),
            ],
        ),
        english("a certified renovator, or the local authority for health and safety"),
        us=None,
        paid=None,
    ),
)
