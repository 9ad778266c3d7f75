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
from typing import TYPE_CHECKING

import numpy as np

from reportkit.study import dazzle, sight

if TYPE_CHECKING:
    from reportkit.study import Study
    from reportkit.study.options import Option

Array = np.ndarray


def areas(study: Study) -> Array:
    """Return the area of each of P panes, all of its kind together, (P,) [m2]."""
    return np.array([float(pane.width * pane.height) / 1e6 * pane.quantity for pane in study.job.panes])


def _rated(study: Study, option: Option, name: str) -> Array:
    """Return a rating of every pane as the option leaves it."""
    values = []
    for pane, film in zip(study.job.panes, option.film_by_pane, strict=True):
        rating = study.fittings[pane.glazing, film].rating
        values.append(np.nan if rating is None else getattr(rating, name))
    return np.array(values)


def _heat(study: Study, option: Option) -> Array:
    return study.peak_gains(option).by_pane[study.bad_hour]


def _glare(study: Study, option: Option) -> Array:
    alike = np.array([pane.quantity for pane in study.job.panes])
    return dazzle.at_the_eye(study, option).sum(axis=0) * alike


def _fading(study: Study, option: Option) -> Array:
    sun = study.sun.panes.total.sum(axis=0) * areas(study)
    return sun * _rated(study, option, "t_fading")


def _privacy(study: Study, option: Option) -> Array:
    dark = sight.dark_share(study)
    by_day, after_dark = (sight.by_pane(study, option, when) for when in ("day", "dark"))
    return areas(study) * ((1 - dark) * by_day + dark * after_dark)


#: The troubling amount by pane, shape (P,), for each kind of complaint. A new kind is a line here and a word
#: in the job's model.
AMOUNTS: dict[str, Callable[[Study, Option], Array]] = {
    "heat": _heat,
    "glare": _glare,
    "fading": _fading,
    "privacy": _privacy,
}
BILLS = "bills"


def by_pane(study: Study, option: Option) -> Array:
    """Return each pane's part of an option's relief, (P,) [1], mean over the kinds that have panes.

    Panes that are not complained of count nothing. The sum is the option's relief but for bills.
    """
    kinds = [kind for kind in study.job.complaint.kinds if kind in AMOUNTS]
    # bills alone: what lets in most heat costs most to cool
    return np.mean([parts(study, option, kind) for kind in kinds or ["heat"]], axis=0)


def parts(study: Study, option: Option, kind: str) -> Array:
    """Return each pane's part of an option's relief of one kind of complaint, (P,) [1]."""
    bare = np.where(study.complained, AMOUNTS[kind](study, study.nothing), 0.0)
    left = np.where(study.complained, AMOUNTS[kind](study, option), 0.0)
    whole = float(bare.sum())
    return (bare - left) / whole if whole > 0 else np.zeros(len(bare))


def relief(study: Study, option: Option) -> dict[str, float]:
    """Return an option's relief of every kind named in the complaint [1]; bills only where they are known."""
    found: dict[str, float] = {}
    for kind in study.job.complaint.kinds:
        if kind in AMOUNTS:
            found[kind] = float(parts(study, option, kind).sum())
        else:
            saved = study.bill_shares.get(option.id)
            if saved is not None:
                found[kind] = saved
    return found


def overall(reliefs: dict[str, float]) -> float:
    """Return the mean over the kinds [1]; 0 where none is known."""
    return float(np.mean(list(reliefs.values()))) if reliefs else 0.0
