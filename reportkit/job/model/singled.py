"""Panes singled out of a row of several: ``L1.2`` is the second pane of row ``L1``.

Wherever a job or a decision names a pane it may name one of a row of several by the row's id, a dot and a number,
counted from the left as seen from outside. That pane is then one of its own in all that follows, with its own film
or none, and the row stands for the others; what is said of the row holds for it where nothing nearer is said. A
row that has such a name for its id keeps it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from reportkit.job.model.job import Job
from reportkit.job.model.panes import Pane


def names_of(rows: Iterable[tuple[str, int]]) -> frozenset[str]:
    """Return every name that panes go by, from the id and the number of panes of each row."""
    return frozenset(name for row, count in rows for name in (row, *(one for _, one in numbered(row, count))))


def numbered(row: str, count: int) -> Iterator[tuple[int, str]]:
    """Yield the number and the name of each pane of a row; nothing for a row of one."""
    if count > 1:
        yield from ((number, f"{row}.{number}") for number in range(1, count + 1))


def left_in_row(pane: Pane, panes: Iterable[Pane]) -> list[int]:
    """Return the numbers, in its row, of the panes that a pane stands for; none where it has one for itself.

    Parameters
    ----------
    pane
        A row, or what is left of it.
    panes
        All panes of the job: those singled out of the row have their own numbers.
    """
    own = pane.row
    row = [one for one in panes if one.row == own]
    count = sum(one.quantity for one in row)
    if pane.number or count == 1:
        return []
    out = {one.number for one in row}
    return [number for number in range(1, count + 1) if number not in out]


def singled(job: Job, more: Iterable[str] = ()) -> Job:
    """Return a job in which each pane that is named out of a row of several stands for itself.

    Parameters
    ----------
    job
        The job; panes that stand for themselves already stay so.
    more
        Names of panes beside those that the job says anything of.
    """
    rows: dict[str, list[Pane]] = {}
    for pane in job.panes:
        rows.setdefault(pane.row, []).append(pane)
    before = {pane.id: pane for pane in job.panes}
    named = (_named(job) | set(more) | {pane.id for pane in job.panes if pane.number}) - set(rows)
    panes = [part for row in rows.values() for part in _parts(_whole(row), named)]
    if all(before.get(pane.id) == pane for pane in panes):
        return job
    return job.model_copy(update={"panes": tuple(panes)})


def _whole(row: list[Pane]) -> Pane:
    """Return a row as the survey has it, from what it is in parts of."""
    return row[0] if len(row) == 1 else row[0].whole(sum(pane.quantity for pane in row))


def _parts(pane: Pane, named: set[str]) -> Iterator[Pane]:
    """Yield what is left of a row, then each of its panes that is named."""
    out = [number for number, name in numbered(pane.id, pane.quantity) if name in named]
    left = pane.quantity - len(out)
    if left:
        yield pane.model_copy(update={"quantity": left}) if out else pane
    yield from (pane.single(number) for number in out)


def _named(job: Job) -> set[str]:
    """Return the names of panes that a job says anything of."""
    choices = [job.choice, *(way.films for way in job.alternatives)]
    names = {name for approval in job.approvals for name in approval.panes}
    names |= {name for reading in job.readings for name in (reading.pane, reading.beside)}
    if job.decisions:
        choices.append(job.decisions[-1].films)
        names |= set(job.decisions[-1].panes_out)
    return names.union(*(choice.panes for choice in choices))
