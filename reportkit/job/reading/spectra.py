"""The measured spectra that films and sheets of glass name: each file read once, checked and kept with the
job."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from reportkit.base.translatable import translatable
from reportkit.job.model.spectra import Spectra
from reportkit.job.reading.files import Folders, clipped
from reportkit.job.reading.messages import Loc
from reportkit.job.reading.rules import Rules
from reportkit.job.reading.spectrumfile import ALIKE, read_spectrum

OF_FILM, OF_LITE = ("glass", "film"), ("outside", "inside")


def check(rules: Rules, folders: Folders) -> Spectra:
    """Read every spectrum that a job names and report what is wrong with it.

    Parameters
    ----------
    rules
        The rules of the job; faults are added.
    folders
        The folders that may be read.

    Returns
    -------
    Spectra
        By the path as typed and the side called front.
    """
    spectra: Spectra = {}
    for at, typed, sides, front in _named(rules):
        key = (typed, front)
        path = folders.inside(typed)
        if isinstance(path, str):
            hint = translatable("put the table into the job's folder or _shared and name it from there")
            rules.fault(at, path, clipped(typed), hint)
            continue
        text, faults = folders.text(path)
        if text is not None and key not in spectra:
            facing = front if front in sides else None
            measured, faults = read_spectrum(folders.shown(path), text, sides, facing)
            if measured is not None:
                spectra[key] = measured
        rules.faults += faults
    _coated(rules, spectra)
    return spectra


def _named(rules: Rules) -> Iterator[tuple[Loc, str, tuple[str, str], str | None]]:
    """Go through every file named: where, its path as typed, its sides and the one called front."""
    for index, film in rules.records("films"):
        entry = film.get("spectrum")
        if isinstance(entry, dict):
            at: Loc = ("films", index, "spectrum")
            if isinstance(entry.get("file"), str):
                yield (*at, "file"), entry["file"], OF_FILM, entry.get("front")
            if isinstance(entry.get("glass_file"), str):
                yield (*at, "glass_file"), entry["glass_file"], OF_LITE, None
    for at, lite, _ in _lites(rules):
        entry = lite.get("spectrum")
        if isinstance(entry, dict) and isinstance(entry.get("file"), str):
            yield (*at, "spectrum", "file"), entry["file"], OF_LITE, entry.get("front")


def _lites(rules: Rules) -> Iterator[tuple[Loc, dict[str, Any], bool]]:
    """Go through every sheet of glass: where, its fields, whether a coating of the glazing is on it."""
    for index, glazing in rules.records("glazings"):
        named = (glazing.get("coating"), glazing.get("second_coating"))
        surfaces = {str(coating.get("surface")) for coating in named if isinstance(coating, dict)}
        lites = glazing.get("lites")
        for number, lite in enumerate(lites if isinstance(lites, list) else []):
            if isinstance(lite, dict):
                coated = not surfaces.isdisjoint((str(2 * number + 1), str(2 * number + 2)))
                yield ("glazings", index, "lites", number), lite, coated


def _coated(rules: Rules, spectra: Spectra) -> None:
    """Report glass whose sides differ though no coating is named, and a coating's file without
    reflectances."""
    wanted = [
        ((*at, "spectrum", "file"), entry.get("file"), entry.get("front"), coated)
        for at, lite, coated in _lites(rules)
        if isinstance(entry := lite.get("spectrum"), dict)
    ]
    for index, film in rules.records("films"):
        if isinstance(entry := film.get("spectrum"), dict):
            wanted.append((("films", index, "spectrum", "glass_file"), entry.get("glass_file"), None, False))
    for at, typed, front, coated in wanted:
        one = spectra.get((str(typed), front))
        if one is None:
            continue
        apart = max((abs(a - b) for a, b in zip(one.r_front, one.r_back, strict=True)), default=0.0)
        if coated and not one.r_front:
            rule = translatable("must hold the reflectances of both sides where the sheet of glass is coated")
            rules.fault(at, rule, clipped(typed), translatable("ask the glass maker for the whole table"))
        elif not coated and apart > ALIKE:
            rule = translatable(
                "must be alike on both sides where no coating is named on this sheet of glass"
            )
            hint = (
                translatable("name the glass without film here")
                if at[0] == "films"
                else translatable(
                    "name the glazing's coating: how well it keeps heat in is no part of the file"
                )
            )
            rules.fault(
                at, rule, translatable("{typed}: {apart:.3f} apart", typed=clipped(typed), apart=apart), hint
            )
