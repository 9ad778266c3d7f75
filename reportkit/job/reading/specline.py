"""One line of a film's sheet, pasted as printed, read into numbers: ``VLT 42 % | VLR ext 9 | g 0.49``.

What the terms mean stands in ``reportkit.job.reading.terms``. Between the entries stand ``|``, ``;``, a
line's end or a comma with a space; entries may also just follow each other. A decimal comma is a
decimal point. What can be read in two ways, or by no way, is named and not guessed.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from reportkit.base.translatable import translatable
from reportkit.job.reading.spans import RULE, SPAN, end_to_write, ends
from reportkit.job.reading.terms import SIDED, TWO_WAYS, meant, nearest_term, plain, sides_told

_NUMBER = re.compile(r"(?<![\w.,])(?P<sign>[<>≤≥~±-]?)\s*(?P<value>\d+(?:[.,]\d+)?|[.,]\d+)(?![\d])")
_UNIT = re.compile(
    r"\s*(?P<unit>%|percent\b|pct\b|mils?\b|micr(?:on|a|ometer|ometre|ometro|omètre)s?\b|[µμ]m?\b|um\b|mm\b|"
    r"w\s*/\s*\(?\s*m(?:²|2)\s*[·.\s]?k\s*\)?|btu\S*)?",
    re.IGNORECASE,
)
#: The second number behind one label: ``VLR ext/int 9/12 %``; a thickness is none.
_SECOND = re.compile(
    r"\s*/\s*(?P<value>\d+(?:[.,]\d+)?|[.,]\d+)(?![\d.,])(?!\s*(?:mil|mic|[µμ]|um|mm))\s*(?P<unit>%|percent\b|pct\b)?",
    re.IGNORECASE,
)
_STANDARD = re.compile(
    r"\(?\b(?:din\s*)?(en\s*410|iso\s*9050|nfrc(?:\s*\d{3})?)\b(?::?\d{4})?\)?", re.IGNORECASE
)
_ANGLE = re.compile(r"[@(]?\s*(?:bei|at|a|à)?\s*(\d{1,2})\s*(?:°|deg)\s*\)?", re.IGNORECASE)
_BREAKS = re.compile(r"[|;\n•·]|,(?=\s)")
_SPECTRAL = re.compile(r"\(?\s*\d{3,4}\s*(?:-|–|to|bis|a|à)\s*\d{3,4}\s*nm\s*\)?", re.IGNORECASE)

#: What is told as a share of one.
_SHARES = {"rated.shgc", "rated.emissivity", "claims.shading_coefficient", "claims.light_to_solar_gain"}


@dataclass(frozen=True)
class Entry:
    """One number of a line: the field it tells, its value as a field takes it, the words it was read from."""

    field: str
    value: str
    said: str


@dataclass(frozen=True)
class Wrong:
    """What of a line cannot be read: the rule, what was found, and how to mend it."""

    rule: str
    found: str
    hint: str


@dataclass
class SpecLine:
    """What a pasted line tells of a film.

    Attributes
    ----------
    entries
        One for each field told.
    unused
        What is known and no field of a film.
    wrong
        What cannot be read.
    """

    entries: list[Entry] = field(default_factory=list)
    unused: list[str] = field(default_factory=list)
    wrong: list[Wrong] = field(default_factory=list)

    def of(self, name: str) -> float | None:
        """Return the value told of a field, None where nothing is."""
        return next((float(entry.value) for entry in self.entries if entry.field == name), None)


def read_spec(text: str, side: str = "inside") -> SpecLine:
    """Read a line of a film's sheet.

    Parameters
    ----------
    text
        The line as pasted.
    side
        Where the film goes, ``inside``, ``outside`` or ``either``: it decides which of the film's faces an
        onlooker outside sees.

    Returns
    -------
    SpecLine
        What was read, and what is wrong with it. Percentages stay percentages; thickness is in µm.
    """
    made = SpecLine()
    text = re.sub(r"[^\S\n]+", " ", text)  # what looks for numbers would go through long gaps again and again
    standards = [standard.casefold().replace(" ", "") for standard in _STANDARD.findall(text)]
    text = _SPECTRAL.sub(" ", _STANDARD.sub(" ", text))
    parts = [part for piece in _pieces(text) for part in _parts(piece)]
    values = [_value(part) for part in parts if not part.unit and part.number]
    shares = bool(values) and all(value <= 1 for value in values) and not any("%" in p.unit for p in parts)
    for part in parts:
        _take(made, part, side, shares=shares)
    fields = {entry.field for entry in made.entries}
    if "rated.shgc" in fields:
        said = next(entry.said for entry in made.entries if entry.field == "rated.shgc")
        european = any(not name.startswith("nfrc") for name in standards)
        if not standards:  # the term is the standard's own: SHGC of NFRC 200, g of EN 410
            european = not plain(said).startswith(("shgc", "solar heat"))
        if len({name.startswith("nfrc") for name in standards}) > 1:
            hint = translatable("name in the line only the standard that its g or SHGC was computed by")
            made.wrong.append(Wrong(translatable("must name one standard"), ", ".join(standards), hint))
        made.entries.append(Entry("rated.conditions", "en" if european else "nfrc", said))
    _together(made)
    return made


@dataclass(frozen=True)
class _Part:
    label: str
    number: str = ""
    unit: str = ""
    sign: str = ""
    angle: str = ""
    said: str = ""
    span: tuple[str, str] | None = None


def _pieces(text: str) -> list[str]:
    """Return the entries between breaks; in a table a term's number stands in the next column."""
    pieces: list[str] = []
    for piece in _BREAKS.split(text):
        if (
            pieces
            and re.match(r"\s*[\d<>≤≥]", piece)
            and pieces[-1].strip()
            and not _NUMBER.search(pieces[-1])
        ):
            pieces[-1] += f" {piece.strip()}"
        else:
            pieces.append(piece)
    return pieces


def _parts(piece: str) -> Iterator[_Part]:
    """Yield the entries of a piece: a label, a number, its unit; the label may also follow (``2 mil``)."""
    label, position = "", 0
    angles = [one for one in _ANGLE.finditer(piece) if "°" in one[0] or "deg" in one[0].lower()]
    angle = angles[0][1] if angles else ""
    for sun in reversed(angles):
        piece = piece[: sun.start()] + " " + piece[sun.end() :]
    while number := _NUMBER.search(piece, position):
        span = SPAN.match(piece, number.start("value"))
        unit = _UNIT.match(piece, span.end() if span else number.end())
        assert unit is not None  # every part of it may be missing
        label = piece[position : number.start()].strip(" :=.,-–/")
        end = unit.end()
        between = ends(span) if span else None
        whole = _Part(
            label, number["value"], (unit["unit"] or "").lower(), number["sign"], angle, span=between
        )
        pair = _SECOND.match(piece, end)
        if pair and label and meant(label)[0] in (None, *SIDED):
            end = pair.end()
        said = piece[position:end].strip(" /")
        yield from (
            _sides(replace(whole, said=said), pair)
            if pair and end == pair.end()
            else [replace(whole, said=said)]
        )
        position = end
    rest = piece[position:].strip(" :=.,-–/()")
    if rest:
        yield _Part(rest, said=rest)


def _sides(part: _Part, second: re.Match[str]) -> Iterator[_Part]:
    """Yield a part for each side that two numbers of one label tell; one part where that is not known."""
    bare, sides = sides_told(part.label)
    other = replace(part, number=second["value"], unit=(second["unit"] or "").lower())
    if not sides and _value(part) == _value(other):
        sides = ["glass", "film"]
    if len(sides) != 2 or meant(bare)[0] not in SIDED:
        yield replace(part, label=bare) if meant(bare)[0] in SIDED else part
        return
    unit = part.unit or other.unit  # 9/12 %
    for one, side in ((part, sides[0]), (other, sides[1])):
        yield replace(one, label=f"{bare} {side}", unit=unit)


def _value(part: _Part) -> float:
    return float(part.number.replace(",", "."))


def _take(made: SpecLine, part: _Part, side: str, *, shares: bool) -> None:
    """Read one entry into a line."""

    def wrong(rule: str, hint: str) -> None:
        found = Wrong(rule, part.said, hint)
        if found not in made.wrong:  # of two numbers with one label one says it
            made.wrong.append(found)

    micrometres = part.unit.startswith(("mil", "micr", "µ", "μ", "um"))
    quantity, seen = meant(part.label)
    if micrometres and (quantity is None and not part.label):
        quantity = "thickness_um"
    if plain(part.label) in TWO_WAYS:
        hint = (
            translatable("write TSR ext or TSR int for what is reflected, TSER for what is rejected")
            if plain(part.label) == "tsr"
            else translatable("write g or SHGC for what comes in altogether, TSET for what passes directly")
        )
        return wrong(translatable("must be a term that can be read one way only"), hint)
    if quantity is None:
        close = nearest_term(part.label)
        hint = translatable("terms are such as VLT, VLR ext, TSET, SHGC or g, TSER, SC, UV rejected")
        if plain(part.label) == "uv":
            what = translatable("transmitted or rejected? write UV T or UV rejected")
            hint = translatable("{what}; {terms}", what=what, terms=hint)
        elif close:
            hint = translatable("did you mean {word}? {terms}", word=close, terms=hint)
        return wrong(translatable("must be a term of a film's sheet"), hint)
    if not part.number:
        if quantity:
            wrong(
                translatable("must have a number behind each term"),
                translatable("write it as VLT 42 %, or leave the term out"),
            )
        return None
    if quantity == "":
        made.unused.append(part.said)
        return None
    rejected = quantity.startswith("!")
    name = quantity.lstrip("!")
    if name in SIDED:
        if not seen:
            return wrong(
                translatable("must tell from which side light comes"),
                translatable("write ext or int behind it, as VLR ext 9"),
            )
        if seen in ("outside", "inside") and side == "either":
            hint = translatable(
                "the film may go on either side of the glass: write glass side or film side for ext or int"
            )
            return wrong(translatable("must tell the film's side"), hint)
        lit = (
            seen
            if seen in ("glass", "film")
            else "glass"
            if (seen == "outside") == (side == "inside")
            else "film"
        )
        name = f"rated.{name}_{lit}_side_percent"
    if part.span:
        return wrong(RULE, end_to_write(name.rpartition(".")[2], part.span))
    value = _value(part)
    exact = part.number.replace(",", ".")
    if part.sign in ("-", "±", "~"):
        return wrong(
            translatable("must be one number of at least 0"), translatable("read it off the sheet again")
        )
    if part.sign and name != "rated.uv_transmittance_percent":
        return wrong(
            translatable("must be a number, not a bound"), translatable("ask the film's maker for the number")
        )
    if name == "thickness_um":
        if part.unit.startswith("mil"):
            value *= 25.4
        elif part.unit == "mm":
            value *= 1000
        elif not part.unit:
            return wrong(
                translatable("must have a unit"), translatable("write mil or µm behind the thickness")
            )
        made_value = f"{value:g}"
    elif name in _SHARES:
        if "%" in part.unit or part.unit in ("percent", "pct"):
            value /= 100
        elif name in ("rated.shgc", "rated.emissivity") and value > 1:
            if value < 5:
                return wrong(
                    translatable("must be a share of at most 1, or a percentage"),
                    translatable("write % behind it where it is one"),
                )
            value /= 100
        made_value = f"{value:.6g}"
    else:
        if not part.unit and shares:
            value, exact = value * 100, f"{value * 100:.6g}"
        elif not part.unit and value <= 1 and "uv" not in name and value > 0:
            hint = translatable("write {more:g} % or {less:g} %", more=value * 100, less=value)
            return wrong(translatable("must be read one way: a share of 1, or a percentage"), hint)
        if value > 100:
            return wrong(
                translatable("must be at most 100 %"),
                translatable("read it off the sheet again; a comma may be missing"),
            )
        made_value = f"{100 - value:.6g}" if rejected else exact
    earlier = made.of(name)
    if earlier is not None:
        if abs(earlier - float(made_value)) > 0.05:
            hint = translatable("it says {earlier:g} before; keep the one that is right", earlier=earlier)
            wrong(translatable("must be told once"), hint)
        return None
    made.entries.append(Entry(name, made_value, part.said))
    if part.angle and part.angle != "0" and name == "rated.tser_percent":
        made.entries.append(Entry("claims.tser_sun_angle_deg", part.angle, part.said))
    return None


def _together(made: SpecLine) -> None:
    """Name numbers of a line that cannot all be right.

    What passes, is sent back and is absorbed is all there is, rounded to whole percents: within 2 (EN 410:
    they add up to 1). A g is at least what passes (EN 410: the rest of it is heat handed on inward).
    """
    passed = made.of("rated.solar_transmittance_percent")
    back = made.of("rated.solar_reflectance_glass_side_percent")
    kept = made.of("claims.solar_absorptance_percent")
    gain, rejected = made.of("rated.shgc"), made.of("rated.tser_percent")
    again = translatable("two numbers may stand in each other's place: read them off the sheet again")
    if passed is not None and back is not None and kept is not None and abs(passed + back + kept - 100) > 2:
        balance = translatable(
            "{passed:g} + {back:g} + {kept:g} = {all:g}",
            passed=passed,
            back=back,
            kept=kept,
            all=passed + back + kept,
        )
        made.wrong.append(
            Wrong(
                translatable("solar transmittance, reflectance and absorptance must make 100 %"),
                balance,
                again,
            )
        )
    if gain is not None and passed is not None and gain * 100 < passed - 1:
        rule = translatable("SHGC or g must be at least the solar transmittance")
        made.wrong.append(
            Wrong(rule, translatable("{gain:g} and {passed:g} %", gain=gain, passed=passed), again)
        )
    straight = made.of("claims.tser_sun_angle_deg") is None
    if gain is not None and rejected is not None and straight and abs(gain * 100 + rejected - 100) > 3:
        rule = translatable("SHGC or g and the solar energy rejected must make 100 %")
        found = translatable(
            "{gain:g} + {rejected:g} = {both:g}",
            gain=gain * 100,
            rejected=rejected,
            both=gain * 100 + rejected,
        )
        made.wrong.append(Wrong(rule, found, again))
