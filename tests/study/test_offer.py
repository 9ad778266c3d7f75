"""The offer, from the job file to the papers: gaps at the edge."""

import pytest

from reportkit.findings.findings import Results
from reportkit.report.page import Page
from reportkit.report.sections import SECTIONS

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
    page = Page(found)
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
