"""The typeface: found, subset for the web, and honest about what it lacks."""

import base64
import io

from fontTools.ttLib import TTFont

from reportkit.documents.layouts import fonts


def test_subsets_hold_what_was_asked() -> None:
    """Each subset maps every character the face has, is in WOFF, and has digits of one width."""
    text = "Größe 12 °C łŵж"
    faces = fonts.web_faces(text)
    assert [(face["weight"], face["slant"]) for face in faces] == list(fonts.FACES)
    for face in faces:
        with TTFont(io.BytesIO(base64.b64decode(face["data"]))) as font:
            assert font.flavor == "woff"
            points = set(font.getBestCmap())
            with TTFont(fonts.face_file(face["weight"], face["slant"]), lazy=True) as whole:
                wanted = set(map(ord, text)) & set(whole.getBestCmap())
            assert wanted <= points
            assert {ord("ö"), ord("ł"), ord("−")} <= points
            widths = {font["hmtx"][font.getBestCmap()[ord(digit)]][0] for digit in "0123456789"}
            assert len(widths) == 1
    assert sum(len(face["data"]) for face in faces) < 400_000


def test_missing_letters_are_named() -> None:
    """Greek, Cyrillic, Hebrew and Arabic are there; Chinese is not, nor is the font of last resort used."""
    assert fonts.uncovered("Abc Ω ж \u05d0 \u0639 €") == ""
    assert fonts.uncovered("a中b文") == "中文"
    assert fonts.uncovered("\n\t") == ""
    assert [path.name for path in fonts.second_folder().iterdir()] == ["DejaVuSans.ttf"]
