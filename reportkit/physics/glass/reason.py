"""Why a film is refused on a pane or asked about, and who decides it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, get_args

from reportkit.base.translatable import english

#: What the breakage screen says, rising.
Decision = Literal["nothing_found", "ask", "refuse"]
DECISIONS: tuple[Decision, ...] = get_args(Decision)
AUTHORITY = (
    english("the film maker's glass-compatibility chart"),
    english("the glass or window maker"),
    english("a licensed glazier or engineer"),
    english("the building official"),
)


@dataclass(frozen=True)
class Reason:
    """One reason behind a decision.

    Attributes
    ----------
    decision : Decision
        ``ask`` or ``refuse``.
    text : str
    who : str
        Who decides it.
    about : str
        The quantity, where the reason is one of too much: ``difference`` [K], ``absorptance`` [1], ``area``
        [m2], ``longest side`` [mm], ``thickness`` [mm], ``altitude`` [m], ``age`` [years], ``slope`` [deg].
    value, limit : float or None
        The most found, and allowed where a limit is known, in that unit.
    makers : bool
        Whether the film maker's written approval of this film on this glass settles it.
    least : float or None
        The least found, where it is not known closer than between two ends.
    """

    decision: Decision
    text: str
    who: str
    about: str = ""
    value: float | None = None
    limit: float | None = None
    makers: bool = False
    least: float | None = None
