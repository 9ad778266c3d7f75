"""What was measured by wavelength: what each file comes to beside the sheet, and what three bands would have said."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportkit.base.translatable import english
from reportkit.documents.blocks import Block, Column, Paragraph, Row, Table
from reportkit.documents.page import Page

if TYPE_CHECKING:
    from reportkit.findings.spectra import Gains, MeasuredFile

VALUES = {
    "t_solar": english("Solar transmittance"),
    "r_solar_front": english("Solar reflectance, front"),
    "r_solar_back": english("Solar reflectance, back"),
    "t_visible": english("Visible transmittance"),
    "r_visible_front": english("Visible reflectance, front"),
    "r_visible_back": english("Visible reflectance, back"),
    "t_uv": english("Ultraviolet transmittance"),
    "t_fading": english("Fading light let in"),
}

#: A file whose value is further from the printed one is told in strong letters: two rounded percents and a
#: spectrum's own weights leave about as much (common practice, no source) [1].
APART = 0.02


def measured(page: Page) -> list[Block]:
    """Return what files of measured spectra come to; nothing where there are none."""
    read = page.findings.spectra
    if not read.files:
        return []
    words = page.words
    blocks: list[Block] = [
        Paragraph(
            words(
                "Measured by wavelength: what follows was computed in steps of 5 nm from the files named here, not "
                "from the printed values. Solar values are weighted by the reference sun (ASTM G173-03), visible ones by "
                "daylight and the eye (D65, CIE 2 degrees), ultraviolet from 300 to 380 nm by the sun, fading by the "
                "sun and the damage it does (ISO 9050)."
            )
        )
    ]
    blocks += [_file(page, one, number) for number, one in enumerate(read.files, start=1)]
    blocks.append(_bands(page))
    return blocks


def asks(page: Page) -> list[str]:
    """Return what to ask where a film's file and its sheet are further apart than rounding, the worst of each."""
    words, fmt = page.words, page.fmt
    questions = []
    for one in page.findings.spectra.files:
        apart = {key: abs(getattr(one.values, key) - printed) for key, printed in one.printed.items()}
        worst = max(apart, key=lambda key: apart[key], default="")
        if worst and apart[worst] > APART:
            questions.append(
                words(
                    "{film}, {about}: {file} says {measured}, the sheet {printed}. Are both of the same film and glass?",
                    film=page.film(one.film),
                    about=words(VALUES[worst]),
                    file=one.file,
                    measured=fmt.percent(getattr(one.values, worst), 1),
                    printed=fmt.percent(one.printed[worst], 1),
                )
            )
    return questions


def _file(page: Page, one: MeasuredFile, number: int) -> Table:
    words, fmt = page.words, page.fmt
    if one.film is not None:
        name = page.film(one.film)
        sides = words("Front is the bare side, back the film.")
    else:
        name = words(
            "{glass}, sheet {n} from outside", glass=page.glazing(one.glazing or ""), n=str(one.lite)
        )
        sides = words("Front is the side toward the outdoors.")
    rows = []
    for key in VALUES:
        value, printed = getattr(one.values, key), one.printed.get(key)
        cells = [words(VALUES[key]), fmt.percent(value, 1)]
        if one.printed:
            cells.append("—" if printed is None else fmt.percent(printed, 1))
        apart = printed is not None and abs(value - printed) > APART
        rows.append(Row(cells, "strong" if apart else "none"))
    columns = [
        Column("value", words("Value"), width=2.2),
        Column("file", words("By the file"), align="decimal", width=1.0),
    ]
    note = sides
    if one.printed:
        columns.append(Column("sheet", words("On the sheet"), align="decimal", width=1.0))
        note += " " + words(
            "Strong: the two differ by more than {least} points. Ask the maker whether both are of the same film and glass.",
            least=fmt.number(100 * APART),
        )
    if one.held:
        note += " " + words(
            "Outside the file, where {share} of the sun is, the value at its nearer end is held.",
            share=fmt.percent(one.held, 1),
        )
    return Table(
        columns,
        rows,
        caption=words(
            "{name}: {file}, {points} wavelengths from {low} to {high} nm",
            name=name,
            file=one.file,
            points=fmt.number(one.points),
            low=fmt.number(one.shortest_nm),
            high=fmt.number(one.longest_nm),
        ),
        note=note,
        id=f"measured-{number}",
    )


def _bands(page: Page) -> Table:
    words = page.words
    heat = "g" if page.findings.choice.conditions == "en" else "SHGC"
    rows = []
    for one in page.findings.spectra.glazings:
        name = words("{glass}, bare", glass=page.glazing(one.glazing))
        if one.film is not None:
            name = words("{film} on {glass}", film=page.film(one.film), glass=page.glazing(one.glazing))
        for title, values in (
            (words("by wavelength"), one.by_wavelength),
            (words("in three bands"), one.three_bands),
        ):
            rows.append(Row([name, title, *(_cells(page, values) if values else ["—"] * 5)]))
            name = ""
        if one.three_bands is not None:
            rows.append(
                Row(
                    ["", words("difference"), *_difference(page, one.by_wavelength, one.three_bands)], "muted"
                )
            )
    return Table(
        [
            Column("glass", words("Glass and film"), width=2.2),
            Column("how", words("Computed"), width=1.2),
            Column("g", words("Sun's heat in ({name})", name=heat), align="decimal", width=1.0),
            Column("solar", words("Sun straight through"), align="decimal", width=1.0),
            Column("vt", words("Light in (VT)"), align="decimal", width=1.0),
            Column("uv", words("UV in"), align="decimal", width=1.0),
            Column("fading", words("Fading light in"), align="decimal", width=1.0),
        ],
        rows,
        caption=words("Computed by wavelength, and in three bands of the same files"),
        note=words(
            "Everything in this job is computed by wavelength where a file is given. Three bands are what printed values "
            "allow: the difference is what they would have been off here, shares in percentage points. A dash: no "
            "value of a band fits the file."
        ),
        id="three-bands",
    )


def _cells(page: Page, values: Gains) -> list[str]:
    fmt = page.fmt
    shares = (values.t_solar, values.t_visible, values.t_uv, values.t_fading)
    return [fmt.number(values.shgc, 3), *[fmt.percent(share, 1) for share in shares]]


def _difference(page: Page, fine: Gains, coarse: Gains) -> list[str]:
    fmt = page.fmt
    pairs = [
        (getattr(coarse, name), getattr(fine, name)) for name in ("t_solar", "t_visible", "t_uv", "t_fading")
    ]
    return [fmt.number(coarse.shgc - fine.shgc, 3), *[fmt.number(100 * (a - b), 1) for a, b in pairs]]
