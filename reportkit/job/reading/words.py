"""Words as people write them, turned into the words that fields take: ``Sí``, ``Toughened``, ``STEP LADDER``.

A raw tree is turned once, before any rule looks at it, so that every rule and record sees the same words. A
word that nothing here knows stays as it was typed; its field's own check then names it.
"""

from __future__ import annotations

import types
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel

from reportkit.job.model.about import fields_in

#: Yes and no in the languages of the trade's sheets, and as spreadsheets write them.
_YES = frozenset(
    {"yes", "y", "true", "on", "1", "sí", "si", "ja", "oui", "wahr", "vrai", "verdadero", "✓", "✔"}
)
_NO = frozenset({"no", "n", "false", "off", "0", "nein", "non", "falsch", "faux", "falso"})
#: Other words of the trade for the word a field takes (common practice, no source); a word may stand beside
#: several, for each field takes those of its own choice.
_SAME = {
    "tempered": "toughened templado esg einscheibensicherheitsglas trempé trempe",
    "annealed": "float ordinary normal recocido recuit",
    "heat_strengthened": "semi_toughened semi_tempered termoendurecido tvg durci",
    "laminated": "laminado vsg feuilleté feuillete",
    "wired": "armado",
    "patterned": "impreso",
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
        part[name] = _turned(part[name], field.annotation)


def _turned(value: Any, annotation: Any) -> Any:
    """Return a value with its word turned, or those of its list."""
    if isinstance(value, list):
        return [_turned(entry, annotation) for entry in value]
    if not isinstance(value, str):
        return value
    said = value.strip().casefold()
    yes_or_no, choices = _takes(annotation)
    if yes_or_no and said in _YES | _NO:
        return "yes" if said in _YES else "no"
    if not choices or value in choices:
        return value
    word = "_".join(said.replace("-", " ").replace("_", " ").split())
    for meant in (word, *_MEANT.get(word, ())):
        if meant in choices:
            return meant
    return value


def _takes(annotation: Any) -> tuple[bool, tuple[str, ...]]:
    """Return whether a field takes yes and no, and the words of its choice."""
    if annotation is bool:
        return True, ()
    origin = get_origin(annotation)
    if origin is Literal:
        return False, tuple(str(word) for word in get_args(annotation))
    if origin not in (Annotated, Union, types.UnionType, tuple):
        return False, ()
    parts = [_takes(part) for part in get_args(annotation)[: 1 if origin is Annotated else None]]
    return any(yes for yes, _ in parts), tuple(word for _, words in parts for word in words)


def plain_codes(raw: dict[str, Any]) -> None:
    """Give currency and country, which are codes in capitals, their capitals."""
    building = raw.get("building")
    for record, name, size in ((raw, "currency", 3), (building, "country", 2)):
        code = record.get(name) if isinstance(record, dict) else None
        if isinstance(record, dict) and isinstance(code, str) and len(code) == size and code.isascii():
            record[name] = code.upper()
