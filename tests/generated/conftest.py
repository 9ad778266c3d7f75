"""Invented jobs from a seed: names in six scripts, 1 to 120 panes, losing, winning, no weather."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from random import Random
from typing import Any

import pytest
from ruamel.yaml import YAML
from trials import TRIALS

from reportkit.documents.language.formats import Formats
from reportkit.documents.layouts import html
from reportkit.documents.layouts.assemble import Assembled, assemble
from reportkit.study import Study

#: The numbers of the jobs; a few have one of each script, 1 to 120 rows.
FEW = (0, 7, 10, 15, 20, 29)
NUMBERS = range(30) if TRIALS else FEW

#: Invented names by script: people, businesses, rooms, sides, films; each with one word too long for a phone.
NAMES: dict[str, dict[str, tuple[str, ...]]] = {
    "latin": {
        "people": ("Zoë Ångström-Łukasiewicz", 'Þóra "Dé" O’Brien & Sons', "Nguyễn Thị Ví Dụ"),
        "rooms": ("Wintergarten", "Séjour côté cour", "Donaudampfschifffahrtsgesellschaftskapitänskajüte"),
        "sides": ("Südseite", "Façade à l'ouest", "Öst"),
        "films": ("Invenție <grey> 35", "Sélectif & clair 65", "Ørken {sølv} 20 %"),
    },
    "greek": {
        "people": ("Ελένη Παραδειγματοπούλου", "Γιώργος Υποθετικός ΑΕ"),
        "rooms": ("Σαλόνι", "Κουζίνα προς την αυλή", "Ηλεκτροεγκεφαλογραφηματοεργαστήριο"),
        "sides": ("Νότια όψη", "Δύση", "Ανατολή"),
        "films": ("Γκρι κεραμικό 40", "Ασημί 20", "Διαυγές 65"),
    },
    "cyrillic": {
        "people": ("Мария Примерова-Вымышленная", "ООО «Несуществующее стекло»"),
        "rooms": ("Гостиная", "Кухня во двор", "Водогрязеторфопарафинолечебница"),
        "sides": ("Южный фасад", "Запад", "Восток"),
        "films": ("Серая керамика 40", "Зеркальная 20", "Светлая 65"),
    },
    "arabic": {
        "people": ("ليلى المثال", "شركة الزجاج الوهمي"),
        "rooms": ("غرفة الجلوس", "المطبخ (1)", "والمستحدثاتالاستثنائيةالزجاجيةالوهمية"),
        "sides": ("الواجهة الجنوبية", "الغرب", "الشرق"),
        "films": ("رمادي 35", "فضي 20 %", "شفاف 65"),
    },
    "devanagari": {
        "people": ("काल्पनिक कुमारी", "उदाहरण काँच सेवा"),
        "rooms": ("बैठक", "रसोई", "किंकर्तव्यविमूढ़ताअन्तर्राष्ट्रीयकार्यशाला"),
        "sides": ("दक्षिण", "पश्चिम", "पूर्व"),
        "films": ("धूसर ३५", "चाँदी २०", "साफ़ ६५"),
    },
    "hmong": {  # Nyiakeng Puachue Hmong, which hardly any font has; the letters are picked, not words
        "people": ("𞄀𞄅𞄑 𞄉𞄡𞄂𞄔", "𞄇𞄁 𞄞𞄌𞄨"),
        "rooms": ("𞄖𞄃𞄃𞄒𞄆", "𞄎𞄂", "𞄀𞄁𞄂𞄃𞄄𞄅𞄆𞄇𞄈𞄉𞄊𞄋𞄌𞄍𞄎𞄏𞄐𞄑𞄒𞄓𞄔𞄕𞄖𞄗𞄘𞄙𞄚𞄛𞄜𞄝𞄞𞄟𞄠𞄡𞄢𞄣𞄤𞄥𞄦𞄧𞄨𞄩𞄪𞄫"),
        "sides": ("𞄙𞄙", "𞄃𞄓𞄈", "𞄋𞄄"),
        "films": ("𞄜𞄐 35", "𞄣𞄁 20", "𞄇𞄁 65"),
    },
}
SCRIPTS = tuple(NAMES)

#: How many rows the survey has; then how many panes a row stands for.
ROWS = (1, 2, 4, 7, 12, 24, 40, 120)

#: What is known of the weather, and whether film can pay there.
LOSING, WINNING, UNKNOWN = "losing", "winning", "no weather"

#: The survey's columns.
COLUMNS = (
    *("id", "room", "face", "glazing", "quantity", "width", "height", "sill", "overhang"),
    *("overhang_above", "reveal", "frame", "access", "old_film", "note"),
)

LOCALES = ("en_US", "en_GB", "en_DE", "en_FR", "en_IN", "en_CH", "de_DE", "pt_BR")


@dataclass(frozen=True)
class Generated:
    """A generated job: how it was meant, its folder, and all that was made of it."""

    number: int
    script: str
    kind: str
    folder: Path
    study: Study
    results: dict[str, Any]
    proposal: Assembled
    basis: Assembled
    fitting: Assembled
    fmt: Formats


def _rated(rng: Random, name: str) -> dict[str, Any]:
    """Return the sheet of an invented film of one kind; reflected and let through never exceed the whole."""
    t_solar, r_solar, t_visible, r_visible, uv = {
        "dyed": (43, 6, 35, 5, 1),
        "dual_reflective": (17, 32, 20, 34, 1),
        "spectrally_selective": (42, 17, 65, 10, 1),
        "clear_uv": (82, 8, 88, 8, 1),
        "low_emissivity": (45, 22, 60, 14, 1),
    }[name]
    made: dict[str, Any] = {
        "solar_transmittance_percent": t_solar + rng.choice((-2, 0, 1)),
        "solar_reflectance_glass_side_percent": r_solar,
        "visible_transmittance_percent": t_visible,
        "visible_reflectance_glass_side_percent": r_visible,
        "visible_reflectance_film_side_percent": r_visible,
        "uv_transmittance_percent": uv,
    }
    return {**made, "emissivity": 0.2} if name == "low_emissivity" else made


def _films(rng: Random, number: int, names: tuple[str, ...], kind: str) -> list[dict[str, Any]]:
    classes = ["dyed", "dual_reflective", "spectrally_selective", "clear_uv", "low_emissivity"]
    most = 2 if number % len(ROWS) >= 6 else 4
    if kind == LOSING:
        classes.remove("low_emissivity")  # on old glass it keeps heat in, and saves
    chosen = rng.sample(classes, rng.randint(1, most)) if kind != WINNING else ["dual_reflective"]
    rate = {WINNING: 6, LOSING: 60}.get(kind, 25)
    films = []
    for order, name in enumerate(chosen):
        films.append(
            {
                "id": f"film-{order}",
                "name": names[order % len(names)] + (" II" if order >= len(names) else ""),
                "film_class": name,
                "invented": True,
                "thickness_um": 50,
                "tint": rng.choice(("neutral", "grey", "silver")),
                "life_years": 12,
                "priced_on": "2026-01-12",
                "rated": _rated(rng, name),
                "rolls": [
                    {"width": "1524 mm", "length": "30.5 m", "price_per_m": rate, "step": "0.5 m"},
                    {"width": "914 mm", "length": "30.5 m", "price": rate * 14},
                ],
            }
        )
    return films


def _glazings(rng: Random, kind: str) -> list[dict[str, Any]]:
    single = {"id": "one", "name": "", "lites": [{"thickness_mm": 6, "strength": "annealed"}]}
    unit = {
        "id": "two",
        "name": "Sealed unit",
        "lites": [{"thickness_mm": 4, "strength": "annealed"}] * 2,
        "gaps": [{"width_mm": 12, "gas": "air"}],
    }
    textured = {"id": "rough", "name": "Patterned", "lites": [{"thickness_mm": 4, "strength": "patterned"}]}
    if kind == WINNING:
        return [single]
    return rng.choice(([single], [unit], [single, unit], [unit, textured], [textured]))


def _heat(kind: str, number: int) -> dict[str, Any]:
    heat: dict[str, Any] = {
        "floor_area": "24 m2",
        "mass": "medium",
        "walls": "some_insulation",
        "use": "home",
        "too_hot": "26 C",
        "heating": {"set_point": "20 C", "fuel": "electricity", "efficiency": 1},
    }
    if kind == WINNING:
        heat |= {"use": "shop", "cooling": {"set_point": "23 C", "efficiency": 2}}
        del heat["heating"]
    elif number % 3 == 0:
        heat["cooling"] = {"set_point": "25 C", "capacity": "900 W", "efficiency": 3}
    return heat


def _survey(rng: Random, number: int, kind: str, sides: int, glazings: list[dict[str, Any]]) -> str:
    rows = ROWS[number % len(ROWS)]
    if kind == WINNING:
        rows = min(rows, 12)
    # a large building has many windows of few sizes
    sizes = [(rng.randint(30, 140), rng.randint(40, 230)) for _ in range(min(rows, 7))]
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for row in range(rows):
        shade = rng.random() < 0.3 and kind != WINNING
        width, height = sizes[row % len(sizes)]
        writer.writerow(
            [
                f"P{row + 1}",
                f"room-{row % 3}",
                f"face-{row % sides}",
                glazings[row % len(glazings)]["id"],
                rng.choice((1, 1, 2)) if rows < 60 else 1,
                f"{width} cm",
                f"{height} cm",
                f"{rng.randint(0, 120)} cm",
                f"{rng.randint(20, 150)} cm" if shade else "",
                "20 cm" if shade else "",
                "4 cm",
                rng.choice(("metal", "timber", "plastic")),
                rng.choice(("floor", "step_ladder", "tower")),
                "yes" if rng.random() < 0.1 else "no",
                "",
            ]
        )
    return out.getvalue()


def write_job(number: int, where: Path) -> tuple[str, str]:
    """Write job number ``number`` into a folder; return its script and what kind of job it is."""
    rng = Random(20260101 + number)
    script = SCRIPTS[number % len(SCRIPTS)]
    kind = {0: LOSING, 7: WINNING, 3: LOSING}.get(number % 10, UNKNOWN)
    names = NAMES[script]
    people = names["people"]
    sides = 1 if kind == WINNING else rng.randint(1, 3)
    films, glazings = _films(rng, number, names["films"], kind), _glazings(rng, kind)
    bearings = rng.sample((95.0, 180.0, 265.0, 10.0), sides)
    south = rng.random() < 0.3
    job: dict[str, Any] = {
        "id": f"made-{number:02d}",
        "title": f"{names['rooms'][0]}, {names['sides'][0]}",
        "invented": True,
        "units": rng.choice(("us", "metric")),
        "currency": rng.choice(("EUR", "USD", "JPY", "INR")),
        "language": "en",
        "locale": LOCALES[number % len(LOCALES)],
        "complaint": {
            "text": f"{names['rooms'][1]}: {people[0]}",
            "kinds": [
                *rng.sample(("heat", "glare", "fading", "privacy"), rng.randint(1, 3)),
                *(["bills"] if number % 5 == 0 else []),
            ],
        },
        "client": {"name": people[0], "address": [names["sides"][0], names["rooms"][2]]},
        "business": {"name": people[1], "contact": "hello@invented.example"},
        "quote": {
            "number": f"{names['sides'][1]} {number}",
            "date": "2026-03-02",
            "deposit_percent": rng.choice((0, 33, 40)),
        },
        "rooms": [
            {"id": f"room-{at}", "name": name}
            | ({"heat": _heat(kind, number)} if at < 2 and kind != UNKNOWN else {})
            for at, name in enumerate(names["rooms"])
        ],
        "faces": [
            {"id": f"face-{at}", "name": names["sides"][at], "bearing": bearings[at]} for at in range(sides)
        ],
        "glazings": glazings,
        "films": films,
        "fitting": {"method": rng.choice(("trim_on_glass", "cut_to_size")), "date": "2026-03-23"},
        "prices": {
            "dated": "2026-01-12",
            "labour_per_hour": 1 if kind == WINNING else 60,
            "margin_percent": 20,
            "travel": 0 if kind == WINNING else 30,
            "tax": {"name": "VAT", "percent": rng.choice((0, 20)), "prices_include_it": rng.random() < 0.5},
        },
    }
    if number % 5 == 4:
        job["limits"] = {
            "darkest_visible_transmittance_percent": rng.choice((25, 50)),
            "most_mirrored_visible_reflectance_percent": 20,
        }
    if number % 6 == 1:
        job["choice"] = {"job": films[0]["id"]}
    if number % 9 == 5:
        job["choice"] = {"job": "none"}
    if kind == UNKNOWN:
        job["weather"] = {"use": "clear_days"}
        job["site"] = {
            "latitude": -33.4 if south else rng.choice((4.6, 41.2, 60.2)),
            "longitude": rng.choice((-70.0, 12.5, 100.5)),
        }
    else:
        job["weather"] = {"use": "shipped", "name": "miami" if kind == WINNING else "sand point"}
        job["energy"] = {
            "priced_on": "2026-01-12",
            "electricity": {"rate": 0.6 if kind == WINNING else 0.3},
            "growth_percent": [0, 1, 2],
            "discount_percent": 3,
        }
    where.mkdir()
    with (where / "job.yaml").open("w", encoding="utf-8") as file:
        yaml = YAML()
        yaml.allow_unicode = True
        yaml.dump(job, file)
    (where / "windows.csv").write_text(_survey(rng, number, kind, sides, glazings), encoding="utf-8")
    return script, kind


@pytest.fixture(scope="session")
def made(
    tmp_path_factory: pytest.TempPathFactory, book: Callable[[Study], Any]
) -> Callable[[int], Generated]:
    """Return a function from a number to its job with all that is made of it, made once."""
    home = tmp_path_factory.mktemp("generated")

    @cache
    def make(number: int) -> Generated:
        folder = home / f"made-{number:02d}"
        script, kind = write_job(number, folder)
        study = Study.open(folder)
        notebook = book(study)
        proposal, basis, fitting = (assemble(notebook, kind) for kind in ("proposal", "basis", "fitting"))
        results = proposal.results
        job = results["job"]
        fmt = Formats(job["locale"], units=job["units"], currency=job["currency"])
        return Generated(number, script, kind, folder, study, results, proposal, basis, fitting, fmt)

    return make


@pytest.fixture(scope="session")
def pages_of(made: Callable[[int], Generated], once: Any) -> Callable[[int], dict[str, str]]:
    """Return a function from a job's number to its documents as web pages without scripts, made once."""

    def write(number: int) -> dict[str, str]:
        job = made(number)
        documents = {"proposal": job.proposal, "basis": job.basis, "fitting": job.fitting}
        return {kind: html.document(one.page, static=True) for kind, one in documents.items()}

    return lambda number: once.get(f"generated-{number}", lambda: write(number))
