"""The proposal: few pages, plain words, whole ways side by side, one acceptance; from field to page."""

import io
import json
import re
from decimal import Decimal
from functools import cache

import lxml.html
import pypdf
import pytest
from stranger import UNITS, strange

from reportkit.base.errors import JobError
from reportkit.documents.blocks import plain
from reportkit.documents.layouts import html
from reportkit.documents.layouts.assemble import assemble
from reportkit.documents.layouts.exporters import BY_FILE
from reportkit.documents.sections import SECTIONS
from reportkit.findings.findings import Results

DEMOS = ("corner-shop", "harbour-house", "hill-studio")
KINDS = "kinds: [heat, glare, fading]"


def text_of(*blocks):
    """Return the words of blocks as the page shows them."""
    shown = lxml.html.fromstring(f"<div>{html.fragment([plain(block) for block in blocks])}</div>")
    for style in shown.xpath("//style"):
        style.drop_tree()
    return " ".join(" ".join(shown.itertext()).split())


@pytest.fixture(scope="module")
def page(page_of, edited):
    """Return a function from a demo job and changes to its page."""
    return cache(lambda name, *changes: page_of(edited(name, *changes)))


@pytest.mark.parametrize(
    "kinds", ["heat, glare, fading", "privacy", "bills", "fading, privacy, glare, heat, bills"]
)
@pytest.mark.parametrize("name", DEMOS)
def test_page_one_is_for_a_stranger(page, name, kinds):
    """No watt or lux, no pane's code, no word outside the list of plain ones but those typed in the job."""
    asked = {"corner-shop": KINDS, "harbour-house": "kinds: [glare, fading]"}.get(
        name, "kinds: [heat, glare, privacy]"
    )
    made = page(name, (asked, f"kinds: [{kinds}]"))
    assert strange(text_of(*SECTIONS["answer"](made)), made.job) == []


def test_page_one_tells_heat_by_hours_where_they_are_known(page):
    """Hot hours then and now as in the results; without a year of weather the share at the worst hour."""
    one, lead = page("corner-shop"), text_of(*SECTIONS["answer"](page("corner-shop")))
    results = Results(one.findings)
    now, then = (one.hours(entry.hot_hours) for entry in (one.bare, one.chosen))
    assert f"Hours in a year when it is too hot: {then} instead of {now}." in lead
    assert results["options"][0]["hot_hours"]["p90"] > 100  # there was something to tell
    other = page("hill-studio")
    share = other.less(other.bare.peak_solar_w, other.chosen.peak_solar_w)
    assert f"the sun's heat through the glass: {share} less" in text_of(*SECTIONS["answer"](other))


def _reach(sheet):
    """Return how far down a page its text reaches, head and foot left out, as a share of its height."""
    high, found = float(sheet.mediabox.top), []
    sheet.extract_text(
        visitor_text=lambda text, cm, tm, *_: found.append(tm[5] * cm[3] + cm[5]) if text.strip() else None
    )
    return max(high - y for y in found if 0.06 * high < y < 0.95 * high) / high


@pytest.mark.parametrize("name", [*DEMOS, "spanish"])
def test_a_home_has_at_most_four_pages(book_of, book, edited, name):
    """Four at most, none less than half full but the last, which may hold the acceptance alone."""
    if name == "spanish":
        changes = (("language: en", "language: es"), ("locale: en_US", "locale: es_US"))
        notebook = book(edited("corner-shop", *changes), "proposal")
    else:
        notebook = book_of(name)
    data, _ = BY_FILE["proposal.pdf"](run="0001").from_notebook_node(notebook)
    pages = pypdf.PdfReader(io.BytesIO(data)).pages
    assert 3 <= len(pages) <= 4
    for number, sheet in enumerate(pages, start=1):
        filled = _reach(sheet)
        assert filled > (0.2 if number == len(pages) else 0.5), (number, filled)


def test_three_whole_ways_stand_side_by_side(page):
    """Each with a box, a price that is its own offer's, its films by face, results and what it gives up."""
    made = page("corner-shop")
    ways = made.findings.ways
    assert [way.offered for way in ways] == [True, False, False]
    (columns,) = [
        block for block in SECTIONS["ways"](made).blocks[0].blocks if type(block).__name__ == "Columns"
    ]
    study = made.findings.study
    for way, (card,) in zip(ways, columns.columns, strict=True):
        said = text_of(*card.blocks)
        option = next(entry for entry in study.options if entry.id == way.option)
        total = study.offer.total if way.offered else study.quick_offer(option.film_by_pane).total
        assert way.total == total
        assert made.fmt.money(total).replace("\u00a0", " ") in said
        assert "What it gives up" in said and "Daylight" in said
        for film in option.films:
            assert made.film(film) in said
        assert text_of(card.blocks[0]) and card.blocks[0].marker == "tick"
    focus = next(way for way in ways if way.better == ("focus",))
    assert focus.total == made.findings.which_panes.beside_the_point.price_without
    light = next(way for way in ways if "light" in way.better)
    before, after = (made.option_named(way.option).t_visible for way in (ways[0], light))
    assert after > before
    accept = text_of(*SECTIONS["acceptance"](made))
    assert accept.count("I accept") == 1 and "40% of the price ticked" in accept


TYPED = (
    "choice: {}",
    "choice: {}\nalternatives:\n  - name: Only the street side\n"
    "    films: {faces: {south: ceramic-grey-40}}\n",
)


def test_typed_ways_take_the_place_of_those_found(page):
    """A typed name, its film on its face alone, its own price and hot hours; a wrong film is a fault."""
    made = page("corner-shop", TYPED)
    ways = made.findings.ways
    assert [way.name for way in ways] == ["", "Only the street side"]
    on = {(part.face, part.film) for part in ways[1].films}
    assert on == {("south", "ceramic-grey-40"), ("east", None), ("west", None)}
    assert ways[1].total < ways[0].total
    entry = made.option_named(ways[1].option)
    assert entry.hot_hours is not None and entry.cost == ways[1].total
    said = text_of(*SECTIONS["ways"](made))
    assert "Only the street side" in said and made.fmt.money(ways[1].total) in said
    wrong = (TYPED[0], TYPED[1].replace("ceramic-grey-40", "ceramic-gray"))
    with pytest.raises(JobError, match=r"alternatives.*must be a film of this job"):
        page("corner-shop", wrong)


def test_a_pane_left_bare_by_name_stays_bare_in_every_way(page):
    """In the studio one pane stays bare because a meter reads through it: so it does in the other ways."""
    made = page("hill-studio")
    assert len(made.findings.ways) > 1
    for way in made.findings.ways:
        bare = {pane for part in way.films if part.film is None for pane in part.panes}
        assert "W2" in bare, way.option


def test_a_warranty_is_printed_as_typed(page):
    """Typed: among what is promised; not typed: that none is stated."""
    said = text_of(
        *SECTIONS["promises"](
            page("corner-shop", ("  terms:", "  warranty: [Our work for two years]\n  terms:"))
        )
    )
    assert "Our work for two years" in said and "No warranty" not in said
    assert "No warranty is stated here" in text_of(*SECTIONS["promises"](page("corner-shop")))


def test_what_to_mind_concerns_this_client(page):
    """What is asked of somebody on page one is not told again, nor what only the fitter minds."""
    made = page("corner-shop")
    said = text_of(*SECTIONS["promises"](made))
    assert "Old film comes off first" in said and "Panes: E1" in said
    assert "Ladders" not in said and "Wet floors" not in said and "landlord" not in said
    basis = text_of(*SECTIONS["cautions"](made))
    for entry in made.findings.cautions:  # nothing is lost: the reasons have each with who decides
        assert entry.what in basis


def test_the_map_names_each_pane_by_room_and_code(page):
    """Every code and room in the picture's words; darker is what was asked about first."""
    for kinds, unit in (("heat", "%"), ("glare", "h"), ("privacy", "%"), ("fading", "h")):
        made = page("corner-shop", (KINDS, f"kinds: [{kinds}]"))
        figure = SECTIONS["building"](made).blocks[1]
        for pane in made.findings.panes:
            assert re.search(rf"{pane.id} in {made.room(pane.room)}: [\d.,]+\s?{unit}", figure.alt), pane.id
        assert "Side street" in figure.svg and not UNITS.search(figure.alt)
    heat = SECTIONS["building"](page("corner-shop"))
    most = max(made.findings.panes, key=lambda pane: pane.peak_solar_w / pane.area_m2 / pane.quantity)
    assert f"{most.id} in {made.room(most.room)}: 100%" in heat.blocks[1].alt


def test_labels_are_as_many_as_the_pieces(page):
    """One for each piece of the plan: pane, room, size as it hangs, roll and strip; a spare says so."""
    for name, spare in (("corner-shop", 0), ("hill-studio", 1)):
        made = page(name)
        (block,) = SECTIONS["labels"](made).blocks
        strips = [strip for roll in made.findings.cutting.rolls for strip in roll.strips]
        assert len(block.labels) == sum(len(strip.pieces) for strip in strips)
        sizes = {piece.pane: piece for piece in made.findings.pieces}
        for label in block.labels:
            piece = sizes[label.code]
            if not piece.parts_mm:
                assert label.size == made.fmt.size_mm(piece.width_mm, piece.height_mm)
            assert made.room(piece.room) in label.lines[0]
        assert sum("spare piece" in " ".join(label.lines) for label in block.labels) == spare


def test_labels_begin_where_the_sheet_is_used_up(book, edited):
    """Ten labels from the twentieth of 21 on: two at the foot of the first sheet, eight on the next."""
    made = book(edited("harbour-house", ("  spare: no", "  spare: no\n  first_label: 20")), "labels")
    data, _ = BY_FILE["labels.pdf"](run="0001").from_notebook_node(made)
    places = []
    for sheet in pypdf.PdfReader(io.BytesIO(data)).pages:
        found = []
        sheet.extract_text(
            visitor_text=lambda text, cm, tm, *_, found=found: (
                found.append((tm[4] + cm[4], tm[5] * cm[3] + cm[5])) if "roll and strip" in text else None
            )
        )
        places.append(found)
    assert [len(found) for found in places] == [2, 8]
    from reportkit.documents.labels import SHEETS

    foot = SHEETS["a4"].top_mm + 6 * SHEETS["a4"].down_mm  # the seventh row, 243.75 mm down
    assert all(297 - y / 72 * 25.4 > foot for _, y in places[0])
    assert places[0][0][0] / 72 * 25.4 > SHEETS["a4"].left_mm + SHEETS["a4"].across_mm  # the second across


def test_a_label_no_sheet_has_is_a_fault(edited):
    """A4 has 21 to a sheet, Letter 30; sheet and rule agree."""
    from reportkit.documents.labels import SHEETS
    from reportkit.job.model.fitting import LABELS

    assert {"letter": SHEETS["us-letter"].count, "a4": SHEETS["a4"].count} == LABELS
    with pytest.raises(JobError, match=r"fitting\.first_label: must be at most 21"):
        edited("harbour-house", ("  spare: no", "  spare: no\n  first_label: 22"))


@pytest.mark.parametrize("paper", ["us-letter", "a4"])
def test_sheets_of_labels_fit_their_paper(paper):
    """Letter is 8 1/2 by 11 in, A4 210 by 297 mm (ISO 216); both sides are left alike."""
    from reportkit.documents.labels import SHEETS

    sheet, (wide, high) = SHEETS[paper], {"us-letter": (215.9, 279.4), "a4": (210.0, 297.0)}[paper]
    right = sheet.left_mm + (sheet.columns - 1) * sheet.across_mm + sheet.width_mm
    foot = sheet.top_mm + (sheet.rows - 1) * sheet.down_mm + sheet.height_mm
    assert wide - right == pytest.approx(sheet.left_mm, abs=0.6)
    assert high - foot == pytest.approx(sheet.top_mm, abs=0.6)


def test_each_letter_has_a_page(book_of):
    """As many pages as letters, each begun by the business and headed by whom it is to."""
    notebook = book_of("corner-shop")
    made = assemble(notebook, "letters")
    heads = [block["text"] for block in made.page["blocks"] if block["type"] == "heading"]
    data, _ = BY_FILE["letters.pdf"]().from_notebook_node(notebook)
    pages = [sheet.extract_text() for sheet in pypdf.PdfReader(io.BytesIO(data)).pages]
    assert len(pages) == len(heads) == len(made.results["letters"])
    for text, head in zip(pages, heads, strict=True):
        assert text.startswith("Example Film Fitters") and head in text


def test_the_client_s_care_is_the_last_page_of_the_reasons(book_of):
    """The care of the film ends the reasons, not the fitting sheet."""
    for name in DEMOS:
        notebook = book_of(name)
        heads = [b["text"] for b in assemble(notebook, "basis").page["blocks"] if b["type"] == "heading"]
        assert heads[-1] == "For the client: care of the film"
        assert heads[-1] not in json.dumps(assemble(notebook, "fitting").page)


def test_the_price_ticked_is_the_offer_s(page):
    """Page one, the way's card and the price list agree to the cent."""
    made = page("harbour-house")
    total = made.findings.price.total
    assert made.findings.ways[0].total == total and isinstance(total, Decimal)
    shown = "".join(made.fmt.money(total).split())
    for part in ("answer", "ways", "price"):
        assert shown in "".join(text_of(*SECTIONS[part](made)).split()), part
