"""Signs of money and letters of many scripts on paper: drawn by a glyph, or by another form that is told."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from typing import Any

import pikepdf
import pypdfium2
import pytest

from reportkit.documents import Paragraph, Section
from reportkit.documents.language.words import Words
from reportkit.documents.layouts import html
from reportkit.documents.layouts.assemble import assemble
from reportkit.documents.layouts.pdf import document, instead

#: Signs of money that somebody may type: dollar, cent, pound, yen, euro, rupee, won, lira, shekel, rouble,
#: dong, hryvnia, naira, colon, peso, baht, tenge (Unicode, block "Currency Symbols" and Latin-1).
MONEY = "$¢£¥€₹₩₺₪₽₫₴₦₡₱฿₸"


def _page(samples: Any, text: str) -> dict[str, Any]:
    picture = samples.Figure("one", "A finding", "Words.", samples.picture(text))
    section = Section(
        "s", [samples.Heading(text), Paragraph(text), Paragraph([samples.strong(text)]), picture]
    )
    return dict(assemble(samples.executed((section, {"proposal": 1})), "proposal").page)


def _text(data: bytes) -> str:
    with pypdfium2.PdfDocument(data) as file:
        return "".join("".join(page.get_textpage().get_text_range() for page in file).split())


def _glyphs(data: bytes) -> Iterator[tuple[int, str]]:
    """Yield each glyph's number and the text it stands for, of every font in a PDF (its ToUnicode map)."""
    with pikepdf.open(io.BytesIO(data)) as file:
        for font in file.objects:
            if isinstance(font, pikepdf.Dictionary) and "/ToUnicode" in font:
                table = font.ToUnicode.read_bytes().decode("ascii", "replace")
                for number, code in re.findall(r"<([0-9a-fA-F]{4})> <([0-9a-fA-F]+)>\n", table):
                    yield int(number, 16), bytes.fromhex(code).decode("utf-16-be", "replace")


def _claims(data: bytes) -> str:
    with pikepdf.open(io.BytesIO(data)) as file, file.open_metadata() as meta:
        return str(meta.get("pdfaid:part", ""))


@pytest.mark.parametrize("text", [MONEY, "12 zł, 3 Kč, 4 kr."])
def test_signs_of_money_have_a_glyph(samples: Any, text: str) -> None:
    """Each is read back, drawn by a glyph that is not .notdef, number 0 (ISO 32000-1, 9.7.6.3); archival."""
    data = document(_page(samples, text))
    assert _text(data).count("".join(text.split())) >= 3
    drawn = list(_glyphs(data))
    for sign in set(text) - {" "}:
        numbers = {number for number, shown in drawn if sign in shown}
        assert numbers and 0 not in numbers, sign
    assert _claims(data) == "3"


def test_what_no_font_has_is_printed_plain_or_by_code(samples: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    """Full-width signs become the ordinary ones; another letter becomes its code, with a note.

    The picture's own markup stays: the ordinary form of a full-width < is no tag.
    """
    from reportkit.documents.layouts import pdf

    prints = pdf._prints
    rare = "\uffe5\uff1c\uff1e\uff06\u6771"  # as on a machine that has no font with them
    monkeypatch.setattr(
        pdf, "_prints", lambda sign, system_fonts: sign not in rare and prints(sign, system_fonts)
    )
    data = document(_page(samples, "\uffe5100 \uff1cb\uff1e \uff06amp;"))
    assert _text(data).count("¥100<b>&amp;") == 4
    assert _claims(data) == "3"
    assert instead("\uffe5\u6771a") == {"\uffe5": "¥", "\u6771": "[U+6771]"}
    coded = document(_page(samples, "\u6771\uffe5"))
    assert _text(coded).count("[U+6771]¥") == 3 and "?¥" in _text(coded)
    assert "Somecharacterscouldnotbeprinted" in _text(coded)


@pytest.mark.parametrize("name", ["Ελένη", "Мария", "Nguyễn Thị Ánh", "Łódź", "Zoë Ångström"])
def test_names_are_read_back(samples: Any, name: str) -> None:
    """Greek, Cyrillic, Vietnamese, Polish and Swedish names stand whole on paper, archival still."""
    data = document(_page(samples, name))
    assert _text(data).count("".join(name.split())) == 4
    assert _claims(data) == "3" and not instead(name)


def test_a_page_keeps_every_letter(samples: Any) -> None:
    """HTML holds what was typed, whichever font shows it."""
    text = f"{MONEY} \uffe5 東京 ليلى 😀 हिन्दी"
    assert html.document(_page(samples, text)).count(text) >= 3


def test_a_name_from_right_to_left_turns_no_number_round(samples: Any) -> None:
    """Behind a Hebrew name a number stays to its right, as written (UAX #9); without isolates it moves."""
    words = Words("en")
    name = "\u05e9\u05dc\u05d5\u05dd"
    told = words("{name}: {percent}", name=name, percent="77 %")
    assert told.replace("\u2068", "").replace("\u2069", "") == f"{name}: 77 %"

    def places(text: str) -> tuple[float, float]:
        data = document(_page(samples, text))
        with pypdfium2.PdfDocument(data) as file:
            page = file[0].get_textpage()
            letters = [page.get_text_range(n, 1) for n in range(page.count_chars())]
            at = {sign: page.get_charbox(letters.index(sign))[0] for sign in (name[0], "7")}
        return at[name[0]], at["7"]

    letter, digit = places(told)
    assert letter < digit
    letter, digit = places(f"{name}: 77 %")
    assert letter > digit
    assert words("{name}: {percent}", name="Ana", percent="77 %") == "Ana: 77 %"
