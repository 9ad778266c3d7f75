"""The glass of a job, bare and with each film: its rating, or the reason why the film must not go on it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from reportkit.base.errors import Fault, JobError
from reportkit.base.translatable import translatable
from reportkit.physics import glass
from reportkit.study import translate

if TYPE_CHECKING:
    from reportkit.job import LoadedJob
    from reportkit.job.model import FilmSpec, GlazingSpec


@dataclass(frozen=True)
class FilmedGlass:
    """A glazing, bare or with a film, rated; or the reason why the film must not go on it."""

    glazing_id: str
    film_id: str | None
    glazing: glass.Glazing | None
    rating: glass.Rating | None
    gains: glass.GainTable | None
    refusal: str = ""
    #: The glazing with the films at the ends of what the sheet leaves open, for the breakage screen.
    others: tuple[glass.Glazing, ...] = ()


#: Glass by the ids of glazing and film; None for the film is the glazing bare.
Filmed = Mapping[tuple[str, str | None], FilmedGlass]


def filmed_glass(loaded: LoadedJob, films: tuple[FilmSpec, ...], conditions: str) -> Filmed:
    """Return every glazing of the job bare and with each film, rated under the conditions.

    Parameters
    ----------
    loaded
        The job; glazings that no pane has are left out.
    films
        The films to put on.
    conditions
        ``nfrc`` or ``en``.
    """
    bare = bare_glass(loaded)
    by_pair: dict[tuple[str, str | None], FilmedGlass] = {}
    for name, glazing in bare.items():
        by_pair[name, None] = rated(name, None, glazing, "", conditions)
        for spec in films:
            filmed, reason = translate.film_on(bare, name, spec, loaded.spectra)
            made = rated(name, spec.id, filmed, reason, conditions)
            others = translate.others_on(bare, name, spec) if filmed else ()
            by_pair[name, spec.id] = replace(made, others=others)
    return by_pair


def bare_glass(loaded: LoadedJob) -> dict[str, glass.Glazing]:
    """Return every glazing that a pane has, without film.

    Raises
    ------
    JobError
        A measured spectrum cannot be a glazing's, or its maker states what it cannot have.
    """
    used = {pane.glazing for pane in loaded.job.panes}
    return {spec.id: _bare(spec, loaded) for spec in loaded.job.glazings if spec.id in used}


def _bare(spec: GlazingSpec, loaded: LoadedJob) -> glass.Glazing:
    """Return a glazing without film; raises `JobError` where a spectrum or a stated value cannot be its."""
    try:
        return translate.glazing(spec, loaded.spectra)
    except glass.OutOfReachError as error:
        raise JobError(faults=[_unreachable(spec, error, *loaded.known_at[spec.id])]) from error
    except ValueError as error:
        lite = next(entry for entry in spec.lites if entry.spectrum)
        where = loaded.spectra[lite.spectrum.file, lite.spectrum.front].shown if lite.spectrum else ""
        rule = translatable(
            "must be the table of a coated sheet of glass such as {glazing} names", glazing=spec.id
        )
        hint = translatable("check which side is called front, the glass below the coating and its surface")
        raise JobError(faults=[Fault(where, 0, "", rule, str(error), hint)]) from error


def _unreachable(spec: GlazingSpec, error: glass.OutOfReachError, file: str, line: int) -> Fault:
    """Return the fault of a stated value that the glass described cannot have."""
    name = translate.KNOWN[error.name]
    scale = 100 if name.endswith("percent") else 1
    digits = {"shgc": 3}.get(name, 2 if scale == 1 else 1)
    low, high = (
        translatable("{value:g}", value=round(value * scale, digits)) for value in (error.low, error.high)
    )
    within = low if low == high else translatable("{low} to {high}", low=low, high=high)
    assert spec.known is not None  # or nothing could be out of reach
    return Fault(
        file,
        line,
        f"glazings.{spec.id}.known.{name}",
        translatable(
            "must be what this glass can have under {conditions} conditions: {within}",
            conditions=str(spec.known.conditions).upper(),
            within=within,
        ),
        f"{error.stated * scale:g}",
        translatable(
            "compare sheets, gaps, gas and coating with the label, "
            "and whether it tells the centre of the glass"
        ),
    )


def rated(
    name: str, film_id: str | None, glazing: glass.Glazing | None, refusal: str, conditions: str
) -> FilmedGlass:
    """Return a glazing with what is on it and its rating; without either where the film is refused."""
    if glazing is None:
        return FilmedGlass(name, film_id, None, None, None, refusal)
    rating = glass.rate(glazing, conditions)
    return FilmedGlass(name, film_id, glazing, rating, glass.gain_table(glazing, conditions))
