"""How much an option relieves what the client complains of, kind by kind and pane by pane.

Each kind of complaint has an amount that troubles, by pane; relief is the share of it that an option takes
away, summed over the panes complained of. Heat: watts at the bad hour. Glare: light at the eye of somebody by
the pane. Fading: damage-weighted light (ISO 9050). Privacy: what shows from outside, by day and after dark
with lights on, each for its share of the hours somebody is there.
Bills have no amount by pane: their relief is the saving as a share of the bills.

Equal weight for every kind named is the tool's own choice; the amounts are what is compared, not comfort.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from reportkit.base.arrays import Array
from reportkit.study import dazzle, sight

if TYPE_CHECKING:
    from reportkit.job.model import Job
    from reportkit.study.options import Gains, Option
    from reportkit.study.situation import Situation


@dataclass(frozen=True, eq=False)
class Baseline:
    """What relief is counted from: leaving the glass as it is, and the hour at which most heat comes in.

    ``peak_gains`` gives an option's heat at the hours that peaks are read from; ``bad_hour`` is one of them.
    """

    situation: Situation
    nothing: Option
    peak_gains: Callable[[Option], Gains]
    bad_hour: int

    @property
    def job(self) -> Job:
        """The job as read."""
        return self.situation.job


def areas(job: Job) -> Array:
    """Return the area of each of P panes, all of its kind together, (P,) [m2]."""
    return np.array([pane.area_mm2 / 1e6 * pane.quantity for pane in job.panes])


def _rated(baseline: Baseline, option: Option, name: str) -> Array:
    """Return a rating of every pane as the option leaves it."""
    values = []
    for pane, film in zip(baseline.job.panes, option.film_by_pane, strict=True):
        rating = baseline.situation.filmed[pane.glazing, film].rating
        values.append(np.nan if rating is None else getattr(rating, name))
    return np.array(values)


def _heat(baseline: Baseline, option: Option) -> Array:
    watts: Array = baseline.peak_gains(option).by_pane[baseline.bad_hour]
    return watts


def _glare(baseline: Baseline, option: Option) -> Array:
    alike = np.array([pane.quantity for pane in baseline.job.panes])
    lux: Array = dazzle.at_the_eye(baseline.situation, option) * alike
    return lux


def _fading(baseline: Baseline, option: Option) -> Array:
    sun = baseline.situation.sun.panes.total.sum(axis=0) * areas(baseline.job)
    dose: Array = sun * _rated(baseline, option, "t_fading")
    return dose


def _privacy(baseline: Baseline, option: Option) -> Array:
    dark = sight.dark_share(baseline.situation)
    by_day, after_dark = (sight.by_pane(baseline.situation, option, when) for when in ("day", "dark"))
    seen: Array = areas(baseline.job) * ((1 - dark) * by_day + dark * after_dark)
    return seen


#: The troubling amount by pane, shape (P,), for each kind of complaint. A new kind is a line here and a word
#: in the job's model.
AMOUNTS: dict[str, Callable[[Baseline, Option], Array]] = {
    "heat": _heat,
    "glare": _glare,
    "fading": _fading,
    "privacy": _privacy,
}
BILLS = "bills"


def by_pane(baseline: Baseline, option: Option) -> Array:
    """Return each pane's part of an option's relief, (P,) [1], mean over the kinds that have panes.

    Panes that are not complained of count nothing. The sum is the option's relief but for bills.
    """
    kinds = [kind for kind in baseline.job.complaint.kinds if kind in AMOUNTS]
    # bills alone: what lets in most heat costs most to cool
    mean: Array = np.mean([parts(baseline, option, kind) for kind in kinds or ["heat"]], axis=0)
    return mean


def parts(baseline: Baseline, option: Option, kind: str) -> Array:
    """Return each pane's part of an option's relief of one kind of complaint, (P,) [1]."""
    bare = np.where(baseline.situation.complained, AMOUNTS[kind](baseline, baseline.nothing), 0.0)
    left = np.where(baseline.situation.complained, AMOUNTS[kind](baseline, option), 0.0)
    whole = float(bare.sum())
    return (bare - left) / whole if whole > 0 else np.zeros(len(bare))


def relief(baseline: Baseline, option: Option, bill_share: float | None = None) -> dict[str, float]:
    """Return an option's relief of every kind named in the complaint [1]; bills only where they are known.

    Parameters
    ----------
    baseline
        What it is counted from.
    option
        The option.
    bill_share
        Its saving as a share of the bills now [1], None where that is not known.
    """
    by_kind: dict[str, float] = {}
    for kind in baseline.job.complaint.kinds:
        if kind in AMOUNTS:
            by_kind[kind] = float(parts(baseline, option, kind).sum())
        elif bill_share is not None:
            by_kind[kind] = bill_share
    return by_kind


def overall(reliefs: dict[str, float]) -> float:
    """Return the mean over the kinds [1]; 0 where none is known."""
    return float(np.mean(list(reliefs.values()))) if reliefs else 0.0
