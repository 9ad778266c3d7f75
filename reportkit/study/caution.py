"""One caution, and the rule that says when a job calls for it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

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


@dataclass(frozen=True)
class Rule:
    """A caution, the test that says whether the job calls for it, and the panes it is about."""

    advice: Advice
    applies: Callable[[Study], bool]
    panes: Callable[[Study], Found] | None = None
