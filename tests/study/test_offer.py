"""The offer, from the job file to the papers: gaps at the edge."""

from dataclasses import replace

import pytest

from reportkit.base.errors import JobError
from reportkit.documents.page import Page
from reportkit.documents.sections import SECTIONS
from reportkit.findings.findings import Results
from reportkit.study import Study
from reportkit.study.candidates import UNCUT

SAFETY = ("  - id: ceramic-grey-40\n", "  - id: ceramic-grey-40\n    thickness_um: {}\n")
CHOSEN = (
    "  faces: {roof: exterior-silver-30}\n",
    "  job: ceramic-grey-40\n  faces: {roof: exterior-silver-30}\n",
)


def safety(thickness):
    """Return the change of the studio's film to a thickness."""
    return (SAFETY[0], SAFETY[1].format(thickness))


@pytest.mark.parametrize(
    ("units", "method", "thickness", "gap", "said"),
    [
        ("metric", "cut_to_size", 199, 1.5, "1.5\u00a0mm"),
        ("metric", "cut_to_size", 200, 3.0, "3\u00a0mm"),
        ("metric", "trim_on_glass", 300, 3.0, "3\u00a0mm"),
        ("us", "cut_to_size", 199, 25.4 / 16, "1/16\u00a0in"),
        ("us", "cut_to_size", 200, 25.4 / 8, "1/8\u00a0in"),
    ],
)
def test_safety_film_keeps_a_wider_gap(edited, units, method, thickness, gap, said):
    """Film of 200 um and more keeps 3 mm (1/8 in) to the frame, up to 5 (trade association's guide).

    So from the job to the finished sizes, the fitting sheet and the list of values that nobody gave.
    """
    if units == "us":
        study = edited(
            "corner-shop",
            ("  use: shipped\n  name: miami\n", "  use: clear_days\n"),
            ("site:\n", "site:\n  latitude: 26\n  longitude: -80\n"),
            (
                "compare: [",
                f"films: [{{id: ceramic-grey-40, thickness_um: {thickness}}}]\n\ncompare: [",
            ),
            ("choice: {}", "choice: {job: ceramic-grey-40, faces: {south: dyed-grey-35}}"),
            ("  edge_gap: 1/16 in\n", ""),
            ("method: trim_on_glass", f"method: {method}"),
        )
    else:
        study = edited(
            "hill-studio",
            safety(thickness),
            CHOSEN,
            ("  edge_gap: 2 mm\n", ""),
            ("method: cut_to_size", f"method: {method}"),
        )
    films = {pane.id: film for pane, film in zip(study.job.panes, study.chosen.film_by_pane, strict=True)}
    panes = {pane.id: pane for pane in study.job.panes}
    found = Results(study)
    made = found["pieces"]
    thick = [piece for piece in made if films[piece["pane"]] == "ceramic-grey-40"]
    assert thick and len(thick) < len(made)  # the roof light's film is thinner
    for piece in made:
        mine = gap if piece in thick else (25.4 / 16 if units == "us" else 1.5)
        assert piece["edge_gap_mm"] == pytest.approx(mine)
        width = float(panes[piece["pane"]].width)
        assert piece["finished_width_mm"] == pytest.approx(width - 2 * mine)
    page = Page(found.findings)
    sheet = " ".join(getattr(block, "note", "") for block in SECTIONS["work"](page))
    thin = "1/16\u00a0in" if units == "us" else "1.5\u00a0mm"
    if said == thin:
        assert f"leave a gap of {said} on every side" in sheet
    else:
        assert f"{said} ({page.film('ceramic-grey-40')})" in sheet
        assert all(
            f"{thin} ({page.film(name)})" in sheet for name in set(films.values()) - {"ceramic-grey-40", None}
        )
    assumed = {(entry["field"], entry["value"]) for entry in found["assumptions"]}
    field = "fitting.edge_gap" if said == thin else "fitting.edge_gap_safety"
    assert (field, said.replace("\u00a0", " ")) in assumed


def test_a_typed_gap_holds_for_every_film(edited):
    """The job's own gap beats the thickness, and is then nobody's guess."""
    study = edited("hill-studio", safety(250), CHOSEN)
    found = Results(study)
    assert {piece["edge_gap_mm"] for piece in found["pieces"]} == {2.0}
    assert "fitting.edge_gap" not in {entry["field"] for entry in found["assumptions"]}


ROOF = "{width: 1524 mm, length: 30.5 m, price_per_m: 55.00, step: 1 m}"


def test_a_film_that_runs_out_is_told_where_its_rolls_stand(edited):
    """Two pieces of 776 mm along on a rest of 1.2 m: the job's own rolls are to be mended, in their line."""
    study = edited("hill-studio", (ROOF, "{width: 1524 mm, length: 1.2 m, in_stock: 1}"))
    lines = (study.loaded.folder / "job.yaml").read_text("utf-8").splitlines()
    film = next(number for number, line in enumerate(lines, 1) if "- id: exterior-silver-30" in line)
    with pytest.raises(JobError) as caught:
        study.offer  # noqa: B018  # computed when asked for
    (fault,) = caught.value.faults
    rolls = next(number for number, line in enumerate(lines, 1) if number > film and "rolls:" in line)
    assert (fault.file, fault.line, fault.field) == ("job.yaml", rolls, "films.exterior-silver-30.rolls")


def test_a_pane_whose_spare_no_roll_holds_stays_bare(edited):
    """The same rest holds R1, of 776 mm, but not its spare: R1 is left bare, the rest is offered."""
    study = edited("hill-studio", (ROOF, "{width: 1524 mm, length: 1.2 m, in_stock: 1}"), CHOSEN)
    assert study.offer.price.total > 0
    assert dict(study.chosen.bare_because)["R1"] == UNCUT
    assert "R1" not in {placed.piece.pane for placed in study.offer.plan.pieces}


def test_short_lengths_are_ordered_as_often_as_panes_need(edited):
    """Upright on 1524 x 2100 a blank of 956 x 1261 takes a length to itself, though it is 38 % of it."""
    offered = (
        "{width: 1524 mm, length: 30.5 m, price: 1150}\n"
        "      - {width: 1524 mm, length: 30.5 m, price_per_m: 45.00, step: 1 m}"
    )
    short = (offered, "{width: 1524 mm, length: 2.1 m, price_per_m: 45.00}\n    turn: no")
    loaded = edited("hill-studio", short, CHOSEN, ("  spare: yes\n", "  spare: no\n")).loaded
    panes = [pane.model_copy(update={"quantity": 9} if pane.id == "W1" else {}) for pane in loaded.job.panes]
    offer = Study(replace(loaded, job=loaded.job.model_copy(update={"panes": tuple(panes)}))).offer
    (cut,) = [cut for cut in offer.cuts if cut.opening.id == "W1"]
    assert (2 * cut.width_mm > 1524, 2 * cut.height_mm > 2100) == (True, True)
    lengths = [
        roll for roll in offer.plan.rolls if any(placed.piece.id == "W1" for placed in placed_on(roll))
    ]
    assert len(lengths) == 9


def placed_on(roll):
    """Return what is cut from a roll."""
    return [placed for strip in roll.strips for placed in strip.pieces]
