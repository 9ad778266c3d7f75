"""Whether a job can be made at all: its glass, and the films it names from the rolls given for them."""

from __future__ import annotations

from reportkit.job import LoadedJob
from reportkit.study.filmed import bare_glass
from reportkit.study.offer import Offer, offer, possible
from reportkit.study.options import films, wanted_films
from reportkit.study.study import Study


def check_cuttable(loaded: LoadedJob) -> Offer | None:
    """Raise an error where glass cannot be as told, or no roll holds a piece of the films that a job names.

    A plan of every piece wanted answers nearly always; the study, which knows the panes that stay bare for
    another reason, is asked only where some piece cannot be cut.

    Parameters
    ----------
    loaded
        The job.

    Returns
    -------
    Offer or None
        What the films named take, by a quick plan; None where the job names no film for any pane.

    Raises
    ------
    JobError
        With the faults of a glazing, or of the films' rolls, where no pane is left that could have its film.
    """
    bare_glass(loaded)
    wanted = wanted_films(loaded)
    if wanted is None:
        return None
    made = offer(wanted, loaded, films(loaded), mode="quick")
    if made.faults:
        study = Study(loaded)
        made = possible(study.quick_offer(study.chosen.film_by_pane))
    return made
