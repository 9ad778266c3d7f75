"""Words as people write them, turned into the words that fields take: ``Sí``, ``Toughened``, ``STEP LADDER``.

A raw tree is turned once, before any rule looks at it, so that every rule and record sees the same words. A
word that nothing here knows stays as it was typed; its field's own check then names it.
"""

from __future__ import annotations

import types
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic import BaseModel

from reportkit.job.model.about import choices, fields_in

#: Yes and no in the languages of the trade's sheets, and as spreadsheets write them.
_YES = frozenset(
    {"yes", "y", "true", "on", "1", "sí", "si", "ja", "oui", "wahr", "vrai", "verdadero", "✓", "✔"}
)
_NO = frozenset({"no", "n", "false", "off", "0", "nein", "non", "falsch", "faux", "falso"})
#: What people write where they do not know: the same as leaving a field out that may be left out.
_NOT_KNOWN = frozenset(
    {
        "?",
        "unknown",
        "not_known",
        "desconocido",
        "desconocida",
        "no_se_sabe",
        "unbekannt",
        "inconnu",
        "inconnue",
    }
)
#: Other words of the trade for the word a field takes (common practice, no source); a word may stand beside
#: several, for each field takes those of its own choice.
_SAME = {
    "tempered": "toughened templado esg einscheibensicherheitsglas trempé trempe",
    "annealed": "float ordinary normal recocido recuit",
    "heat_strengthened": "semi_toughened semi_tempered termoendurecido tvg durci",
    "laminated": "laminado vsg feuilleté feuillete",
    "wired": "armado",
    "patterned": "textured frosted obscured rough etched impreso mate esmerilado traslúcido translúcido",
    "plastic": "upvc pvc vinyl pvcu vinilo plástico plastico",
    "timber": "wood wooden madera holz bois",
    "metal": "aluminium aluminum steel aluminio acero alu stahl",
    "putty": "masilla",
    "step_ladder": "stepladder stehleiter escabeau escalera escalera_de_mano",
    "tower": "scaffold scaffolding andamio gerüst torre",
    "floor": "ground suelo boden sol",
    "cut": "cortado",
    "worked": "pulido canteado",
    "damaged": "dañado",
    "none": "ninguno ninguna",
    "still": "quieta",
    "moving": "móvil movil",
    "narrow": "estrecha",
    "grey": "gray gris grau",
    "clear": "claro klar clair incoloro",
    "bronze": "bronce",
    "neutral": "neutro neutra",
    "silver": "plata plateado",
    "blue": "azul",
    "green": "verde",
    "gold": "oro dorado",
    "metallised_reflective": "metallized_reflective metalizada_reflectante",
    "low_emissivity": "low_e bajo_emisiva baja_emisividad",
    "dyed": "teñida tintada",
    "dual_reflective": "doble_reflectante",
    "ceramic": "cerámica ceramica",
    "spectrally_selective": "selectiva espectralmente_selectiva",
    "frosted": "esmerilada translúcida",
    "safety": "seguridad",
    "front": "outside exterior fuera",
    "back": "inside interior dentro",
    "inside": "interior internal dentro",
    "outside": "exterior external fuera",
    "either": "ambos cualquiera",
    "argon": "argón ar",
    "air": "aire luft",
    "left": "izquierda",
    "right": "derecha",
    "heat": "calor",
    "glare": "deslumbramiento",
    "fading": "decoloración decoloracion",
    "privacy": "privacidad intimidad",
    "bills": "facturas factura",
    "home": "vivienda casa",
    "office": "oficina",
    "shop": "tienda",
    "classroom": "aula",
    "owner": "propietario propietaria",
    "tenant": "inquilino inquilina",
    "metric": "métrico metrico métricas",
    "arch": "arco",
    "circle": "círculo circulo",
    "oval": "óvalo ovalo",
    "triangle": "triángulo triangulo",
    "trapezoid": "trapecio",
    "polygon": "polígono poligono",
}  # fmt: skip
_MEANT: dict[str, list[str]] = {}
for _meant, _listed in _SAME.items():
    for _word in _listed.split():
        _MEANT.setdefault(_word, []).append(_meant)


def plain_words(record: type[BaseModel], raw: Any) -> None:
    """Turn the words of a raw tree into those its fields take, in place.

    Parameters
    ----------
    record
        The record that the tree is to become.
    raw
        Its fields, texts only; anything else is left alone.
    """
    for _, part, name, field in fields_in(record, raw):
        value = part[name]
        open_left = not field.is_required() and field.default is None and not _is_text(field.annotation)
        if open_left and isinstance(value, str) and _plain(value) in _NOT_KNOWN:
            part[name] = None
        else:
            part[name] = _turned(value, field.annotation)


def _plain(word: str) -> str:
    return "_".join(word.casefold().replace("-", " ").replace("_", " ").split())


def _is_text(annotation: Any) -> bool:
    """Return whether a field takes any text, a name among them."""
    if get_origin(annotation) in (Annotated, Union, types.UnionType):
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
    word = _plain(said)
    for meant in (word, *_MEANT.get(word, ())):
        if meant in taken:
            return meant
    return value


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
