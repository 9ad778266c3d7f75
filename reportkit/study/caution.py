"""One caution, and the rule that says when a job calls for it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from reportkit.base.translatable import english

if TYPE_CHECKING:
    from reportkit.study.circumstances import Found
    from reportkit.study.study import Study


@dataclass(frozen=True)
class Advice:
    """One caution in plain words, its law or guide if one is named, its panes if not about the whole job."""

    id: str
    what: str
    why: str
    who: str
    source: str = ""
    panes: tuple[str, ...] = ()


#: Who decides in one's own home, where a business would name its client or its fitter.
AT_HOME = {
    "the client": english("you"),
    "the client, after a trial piece": english("you, after a trial piece"),
    "the client, who may choose the place of the line": english("you: choose the place of the line"),
    "the client and the fitter, in writing": english("you; in writing, where somebody else fits the film"),
    "the fitter": english("whoever fits the film"),
    "the fitter, by the film maker's instructions": english(
        "whoever fits the film, by the film maker's instructions"
    ),
}


@dataclass(frozen=True)
class Rule:
    """A caution, the test that says whether the job calls for it, and the panes it is about."""

    advice: Advice
    applies: Callable[[Study], bool]
    panes: Callable[[Study], Found] | None = None
