"""Findings of invented jobs, made without computing any: what pictures are drawn from."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Callable, Mapping
from types import UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

import pytest
from pydantic.fields import FieldInfo

from reportkit.documents.language.formats import Formats
from reportkit.documents.language.words import Words
from reportkit.findings.findings import Findings, StoredFindings, sections
from reportkit.findings.result import Result
from reportkit.job.model import Complaint, Face, FilmSpec, GlazingSpec, Job, Pane, Room
from reportkit.study.sight import SCENES


class Results(dict[str, Any]):
    """Data of results.json, as much of it as pictures show: to be changed, then read as records."""

    @property
    def findings(self) -> Findings:
        """The same as records; what no picture shows is empty."""
        kinds = {name: section.type for name, section in sections().items() if name in self}
        return StoredFindings(
            _job(self["job"]), {name: completed(kind, self[name]) for name, kind in kinds.items()}
        )


#: The records of a job that have names.
RECORDS = {"films": FilmSpec, "faces": Face, "rooms": Room, "glazings": GlazingSpec, "panes": Pane}


def _job(data: Mapping[str, Any]) -> Job:
    """Return a job whose records have nothing but what is given: a name may be one no job would let in."""
    records: dict[str, Any] = {
        name: tuple(kind.model_construct(**_without_unit(entry)) for entry in data[name])
        for name, kind in RECORDS.items()
    }
    complaint = Complaint(text="Too hot by three", kinds=("heat", "glare"))
    return Job.model_construct(**{**data, **records, "complaint": complaint})


def _without_unit(entry: Mapping[str, Any]) -> dict[str, Any]:
    return {name.removesuffix("_mm"): value for name, value in entry.items()}


def completed(kind: Any, data: Any) -> Any:
    """Return data of a kind with what is missing in its records put at nothing: 0, empty or null."""
    origin, inner = get_origin(kind), get_args(kind)
    if origin is Annotated:
        return completed(inner[0], data)
    if origin in (Union, UnionType):
        return completed(_meant(inner, data), data)
    if origin is tuple:
        return [completed(inner[0], entry) for entry in data]
    if isinstance(kind, type) and issubclass(kind, Result) and isinstance(data, Mapping):
        fields = {field.alias or name: field for name, field in kind.model_fields.items()}
        given = {name: completed(fields[name].annotation, value) for name, value in data.items()}
        missing = {name: field for name, field in fields.items() if field.is_required() and name not in data}
        return given | {name: _nothing(field) for name, field in missing.items()}
    return data


def _meant(kinds: tuple[Any, ...], data: Any) -> Any:
    """Return which of some kinds data is of: null, or the record that has all its fields."""
    if data is None:
        return type(None)
    records = [kind for kind in kinds if isinstance(kind, type) and issubclass(kind, Result)]
    if records and isinstance(data, Mapping):
        return next(kind for kind in records if set(data) <= set(kind.model_fields))
    return kinds[0]


def _nothing(field: FieldInfo) -> Any:
    """Return the least a field may hold."""
    kind, count = (
        field.annotation,
        max((getattr(mark, "min_length", 0) for mark in field.metadata), default=0),
    )
    origin, inner = get_origin(kind), get_args(kind)
    if origin in (Union, UnionType):
        return None
    if origin is Literal:
        return inner[0]
    if origin is tuple:
        return [0.0] * count
    if origin is dict:
        return {}
    if isinstance(kind, type) and issubclass(kind, Result):
        return completed(kind, {})
    if kind is dt.datetime:
        return dt.datetime(2025, 7, 9)
    return "" if kind is str else 0


#: Names of invented films: plain, long, and in letters the shipped typefaces lack.
LONG = "Invented exceptionally long film name, 40"
NAMES = (
    "Invented grey",
    "Invented silver",
    LONG,
    "虚构的隔热膜",
    "سەرمە 20",
    "Invented clear & <b>bold</b>",
    "Zed",
)


def _faces(count: int, level: float) -> list[dict[str, Any]]:
    made = []
    for number in range(count):
        middle = 9 + 2 * number
        grid = [
            [
                max(
                    0.0,
                    level
                    * (1 - 0.1 * number)
                    * (1 - 0.01 * (month - 6) ** 2)
                    * math.cos((hour - middle) / 5),
                )
                if 5 <= hour <= 20
                else 0.0
                for hour in range(24)
            ]
            for month in range(12)
        ]
        made.append(
            {
                "id": f"F{number}",
                "name": ("East", "South", "West", "North", "Roof", "Yard")[number % 6],
                "peak_w_m2": level,
                "mean_by_month_and_hour_w_m2": grid,
            }
        )
    return made


def _cutting(panes: list[dict[str, Any]], film: str) -> dict[str, Any]:
    """Lay one strip after another, each with as many equal panes as fit across; the second pane turned."""
    wide, strips, y = 1524, [], 0
    for order, pane in enumerate(panes):
        width, length = pane["width_mm"], pane["height_mm"]
        turned = order == 1 and length <= wide
        if turned:
            width, length = length, width
        left = pane["quantity"]
        while left:
            fit = min(left, max(int(wide // width), 1))
            pieces = [
                {
                    "pane": pane["id"],
                    "x_mm": number * width,
                    "width_mm": width,
                    "length_mm": length,
                    "turned": turned,
                    "seam": {"part": number + 1, "parts": 2} if pane["id"] == "P0" and fit == 2 else None,
                }
                for number in range(fit)
            ]
            strips.append({"y_mm": y, "length_mm": length, "pieces": pieces})
            y += length
            left -= fit
    length = max(30500, y)
    bought = wide * length / 1e6
    glass = sum(pane["area_m2"] * pane["quantity"] for pane in panes)
    roll = {
        "film": film,
        "width_mm": wide,
        "length_mm": length,
        "price": "500.00",
        "left_mm": length - y,
        "strips": strips,
    }
    return {
        "rolls": [roll],
        "bought_m2": bought,
        "glass_m2": glass,
        "waste_fraction": 1 - glass / bought,
        "kept_m2": 0.0,
        "lost_fraction": 1 - glass / bought,
    }


def made_results(
    *,
    films: int = 3,
    panes: int = 4,
    faces: int = 2,
    quantity: int = 1,
    shares: tuple[float, ...] = (0.4, 0.25, 0.6, 0.55, 0.3, 0.8, 0.35),
    chosen: str | None = "film-0",
    level: float = 500.0,
    whole_year: bool = True,
    worst: int = 9,
    winter_share: float | None = None,
    units: str = "metric",
    locale: str = "en-GB",
    read: tuple[str, float, float, bool] | None = ("as_computed", 0.41, 0.4, False),
) -> Results:
    """Return results of an invented job.

    ``shares`` is what each film lets in of the heat through bare glass; ``level`` the sun's strength.
    """
    ids = [f"film-{number}" for number in range(films)]
    hours = [f"2025-07-09T{hour:02d}:30:00+01:00" for hour in range(24)]
    light = [number / 20 for number in range(21)]
    bare = [
        max(0.0, level * 4 * math.cos((hour - worst) / 3.8)) if abs(hour - worst) < 6 else 0.0
        for hour in range(24)
    ]
    watts = {"nothing": bare} | {
        name: [value * share for value in bare] for name, share in zip(ids, shares, strict=False)
    }
    months = [level * (0.5 + 0.4 * math.cos((month - 6) / 2)) for month in range(12)]
    summer = [4, 5, 6, 7, 8, 9]

    def option(name: str, share: float) -> dict[str, Any]:
        cool = share if winter_share is None or name == "nothing" else winter_share
        by_month = [value * (share if month + 1 in summer else cool) for month, value in enumerate(months)]

        def half(values: list[float], warm: bool) -> float:
            return sum(value for month, value in enumerate(values) if (month + 1 in summer) == warm)

        data: dict[str, Any] = {
            "id": name,
            "kind": "none" if name == "nothing" else "film",
            "film": None if name == "nothing" else name,
            "films": [] if name == "nothing" else [name],
            "chosen": name == (chosen or "nothing"),
            "peak_solar_w": bare[worst] * share,
            "summer_solar_kwh": half(by_month, True),
            "winter_solar_kwh": half(by_month, False),
            "summer_kept_out_kwh": half(months, True) - half(by_month, True),
            "winter_kept_out_kwh": half(months, False) - half(by_month, False),
            "monthly_solar_kwh": by_month,
            "summer_months": summer,
        }
        if not whole_year:
            data |= {key: None for key in data if key.endswith("_kwh")}
        return data

    placed = [
        {
            "id": f"P{number}",
            "room": f"R{number * 3 // panes}",
            "face": f"F{number % faces}",
            "glazing": "G1",
            "quantity": quantity,
            "width_mm": 420 + 130 * (number % 5),
            "height_mm": 700 + 210 * (number % 4),
            "area_m2": (420 + 130 * (number % 5)) * (700 + 210 * (number % 4)) / 1e6,
            "film": chosen,
            "peak_solar_w": level
            * (420 + 130 * (number % 5))
            * (700 + 210 * (number % 4))
            / 1e6
            * quantity
            * (0.3 + 0.1 * (number % 6)),
        }
        for number in range(panes)
    ]
    glazings = [{"id": "G1", "film": None, "shgc": 0.82, "t_visible": 0.89}] + [
        {"id": "G1", "film": name, "shgc": min(0.82 * share, 1.0), "t_visible": min(0.1 + 0.8 * share, 0.95)}
        for name, share in zip(ids, shares, strict=False)
    ]
    looks = [
        {
            "film": entry["film"],
            "tints": ["clear"],
            "t_visible": entry["t_visible"],
            "r_visible_out": min(0.08, 1 - entry["t_visible"]),
            "r_visible_in": min(0.08, 1 - entry["t_visible"]),
        }
        for entry in glazings
    ]
    results = Results(
        job={
            "id": "invented",
            "units": units,
            "language": "en",
            "locale": locale,
            "currency": "EUR",
            "films": [{"id": name, "name": NAMES[number % 7]} for number, name in enumerate(ids)],
            "faces": [{"id": face["id"], "name": face["name"]} for face in _faces(faces, level)],
            "rooms": [
                {"id": f"R{number}", "name": ("Hall", "Kitchen", "Long sunny study")[number]}
                for number in range(3)
            ],
            "glazings": [{"id": "G1", "name": "Single 6 mm clear"}],
            "panes": [{"id": pane["id"], "sill_mm": 850.0, "quantity": quantity} for pane in placed],
        },
        faces=_faces(faces, level),
        glazings=glazings,
        panes=placed,
        options=[
            option("nothing", 1.0),
            *(option(name, share) for name, share in zip(ids, shares, strict=False)),
        ],
        bad_day={"time": hours[worst], "room": "R0", "hours": hours, "watts": watts},
        views={"glazing": "G1", "luminance_cd_m2": SCENES, "panes": looks},
        claim_limits={
            "visible_transmittance": light,
            "flat": [0.43 * value for value in light],
            "neutral": [0.36 * value for value in light],
            "any": [0.3 * value for value in light],
        },
        cutting=_cutting(placed, chosen) if chosen else None,
        readings=None,
    )
    if read and films:
        results["readings"] = {"compared": [_compared(name, *read) for name in ids[-2:]], "left_out": []}
    return results


def _compared(film: str, verdict: str, share: float, expected: float, in_open: bool) -> dict[str, Any]:
    """Return readings behind a film whose ratio scatters about a share."""
    pairs = [
        {
            "time": f"2025-07-{number + 1:02d}T11:{10 + 7 * number}:00",
            "pane": f"P{number}",
            "beside": "open" if in_open else "P9",
            "bare": bare,
            "filmed": bare * share * factor,
            "share": share * factor,
            "expected": {"low": expected * 0.98, "high": expected * 1.02},
            "aoi_deg": None if number else 31.4,
            "note": "",
        }
        for number, (bare, factor) in enumerate(((61_500.0, 0.97), (8_200.0, 1.04), (74_800.0, 1.0)))
    ]
    return {
        "meter": "uv" if share < 0.1 else "light",
        "film": film,
        "glazing": "G1",
        "in_open": in_open,
        "share": {"low": share * 0.94, "middle": share, "high": share * 1.06},
        "expected": {"low": expected * 0.98, "high": expected * 1.02},
        "verdict": verdict,
        "pairs": pairs,
    }


#: Jobs that differ in what may go wrong.
CASES: dict[str, dict[str, Any]] = {
    "plain": {},
    "one film": {"films": 1, "panes": 1, "faces": 1},
    "no film": {"films": 0, "chosen": None},
    "seven films, US": {
        "films": 7,
        "units": "us",
        "locale": "en-US",
        "read": ("as_computed", 0.004, 0.0041, True),
    },
    "leave it": {"chosen": None},
    "losing": {"films": 2, "shares": (1.1, 1.3), "read": ("more", 0.93, 0.4, False)},
    "equal": {"films": 2, "shares": (1.0, 1.0), "read": ("cannot_tell", 0.99, 0.985, False)},
    "night": {"level": 0.0},
    "no year": {"whole_year": False, "worst": 16, "read": ("less", 0.2, 0.62, True)},
    "summer and winter differ": {"films": 1, "winter_share": 1.2, "locale": "de-DE"},
    "many panes": {"panes": 120, "faces": 1, "locale": "fr-FR"},
    "many alike": {"panes": 3, "quantity": 30, "faces": 6},
}


@pytest.fixture(scope="session")
def make() -> Callable[..., Results]:
    """Make results of an invented job."""
    return made_results


@pytest.fixture(scope="session")
def all_cases() -> dict[str, Results]:
    """Results of every case by name; not to be changed."""
    return {name: made_results(**how) for name, how in CASES.items()}


@pytest.fixture(scope="module", params=list(CASES))
def results(request: pytest.FixtureRequest, all_cases: dict[str, Results]) -> Results:
    """Results of one case after the other; not to be changed."""
    return all_cases[request.param]


@pytest.fixture(scope="session")
def formats() -> Callable[[Results], Formats]:
    """Make the numbers' writer for results."""
    return lambda results: Formats(
        results["job"]["locale"], units=results["job"]["units"], currency=results["job"]["currency"]
    )


@pytest.fixture(scope="session")
def words() -> Words:
    """English."""
    return Words("en")
