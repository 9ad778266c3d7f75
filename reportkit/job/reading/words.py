"""Words as people write them, turned into the words that fields take: ``Sí``, ``Toughened``, ``STEP LADDER``.

A raw tree is turned once, before any rule looks at it, so that every rule and record sees the same words. A
word that nothing here knows stays as it was typed; its field's own check then names it. What is said not to
be known is taken out: the same as leaving the field out.
"""

from __future__ import annotations

import types
import unicodedata
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic import BaseModel

from reportkit.base.languages import SOURCE, catalogue, languages
from reportkit.job.model.about import choices, fields_in, record_in

#: Yes and no in the languages of the trade's sheets, and as spreadsheets write them.
_YES = frozenset(
    {"yes", "y", "true", "on", "1", "sí", "si", "ja", "oui", "wahr", "vrai", "verdadero", "✓", "✔"}
)
_NO = frozenset({"no", "n", "false", "off", "0", "nein", "non", "falsch", "faux", "falso"})
#: What people write where they do not know. A text or a name may be such a word, only `?` is neither.
_NOT_KNOWN = frozenset(
    [
        "?",
        "unknown",
        "not_known",
        "desconocido",
        "desconocida",
        "no_se_sabe",
        "unbekannt",
        "inconnu",
        "inconnue",
    ]
)
#: Other words of the trade for the word a field takes, beside those of the catalogues (common practice, no
#: source); a word may stand beside several, for each field takes those of its own choice.
_SAME = {
    "tempered": "toughened esg einscheibensicherheitsglas trempé",
    "annealed": "float ordinary normal recuit",
    "heat_strengthened": "semi_toughened semi_tempered tvg durci",
    "laminated": "vsg feuilleté",
    "patterned": "textured frosted obscured rough etched mate esmerilado traslúcido translúcido",
    "plastic": "upvc pvc vinyl pvcu vinilo",
    "timber": "wood wooden holz bois",
    "metal": "aluminium aluminum steel aluminio acero alu stahl",
    "step_ladder": "stepladder stehleiter escabeau escalera escalera_de_mano",
    "tower": "scaffold scaffolding andamio gerüst",
    "floor": "ground boden sol",
    "worked": "pulido canteado",
    "none": "ninguno",
    "grey": "gray grau",
    "clear": "claro klar clair",
    "neutral": "neutra",
    "silver": "plata",
    "gold": "oro",
    "metallised_reflective": "metallized_reflective",
    "low_emissivity": "low_e bajo_emisiva",
    "dyed": "teñida tintada tinted",
    "dual_reflective": "doble_reflectante",
    "ceramic": "cerámica",
    "spectrally_selective": "selectiva",
    "frosted": "esmerilada translúcida mate etched obscured",
    "safety": "seguridad",
    "front": "outside fuera",
    "back": "inside dentro",
    "inside": "internal dentro",
    "outside": "external fuera",
    "either": "ambos",
    "argon": "ar",
    "air": "luft",
    "privacy": "intimidad",
    "bills": "factura",
    "home": "casa",
    "owner": "propietaria",
    "tenant": "inquilina",
    "metric": "métricas",
    "light": "luz",
}  # fmt: skip


def meant_by(said: str, taken: tuple[str, ...]) -> str | None:
    """Return the word of a choice that a person means, or None.

    It may be written in other capitals, with spaces or hyphens, in a language that the documents ship in, or
    as another word of the trade.

    Parameters
    ----------
    said
        What was typed.
    taken
        The words of the choice.
    """
    word = _plain(said)
    for choice in taken:
        if word == choice or word in map(_plain, _SAME.get(choice, "").split()):
            return choice
    for choice in taken:
        for say in (catalogue(language).gettext for language in languages() if language != SOURCE):
            if word in (_plain(say(way)) for way in (choice, choice.replace("_", " "))):
                return choice
    return None


def plain_words(record: type[BaseModel], raw: Any) -> None:
    """Turn the words of a raw tree into those its fields take, in place.

    Parameters
    ----------
    record
        The record that the tree is to become.
    raw
        Its fields, texts only; anything else is left alone.
    """
    _left_open(raw, record)
    for _, part, name, field in fields_in(record, raw):
        part[name] = _turned(part[name], field.annotation)


def not_known(said: str, *, text: bool = False) -> bool:
    """Return whether a person says that they do not know.

    Parameters
    ----------
    said
        What was typed.
    text
        Whether it stands where any text or name may stand.
    """
    return said.strip() == "?" if text else _plain(said) in _NOT_KNOWN


def _left_open(value: Any, annotation: Any) -> Any:
    """Return a value, a list or a group without what is said not to be known, None where nothing of it is.

    Groups are changed in place. An entry of a list stays, for its own check to name it, unless it is a text.
    """
    if isinstance(value, str):
        return None if not_known(value, text=_is_text(annotation)) else value
    below, _ = record_in(annotation)
    if isinstance(value, list):
        left = [_left_open(entry, annotation) for entry in value]
        if value and all(isinstance(entry, str) for entry in value) and not any(left):
            return None
        if _is_text(annotation):
            return [entry for entry in left if entry is not None]
        return [entry if kept is None else kept for entry, kept in zip(value, left, strict=True)]
    if isinstance(value, dict) and below is not None:
        told = any(part is not None for part in value.values())
        for name, field in below.model_fields.items():
            if name in value:
                value[name] = _left_open(value[name], field.annotation)
        return None if told and all(part is None for part in value.values()) else value
    return value


def _plain(word: str) -> str:
    """Return a word in small letters without accents, its parts joined by ``_``."""
    letters = unicodedata.normalize("NFKD", word.casefold().replace("-", " ").replace("_", " "))
    return "_".join("".join(sign for sign in letters if not unicodedata.combining(sign)).split())


def _is_text(annotation: Any) -> bool:
    """Return whether a field, or the entries of its list, takes any text, a name among them."""
    if get_origin(annotation) in (Annotated, Union, types.UnionType, tuple):
        return any(_is_text(part) for part in get_args(annotation))
    return annotation is str


def _turned(value: Any, annotation: Any) -> Any:
    """Return a value with its word turned, or those of its list."""
    if isinstance(value, list):
        return [_turned(entry, annotation) for entry in value]
    if not isinstance(value, str):
        return value
    said = value.strip().casefold()
    taken = choices(annotation)
    if _asks_yes_or_no(annotation) and said in _YES | _NO:
        return "yes" if said in _YES else "no"
    if not taken or value in taken:
        return value
    return meant_by(value, taken) or value


def _asks_yes_or_no(annotation: Any) -> bool:
    """Return whether a field takes yes and no."""
    if get_origin(annotation) in (Annotated, Union, types.UnionType):
        return any(_asks_yes_or_no(part) for part in get_args(annotation))
    return annotation is bool


def plain_codes(raw: dict[str, Any]) -> None:
    """Give currency and country, which are codes in capitals, their capitals."""
    building = raw.get("building")
    for record, name, size in ((raw, "currency", 3), (building, "country", 2)):
        code = record.get(name) if isinstance(record, dict) else None
        if isinstance(record, dict) and isinstance(code, str) and len(code) == size and code.isascii():
            record[name] = code.upper()
