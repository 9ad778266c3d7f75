"""The parts of the documents, each a function from a page of results to a section of blocks.

To add a part: write the function, name it in ``SECTIONS``, show it in a cell of the notebook template,
and say in that cell's metadata in which document it stands and where.
"""

from __future__ import annotations

from collections.abc import Callable

from reportkit.documents.blocks import Section
from reportkit.documents.page import Page
from reportkit.documents.sections import (
    advice,
    answer,
    basis,
    choice,
    claims,
    compare,
    decided,
    kit,
    labels,
    letters,
    panes,
    price,
    review,
    revised,
    rooms,
    summary,
    sun,
    terms,
    verdicts,
    views,
    ways,
    work,
    worth,
)

#: Every part by the name the notebook asks for it with.
SECTIONS: dict[str, Callable[[Page], Section]] = {
    "job": basis.job,
    "weather": basis.weather,
    "sun": sun.sun,
    "glass": compare.glass,
    "bad_day": sun.bad_day,
    "claims": claims.claims,
    "doubts": claims.doubts,
    "options": compare.options,
    "rooms": rooms.rooms,
    "worth": worth.worth,
    "views": views.views,
    "panes": panes.panes,
    "which_panes": choice.which_panes,
    "verdicts": verdicts.verdicts,
    "holds": verdicts.holds,
    "letters": letters.letters,
    "labels": labels.labels,
    "choice": choice.choice,
    "summary": summary.summary,
    "decided": decided.decided,
    "work": work.work,
    "cutting": work.cutting,
    "kit": kit.kit,
    "price": price.price,
    "cautions": advice.cautions,
    "answer": answer.answer,
    "revised": revised.revised,
    "changes": revised.changes,
    "building": ways.building,
    "ways": ways.ways,
    "promises": terms.promises,
    "acceptance": terms.acceptance,
    "day": terms.day,
    "aftercare": advice.aftercare,
    "assumptions": basis.assumptions,
    "reckoned": basis.reckoned,
    "found": review.found,
    "readings": review.readings,
}
