"""The terms of a film's sheet, as printed, and what they mean: ``VLT``, ``g-Wert``, ``réflexion lumineuse``.

Terms are those of EN 410, ISO 9050 and NFRC 200/300 (from memory) and the usual short forms of the trade in
English, Spanish, German and French (common practice, no source).
"""

from __future__ import annotations

import difflib
import re
import unicodedata

#: Words that tell on which side light comes, as an onlooker says it, or as the film lies.
_SIDES = {
    "outside": (
        "ext exterior external externally outside outdoor outdoors aussen aussenseite exterieur "
        "exterieure externe externa front"
    ),
    "inside": (
        "int interior internal internally inside indoor indoors innen innenseite interieur "
        "interieure interne interna back"
    ),
    "glass": ("glass glas glasseite vidrio verre"),
    "film": ("film folie folienseite lamina pelicula"),
}
_SIDE_OF = {word: side for side, listed in _SIDES.items() for word in listed.split()}
#: Words that change nothing of what a term means.
_FILLERS = frozenset(
    re.findall(
        r"\S+",
        "in of the de la le les del el der die das du des par por cote lado seite side face cara value "
        "valeur wert valor index total totale gesamt % percent pct direct directe directa direkte direkt "
        "normal",
    )
)

#: Each quantity: its field, and the terms it goes by; ``!`` where the sheet tells what is left of 100, no
#: field where the trade knows the term and a film has no use for it.
_QUANTITIES: dict[str, str] = {
    "rated.visible_transmittance_percent": (
        "vlt; vt; tv; τv; tvis; lt; tl; tlv; tau v; t vis; visible transmittance; visible light "
        "transmittance; visible light transmission; visible light transmitted; light transmittance; "
        "light transmission; daylight transmission; luz visible transmitida; transmision luz "
        "visible; transmision luminosa; transmitancia luminosa; transmitancia visible; "
        "lichttransmission; lichtdurchlassigkeit; lichttransmissionsgrad; lichtdurchlass; "
        "transmission lumineuse; facteur transmission lumineuse; lumiere visible transmise"
    ),
    "visible_reflectance": (
        "vlr; vr; rv; ρv; rvis; lr; rl; rlv; rho v; r vis; visible reflectance; visible light "
        "reflectance; visible light reflection; visible light reflected; visible reflection; light "
        "reflectance; light reflection; reflexion luz visible; reflexion luminosa; luz visible "
        "reflejada; reflectancia visible; reflectancia luminosa; lichtreflexion; "
        "lichtreflexionsgrad; reflexion lumineuse; lumiere visible reflechie"
    ),
    "rated.solar_transmittance_percent": (
        "tset; tse t; tes; solar t; solar trans; transmitancia energetica solar; "
        "st; tsol; te; τe; et; det; tau e; t sol; solar transmittance; solar "
        "transmission; solar energy transmitted; solar energy transmittance; solar energy "
        "transmission; energy transmittance; energy transmission; transmision energetica; "
        "transmision solar; transmitancia solar; energia solar transmitida; strahlungstransmission; "
        "strahlungstransmissionsgrad; solartransmission; sonnenenergietransmission; "
        "energietransmission; transmission energetique; transmission solaire; energie solaire "
        "transmise"
    ),
    "solar_reflectance": (
        "tse r; tsr; res; solar r; solar refl; reflectancia energetica solar; "
        "sr; rsol; re; ρe; er; rho e; r sol; solar reflectance; solar reflection; solar "
        "energy reflected; solar energy reflectance; solar energy reflection; energy reflectance; "
        "energy reflection; reflexion energetica; reflexion solar; reflectancia solar; energia "
        "solar reflejada; strahlungsreflexion; strahlungsreflexionsgrad; solarreflexion; "
        "sonnenenergiereflexion; energiereflexion; reflexion energetique; reflexion solaire; "
        "energie solaire reflechie"
    ),
    "claims.solar_absorptance_percent": (
        "tsea; tse a; aes; solar a; absortancia energetica solar; "
        "sa; asol; ae; αe; ea; alpha e; a sol; solar absorptance; solar absorption; "
        "solar energy absorbed; solar energy absorptance; solar energy absorption; energy "
        "absorptance; energy absorption; absorcion energetica; absorcion solar; energia solar "
        "absorbida; strahlungsabsorption; strahlungsabsorptionsgrad; solarabsorption; "
        "sonnenenergieabsorption; energieabsorption; absorption energetique; absorption solaire; "
        "energie solaire absorbee"
    ),
    "rated.uv_transmittance_percent": (
        "uvt; uv t; tuv; τuv; t uv; uv transmittance; uv transmission; uv transmitted; transmision "
        "uv; ultraviolet transmittance; ultraviolet transmission; uv durchlassigkeit; transmitancia "
        "uv"
    ),
    "!rated.uv_transmittance_percent": (
        "uvr; uv rejected; uv rejection; uv blocked; uv block; uv blocking; uv protection; uv "
        "reduction; ultraviolet rejected; ultraviolet rejection; ultraviolet light blocked; rechazo "
        "uv; bloqueo uv; proteccion uv; uv rechazado; uv schutz; uv reduktion; uv abweisung; uv "
        "blockierung; rejet uv; uv rejete; uv rejetes; uv bloques"
    ),
    "rated.shgc": (
        "shgc; solar heat gain coefficient; solar heat gain; g; g wert; gwert; sf; fs; solar "
        "factor; factor solar; facteur solaire; energiedurchlassgrad; gesamtenergiedurchlassgrad; "
        "solar energy transmittance g; total solar energy transmittance g; coeficiente ganancia "
        "solar"
    ),
    "rated.tser_percent": (
        "tser; solar energy rejected; solar energy rejection; heat rejection; solar heat rejected; "
        "ester; eser; energia solar rechazada; rechazo energia solar; rechazo solar; abgewiesene "
        "sonnenenergie; sonnenenergie abgewiesen; sonnenenergieabweisung; energie solaire rejetee; "
        "rejet energie solaire; rejet solaire"
    ),
    "rated.emissivity": (
        "emissivity; emittance; emiss; emis; "
        "ε; epsilon; e; emissionsgrad; emissivitat; emisividad; emissivite"
    ),
    "claims.shading_coefficient": (
        "sc; shading coefficient; coeficiente sombra; cs; b faktor; beschattungskoeffizient; "
        "coefficient ombrage"
    ),
    "claims.light_to_solar_gain": (
        "lsg; light solar gain; light to solar gain; selectivity; selektivitat; selectividad; selectivite"
    ),
    "claims.infrared_rejected_percent": (
        "irr; ir rejected; ir rejection; infrared rejected; infrared rejection; infrared energy "
        "rejected; rechazo ir; rechazo infrarrojo; infrarrojo rechazado; ir abweisung; "
        "infrarotabweisung; rejet ir; rejet infrarouge; ir rejete"
    ),
    "claims.fading_reduced_percent": (
        "fading reduction; fading reduced; fade reduction; reduccion decoloracion; ausbleichschutz"
    ),
    "thickness_um": (
        "thickness; film thickness; espesor; grosor; dicke; foliendicke; starke; folienstarke; epaisseur"
    ),
    "": (
        "u; ug; uw; u factor; k wert; glare reduction; glare reduced; gr; reduccion "
        "deslumbramiento; blendreduktion; blendschutz; reduction eblouissement; ra; colour "
        "rendering; color rendering; cri"
    ),
}
#: Quantities that a sheet prints for either side.
SIDED = frozenset({"visible_reflectance", "solar_reflectance"})
#: Terms that are g in EN 410 and what passes directly on other sheets, or else are read in two ways (common
#: practice, no source).
TWO_WAYS = frozenset(
    {
        "tet",
        "total energy transmittance",
        "total solar energy transmission",
        "total solar energy transmittance",
        "total solar transmittance",
        "tsr",  # reflected, or rejected
        "tst",
        "tts",
    }
)


def plain(text: str) -> str:
    """Return a label as it is looked up: small letters without accents, words with one space between."""
    text = text.casefold().replace("ß", "ss").replace("''", "'")
    letters = unicodedata.normalize("NFKD", text)
    text = "".join(sign for sign in letters if not unicodedata.combining(sign))
    return " ".join(re.sub(r"[^\w%']+|_", " ", text).split())


LABELS = {
    plain(label): quantity
    for quantity, listed in _QUANTITIES.items()
    for label in listed.split(";")
    if label.strip()
}
#: Short forms with the side in them: ``RLe``, ``VLRi``, EN 410's ``ρ'v`` for light from inside.
_SHORT = {
    f"{short}{sign}": (LABELS[short], side)
    for short in ("rl", "vlr", "rv", "lr", "re", "sr", "tsr", "res", "ρv", "ρe")
    for sign, side in (
        ("e", "outside"),
        ("i", "inside"),
        ("o", "outside"),
        ("ext", "outside"),
        ("int", "inside"),
    )
    if f"{short}{sign}" not in LABELS
}
_SHORT |= {f"ρ{b}": (LABELS[f"ρ{b}"], "outside") for b in ("v", "e")}
_SHORT |= {f"{a}'{b}": (LABELS[a + b], "inside") for a, b in (("ρ", "v"), ("ρ", "e"), ("r", "v"), ("r", "e"))}


#: Labels without the words that are left out of what is looked up.
_SHORTER = {
    " ".join(word for word in label.split() if word not in _FILLERS): quantity
    for label, quantity in LABELS.items()
}


def meant(label: str) -> tuple[str | None, str]:
    """Return the quantity a label means, None where it is not known, and the side told."""
    known = plain(label)
    if known in _SHORT:
        return _SHORT[known]
    if known in LABELS:
        return LABELS[known], ""
    words = [word for word in known.split() if word not in _FILLERS]
    sides = [_SIDE_OF[word] for word in words if word in _SIDE_OF]
    if not sides and words and words[-1] in ("e", "i") and len(words) > 1:
        sides = ["outside" if words[-1] == "e" else "inside"]
        words = words[:-1]
    bare = [word for word in words if word not in _SIDE_OF]
    short = " ".join(bare)
    if short in _SHORT:
        return _SHORT[short]
    # the side by which film lies wins over an onlooker's: "ext (glass side)"
    side = next((s for s in sides if s in ("glass", "film")), sides[0] if sides else "")
    return LABELS.get(short, _SHORTER.get(short)), side


def sides_told(label: str) -> tuple[str, list[str]]:
    """Return a label without its words for a side, and the sides in their order: ``VLR ext/int``."""
    words = plain(label).split()
    return " ".join(word for word in words if word not in _SIDE_OF), [
        _SIDE_OF[word] for word in words if word in _SIDE_OF
    ]


def nearest_term(label: str) -> str | None:
    """Return the term that a label may be a slip of; None where one of another quantity is about as near."""
    known = plain(label)
    near = {
        term: difflib.SequenceMatcher(None, term, known).ratio()
        for term in difflib.get_close_matches(known, list(LABELS), 8, 0.65)
    }
    best = next(iter(near), None)
    if best is None or near[best] < 0.75:
        return None
    others = (ratio for term, ratio in near.items() if LABELS[term] != LABELS[best])
    return best if max(others, default=0) < near[best] - 0.1 else None
