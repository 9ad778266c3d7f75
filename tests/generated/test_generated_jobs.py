"""Generated jobs, folder to page: nothing empty, nothing raw, no sentence against its number.

Each check reads a sentence out of the finished document and the number it speaks of out of the results,
and parses the sentence's own number by the signs of its locale: the sections' code is not asked.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from decimal import ROUND_HALF_UP, Decimal
from typing import Any
from xml.etree import ElementTree

import lxml.html
import pypdfium2
import pytest
from babel.numbers import get_currency_precision
from bounds import beyond
from generated.conftest import NUMBERS, SCRIPTS
from printed import check_price, of_document
from trials import TRIALS

from reportkit.documents.layouts import pdf
from reportkit.documents.runs import words_of

pytestmark = pytest.mark.trial

SVG = "{http://www.w3.org/2000/svg}"

#: How often each kind of sentence was found and read, over all jobs.
READ: Counter[str] = Counter()


@pytest.fixture(scope="module", params=NUMBERS)
def job(request: pytest.FixtureRequest, made: Callable[[int], Any]) -> Any:
    """One generated job after the other."""
    return made(request.param)


# -- reading the documents ----------------------------------------------------------------------------


def _blocks(blocks: list[dict[str, Any]]) -> Iterator[dict[str, Any]]:
    for block in blocks:
        yield block
        if block["type"] == "group":
            yield from _blocks(block["blocks"])
        elif block["type"] == "columns":
            for column in block["columns"]:
                yield from _blocks(column)


def _sentences(page: Mapping[str, Any]) -> list[str]:
    """Every text of a document that may be a sentence: paragraphs, points, findings of pictures."""
    found = []
    for block in _blocks(page["blocks"]):
        if block["type"] == "paragraph":
            found.append(words_of(block["text"]))
        elif block["type"] in ("bullets", "steps"):
            found += [words_of(point) for point in block["points"]]
        elif block["type"] == "figure":
            found.append(block["title"])
    return [" ".join(text.split()) for text in found]


def _facts(page: Mapping[str, Any]) -> dict[str, dict[str, str]]:
    return {
        fact["label"]: fact
        for block in _blocks(page["blocks"])
        if block["type"] == "facts"
        for fact in block["facts"]
    }


def _table(page: Mapping[str, Any], identifier: str) -> list[list[str]]:
    """The cells of a table, row by row."""
    block = next(b for b in _blocks(page["blocks"]) if b["type"] == "table" and b["id"] == identifier)
    return [[words_of(cell) for cell in row["cells"]] for row in block["rows"]]


def _value(text: str, job: Any) -> float:
    """The one number in a text, by the locale's signs."""
    mark = job.fmt.decimal_mark
    digits = re.sub(rf"[^\d{re.escape(mark)}]", "", text)
    sign = -1 if re.search(r"[−-]\s*[^\d\s]{0,3}\s*\d", text) else 1
    return sign * float(digits.replace(mark, "."))


def _near(text: str, value: float, job: Any, digits: int = 2) -> bool:
    """Whether a text's number is the value, rounded to significant digits."""
    return _value(text, job) == pytest.approx(value, rel=0.6 * 10 ** (1 - digits), abs=1e-9)


def _chosen(job: Any) -> dict[str, Any]:
    return next(entry for entry in job.results["options"] if entry["chosen"])


def _nothing(job: Any) -> dict[str, Any]:
    return next(entry for entry in job.results["options"] if entry["kind"] == "none")


def _matches(pattern: str, job: Any) -> Iterator[re.Match[str]]:
    """Every place in the reasons and numbers where a sentence says something, counted."""
    for sentence in _sentences(job.basis.page):
        for match in re.finditer(pattern, sentence):
            READ[pattern] += 1
            yield match


# -- the jobs themselves --------------------------------------------------------------------------------


def test_the_jobs_are_as_different_as_they_should_be(made: Callable[[int], Any]) -> None:
    """Six scripts, one of them in no font shipped; 1 to 120 rows; jobs that lose, pay, know no year."""
    jobs = [made(number) for number in NUMBERS]
    assert Counter(job.script for job in jobs) == dict.fromkeys(SCRIPTS, len(NUMBERS) // len(SCRIPTS))
    assert not pdf._prints("\U0001e100", False)
    rows = {len(job.study.job.panes) for job in jobs}
    assert min(rows) == 1
    assert max(rows) == 120
    losing = [job for job in jobs if job.kind == "losing"]
    for job in losing:
        told = {entry["verdict"] for entry in job.results["options"] if entry["panes_filmed"]}
        assert told <= {"does_not_pay"}
    assert any(_chosen(job)["verdict"] == "does_not_pay" for job in losing)
    winning = [job for job in jobs if job.kind == "winning"]
    assert winning
    assert all(_chosen(job)["verdict"] == "pays" for job in winning)
    assert {job.results["weather"]["kind"] for job in jobs} == {"clear_sky", "typical_year"}
    assert {job.results["job"]["units"] for job in jobs} == {"us", "metric"}


# -- as printed -----------------------------------------------------------------------------------------


def test_no_number_leaves_its_bound(job: Any) -> None:
    """Plain bounds by unit and path, listed in `bounds`."""
    assert beyond(job.results) == []


def test_prices_and_shares_follow_from_what_is_printed(job: Any) -> None:
    """Quantity times rate is the amount, sums add up, "less than now" is that of the watts beside it."""
    read = of_document(job.basis)
    if any(entry["chosen"] and entry["panes_filmed"] for entry in job.results["options"]):
        lines, _ = check_price(read, get_currency_precision(job.results["job"]["currency"]))
        assert lines
    rows = read.rows("all")
    watts = [read.number(row[1]) for row in rows]
    for row, then in zip(rows, watts, strict=True):
        share = (100 * (1 - then / watts[0])).quantize(Decimal(1), ROUND_HALF_UP)
        assert read.number(row[2]) == share, row


# -- nothing empty, nothing raw ---------------------------------------------------------------------------

RAW = re.compile(
    r"\bnan\b|\bNaN\b|\bNone\b(?! of)|\bTrue\b|\bFalse\b|\binf\b|[{}]|%\(|<[a-z]+ object|\bDecimal\("
    r"|\b[a-z]+_[a-z_]+\b"
)


def test_no_raw_value_is_shown(job: Any, pages_of: Callable[[int], dict[str, str]]) -> None:
    """No nan, None, brace or name of a field stands in any visible text of a document."""
    typed = {record["name"] for kind in ("films", "rooms", "faces") for record in job.results["job"][kind]}
    documents = pages_of(job.number)
    assert len(documents) == 3
    for document in documents.values():
        page = lxml.html.document_fromstring(document)
        for node in page.iter("style", "script"):
            node.text = ""
        text = " ".join(" ".join(page.itertext()).split())
        for name in sorted(typed, key=len, reverse=True):
            text = text.replace(" ".join(name.split()), "·")
        assert RAW.findall(text) == []
        assert job.results["job"]["client"]["name"] in " ".join(page.text_content().split())


def test_every_picture_has_something_in_it(job: Any) -> None:
    """A picture holds letters and shapes, has a finding and words, and all of it lies on its sheet."""
    figures = [
        b
        for d in (job.proposal, job.basis, job.fitting)
        for b in _blocks(d.page["blocks"])
        if b["type"] == "figure"
    ]
    assert len(figures) >= 4
    for figure in figures:
        root = ElementTree.fromstring(figure["svg"])
        letters = [node.text for node in root.iter(f"{SVG}text") if (node.text or "").strip()]
        shapes = [node for tag in ("path", "rect", "use", "image") for node in root.iter(f"{SVG}{tag}")]
        assert len(letters) >= 2, figure["id"]
        assert len(shapes) >= 3, figure["id"]
        assert len(figure["title"]) > 10
        assert len(figure["alt"]) > 30
        _, _, wide, high = map(float, root.get("viewBox", "").split())
        for node in root.iter(f"{SVG}text"):
            assert 0 <= float(node.get("x", "nan")) <= wide, (figure["id"], node.text)
            assert 0 <= float(node.get("y", "nan")) <= high, (figure["id"], node.text)


def test_no_letter_leaves_the_paper(job: Any) -> None:
    """In the PDFs every letter lies within its page, no page is empty, and the claim is an honest one."""
    for document in (job.proposal, job.basis, job.fitting):
        data = pdf.document(document.page)
        with pypdfium2.PdfDocument(data) as file:
            assert len(file) >= 1
            for page in file:
                wide, high = page.get_size()
                letters = page.get_textpage()
                assert letters.count_chars() > 40
                for index in range(letters.count_chars()):
                    left, bottom, right, top = letters.get_charbox(index)
                    assert left >= -0.5, index
                    assert bottom >= -0.5, index
                    assert right <= wide + 0.5, letters.get_text_range(max(0, index - 30), 40)
                    assert top <= high + 0.5, index
            told = "".join(page.get_textpage().get_text_range() for page in file)
        coded = "[U+" in told
        assert (b"<pdfaid:part>3" in data) != coded
        if job.script != "hmong":
            assert not coded
        elif not pdf._prints("\U0001e100", True):
            READ["letters without a font"] += 1
            assert coded


# -- no sentence against its number ---------------------------------------------------------------------


def test_the_recommendation_says_what_the_results_say(job: Any) -> None:
    """Before, after and the share of the worst hour are the results', and the sentence's own sum is right."""
    chosen, nothing = _chosen(job), _nothing(job)
    before, after = nothing["peak_solar_w"], chosen["peak_solar_w"]
    said = " ".join(_sentences(job.basis.page)[:6])
    assert ("Leave the glass as it is" in said) == (chosen["kind"] == "none")
    falls = r"heat through the glass falls from (?P<a>\S+) W to (?P<b>\S+) W, (?P<s>[^,]+?) less\."
    for match in _matches(falls, job):
        shown = {key: _value(match[key], job) for key in "abs"}
        assert shown["a"] > shown["b"]
        assert _near(match["a"], before, job, 3)
        assert _near(match["b"], after, job, 3)
        assert shown["s"] == pytest.approx(100 * (1 - shown["b"] / shown["a"]), abs=0.501)
    for _ in _matches(r"changes the sun's heat at the worst hour .* less than one part in 200", job):
        assert abs(before - after) <= 0.005 * max(before, 1)
    for match in _matches(r"on (?P<n>\S+) panes?\. ", job):
        assert _value(match["n"], job) == chosen["panes_filmed"]


def test_what_was_asked_is_told_as_the_results_say_it(job: Any) -> None:
    """Light, shares seen and light left are the chosen option's and bare glass's; watts only for heat."""
    now, then = (entry["asked"] for entry in (_nothing(job), _chosen(job)))
    kinds = job.results["job"]["complaint"]["kinds"]
    assert set(now) == set(then) == set(kinds) - {"heat", "bills"}
    glare = r"Light at the eye, .+ falls from (?P<a>.+?) (?P<u>lx|fc) to (?P<b>.+?) (lx|fc), (?P<s>.+?) less"
    for match in _matches(glare, job):
        factor = 1.0 if match["u"] == "lx" else 1 / 10.7639  # 1 fc is 1 lm/ft2
        assert _near(match["a"], now["glare"]["light_at_eye_lx"] * factor, job, 3)
        assert _near(match["b"], then["glare"]["light_at_eye_lx"] * factor, job, 3)
        share = 100 * (1 - _value(match["b"], job) / _value(match["a"], job))
        assert _value(match["s"], job) == pytest.approx(share, abs=0.51)
    for match in _matches(r"For (?P<h>\S+) hours( a year)? the sun itself stands in the window", job):
        assert _near(match["h"], job.results["sun_in_view"]["hours"], job, 2)
    for match in _matches(r"light that fades things, (?P<s>.+?) of what comes in now", job):
        assert _value(match["s"], job) == pytest.approx(100 * then["fading"]["left"], abs=0.51)
    seen = r"goes from (?P<a>.+) to (?P<b>.+) by day, and from (?P<c>.+) to (?P<d>.+?) after dark"
    for match in _matches(seen, job):
        for key, (name, entry) in zip(
            "abcd", ((n, e) for n in ("shows_by_day", "shows_after_dark") for e in (now, then)), strict=True
        ):
            share = 100 * entry["privacy"][name]
            if match[key].startswith(("under", "over")):  # what rounds to nothing or to all is not told so
                assert share < 0.5 if match[key].startswith("under") else share > 99.5
            else:
                assert _value(match[key], job) == pytest.approx(share, abs=0.51)
    assert ("Sun's heat at the worst hour" in _facts(job.basis.page)) == ("heat" in kinds)
    if "bills" in kinds and _chosen(job)["kind"] != "none":
        assert "Energy bills, a year" in _facts(job.basis.page)


def test_money_sentences_follow_their_ranges(job: Any) -> None:
    """Saves: the low end is above nothing; costs more: the high end is below; cannot be told: in between."""
    saving, npv = _chosen(job)["saving_per_year"], _chosen(job)["npv"]
    for match in _matches(r"saves (?P<a>.+?) – (?P<b>.+?) a year on energy\.", job):
        assert 0 < float(saving["p10"]) <= float(saving["p90"])
        assert _near(match["a"], float(saving["p10"]), job)
        assert _near(match["b"], float(saving["p90"]), job)
    for match in _matches(r"costs (?P<a>.+?) – (?P<b>.+?) a year more in energy than it saves\.", job):
        assert float(saving["p90"]) < 0
        assert _near(match["a"], -float(saving["p90"]), job)
        assert _near(match["b"], -float(saving["p10"]), job)
    for _ in _matches(r"saves on energy cannot be told", job):
        assert float(saving["p10"]) <= 0 <= float(saving["p90"])
    for _ in _matches(r"does not change the energy bills", job):
        assert max(abs(float(saving["p10"])), abs(float(saving["p90"]))) < 0.5
    for _ in _matches(r"years it earns its price back", job):
        assert float(npv["p10"]) > 0
    for _ in _matches(r"years it does not earn its price back", job):
        assert float(npv["p90"]) < 0
    for _ in _matches(r"earns its price back over .+ years cannot be told", job):
        assert float(npv["p10"]) <= 0 <= float(npv["p90"])
    for match in _matches(r": between (?P<a>\S+) and (?P<b>\S+) after (?P<n>\S+) years$", job):
        last = _chosen(job)["cash"][-1]
        assert _value(match["n"], job) == len(_chosen(job)["cash"]) - 1
        assert _near(match["a"], float(last["p10"]), job)
        assert _near(match["b"], float(last["p90"]), job)


def test_without_weather_no_year_is_told(job: Any) -> None:
    """With clear days alone no yearly number stands anywhere, and that is said."""
    said = " ".join(_sentences(job.basis.page))
    known = job.results["weather"]["kind"] != "clear_sky"
    assert ("Every yearly figure is withheld" in said) == (not known)
    if not known:
        READ["no year"] += 1
        assert "kWh" not in said
        assert "Hours too hot in a year" not in _facts(job.basis.page)
        assert all(entry["annual_solar_kwh"] is None for entry in job.results["options"])


def test_winter_is_minded_when_it_loses_more(job: Any) -> None:
    """The warning stands exactly where more sun is kept out in the cold than in the warmth."""
    chosen = _chosen(job)
    warm, cold = chosen["kept_out_warm_kwh"], chosen["kept_out_cold_kwh"]
    told = r"in a year, (?P<warm>\S+) kWh falls in hours of .+ outside; (?P<cold>\S+) kWh falls in colder"
    for match in _matches(told, job):
        assert cold <= warm
        assert _near(match["warm"], warm, job)
        assert _near(match["cold"], cold, job)
    minds = r"kept out in a year, (?P<cold>\S+) kWh falls in hours colder than .+ only (?P<warm>\S+) kWh in"
    for match in _matches(minds, job):
        assert cold > warm
        assert _value(match["cold"], job) >= _value(match["warm"], job)
    figure = r"keeps out (?P<a>\S+) kWh of sun from .+, and (?P<b>\S+) kWh from"
    for match in _matches(figure, job):
        assert _near(match["a"], chosen["summer_kept_out_kwh"], job)
        assert _near(match["b"], chosen["winter_kept_out_kwh"], job)


def test_pictures_say_what_their_data_say(job: Any) -> None:
    """The finding over the worst day, the panes and the sun is the results' own."""
    chosen, nothing, day = _chosen(job), _nothing(job), job.results["bad_day"]
    at = day["hours"].index(day["time"])
    base, kept = day["watts"][nothing["id"]][at], day["watts"][chosen["id"]][at]
    for match in _matches(r"cuts the .+ peak of sun heat by (?P<s>.+)$", job):
        assert _value(match["s"], job) == pytest.approx(100 * (1 - kept / base), abs=0.51)
    for match in _matches(r"^Bare glass lets in (?P<w>\S+) W at", job):
        assert chosen["kind"] == "none"
        assert _near(match["w"], base, job)
    for match in _matches(r"lets in the most at .+?, (?P<a>\d+) .+; the least is (?P<b>\d+) ", job):
        assert int(match["a"]) > int(match["b"])
    for match in _matches(
        r"cannot|lets in (?P<a>[\d,. ]+%) of the light and (?P<b>[\d,. ]+%) of the sun's heat", job
    ):
        if match["a"]:
            assert _value(match["a"], job) <= 100
            assert _value(match["b"], job) <= 100


def test_limits_are_broken_where_it_says_so(job: Any) -> None:
    """A film said to be too dark or too mirrored is so in the numbers shown, too."""
    dark = r"would let in (?P<v>[^;]+?) of the light; you asked for (?P<l>.+?) or more"
    for match in _matches(dark, job):
        assert _value(match["v"], job) < _value(match["l"], job)
    bright = r"would mirror (?P<v>[^;]+?) of the light outside; you asked for (?P<l>.+?) or less"
    for match in _matches(bright, job):
        assert _value(match["v"], job) > _value(match["l"], job)


def test_rooms_say_what_their_year_says(job: Any) -> None:
    """Hours over the limit, before and after, are the rooms' own, in the right order."""
    chosen, nothing = _chosen(job), _nothing(job)
    rooms = [room for room in job.results["rooms"] if room["options"]]
    pairs = [
        [
            next(option for option in room["options"] if option["id"] == entry["id"])["hot_hours"]
            for entry in (chosen, nothing)
        ]
        for room in rooms
    ]
    pairs = [pair for pair in pairs if None not in pair]
    for match in _matches(r": (?P<b>[^:]+) hours a year over the limit, with or without", job):
        assert any(all(_tells(match["b"], hours, job) for hours in pair) for pair in pairs)
    for match in _matches(r": hardly an hour over the limit, where (?P<b>.+?) a year were", job):
        assert any(pair[0]["p50"] < 1 and _tells(match["b"], pair[1], job) for pair in pairs)
    pattern = r": (?P<a>[^:]+) hours a year over the limit instead of (?P<b>[^:]+?)\.(?:\s|$)"
    for match in _matches(pattern, job):
        assert any(_tells(match["a"], pair[0], job) and _tells(match["b"], pair[1], job) for pair in pairs)


def _tells(text: str, hours: dict[str, float], job: Any) -> bool:
    """Whether words such as ``about 12`` or ``0 to 750`` tell a range, by the larger end's digits."""
    if text == "hardly any":
        return hours["p50"] < 1
    values = [_value(end, job) for end in text.removeprefix("about ").split(" to ")]
    told = [hours["p50"]] if len(values) == 1 else [hours["p10"], hours["p90"]]
    return values == pytest.approx(told, abs=max(0.5, 0.051 * max(told)))


def test_the_price_adds_up_on_paper(job: Any) -> None:
    """The total shown is the results', and what is due on acceptance and on completion adds up to it."""
    price = job.results["price"]
    facts = _facts(job.basis.page)
    if _chosen(job)["kind"] == "none":
        assert "Price, fitted" not in facts
        return
    READ["price"] += 1
    shown = Decimal(str(_value(facts["Price, fitted"]["value"], job)))
    assert shown == Decimal(price["total"])
    if "Deposit" in facts:
        READ["deposit"] += 1
        parts = [Decimal(str(_value(facts[key]["value"], job))) for key in ("Deposit", "Balance")]
        assert sum(parts) == shown


def test_the_options_table_is_the_results(job: Any) -> None:
    """Row by row: watts, share, light and panes; the share follows from the watts shown."""
    rows = _table(job.basis.page, "all")
    assert len(rows) == len(job.results["options"])
    now = float(f"{job.results['options'][0]['peak_solar_w']:.3g}")  # watts are shown to three figures
    for cells, entry in zip(rows, job.results["options"], strict=True):
        assert _near(cells[1], entry["peak_solar_w"], job, 3)
        left = float(f"{entry['peak_solar_w']:.3g}") / now if now else 1.0
        assert _value(cells[2], job) == pytest.approx(100 * (1 - left), abs=0.51)
        if entry["kind"] != "shade":
            light = next(cell for cell in cells[3:] if "%" in cell)
            assert _value(light, job) == pytest.approx(100 * entry["t_visible"], abs=0.51)


def test_the_pieces_to_cut_are_the_panes_filmed(job: Any) -> None:
    """The fitting sheet has a drawing of the rolls where film is cut, and no film where none is."""
    filmed = _chosen(job)["panes_filmed"]
    drawn = [b for b in _blocks(job.fitting.page["blocks"]) if b["type"] == "figure" and "roll" in b["id"]]
    assert bool(drawn) == bool(filmed)
    counted = re.compile(r"(\d+) pieces? from")
    told = [int(match[1]) for figure in drawn for match in counted.finditer(figure["title"])]
    if told:
        READ["pieces"] += 1
        assert sum(told) >= filmed


def test_every_kind_of_sentence_was_read() -> None:
    """The checks above met what they look for; a pattern that matches nothing would prove nothing."""
    if not READ:
        pytest.skip("counts what the other tests of this file read, and none was run")
    wanted = (
        "glass falls from",
        "Light at the eye",
        "fades things",
        "after dark",
        "a year on energy",
        "more in energy than it saves",
        "it earns its price back",
        "it does not earn its price back",
        "kept out in a year",
        "peak of sun heat by",
        "lets in the most at",
        "would let in",
        "over the limit instead of",
        "no year",
        "price",
        "pieces",
    )
    if not TRIALS:
        pytest.skip("a few jobs do not say everything")
    missed = [part for part in wanted if not any(part in pattern for pattern in READ)]
    assert missed == []
