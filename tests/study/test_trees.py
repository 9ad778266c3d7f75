"""Trees before the windows: where they stand against the sky, and the sun they keep from the panes.

By hand: 10 m away, 10 m above the panes and 20 m wide is 45 degrees high and 45 to each side.
"""

import numpy as np
import pytest

from reportkit.app.command_line import main
from reportkit.app.run import make
from reportkit.base.errors import JobError
from reportkit.job import load_job
from reportkit.study import Study
from reportkit.study.translate import skyline
from tests.small_job import written

TREE = {"bearing": "265", "distance": "10 m", "above": "10 m", "width": "20 m"}


def job(tmp_path, *trees, **changed):
    """Return the folder of the small job with trees before its west face."""
    faces = [{"id": "west", "bearing": "265", **({"horizon": "yard"} if trees else {})}]
    yard = {"horizons": [{"id": "yard", "trees": list(trees)}]} if trees else {}
    return written(tmp_path, {"faces": faces}, yard, changed)


def test_a_tree_stands_where_a_right_triangle_has_it(tmp_path):
    """Its top and its sides, of two trees each by itself; a bare one lets through what branches do."""
    bare = TREE | {"bearing": "350", "leafless_months": ["12", "1"]}
    (spec,) = load_job(job(tmp_path, TREE, bare)).job.horizons
    full, leafless = skyline(spec)
    np.testing.assert_allclose(full.height([219.9, 220.1, 265, 309.9, 310.1]), [0, 45, 45, 45, 0])
    np.testing.assert_allclose(leafless.height([304, 306, 350, 10, 34, 36]), [0, 45, 45, 45, 45, 0])
    assert full.transmittance == (0.0,) * 12
    assert leafless.transmittance == (0.6, *(0.0,) * 10, 0.6)


def test_the_pane_gets_no_sun_through_a_tree_and_some_through_a_bare_one(tmp_path):
    """Clear days: less in leaf than bare, and less bare than without a tree; never more."""
    every = [str(month) for month in range(1, 13)]
    sums = []
    for number, trees in enumerate(((), (TREE | {"leafless_months": every},), (TREE,))):
        folder = tmp_path / str(number)
        folder.mkdir()
        sun = Study(load_job(job(folder, *trees))).sun.panes
        sums.append(float(np.nansum(sun.beam)))
    assert sums[0] > sums[1] > sums[2]


def test_a_horizon_has_points_or_trees(tmp_path):
    """Neither is a fault by name; a tree alone is enough."""
    with pytest.raises(JobError, match="must be given where no trees are"):
        load_job(written(tmp_path, {"horizons": [{"id": "yard"}]}))


def test_trees_are_told_on_the_page_and_kept_in_a_workbook(tmp_path):
    """The table of assumptions says how they are taken; the job as a workbook has them again."""
    folder = job(tmp_path, TREE | {"leafless_months": ["12", "1"]})
    page = (make(folder, only="html") / "basis.html").read_text("utf-8")
    assert "trees before the windows" in page
    assert "share of sun that bare branches let through" in page
    before = load_job(folder).job.horizons
    assert main(["convert", str(folder)]) == 0
    assert load_job(folder).job.horizons == before


@pytest.mark.parametrize("field", ["bearing", "distance", "above", "width"])
def test_a_tree_of_which_something_is_not_known_shades_nothing_and_is_told(tmp_path, capsys, field):
    """The worst that fits: the sun of a job without it, said by check, on page one and in the table."""
    for name in ("without", "with"):
        (tmp_path / name).mkdir()
    known = TREE | {"bearing": "350"}
    without, folder = job(tmp_path / "without", known), job(tmp_path / "with", known, TREE | {field: "?"})
    sums = [float(np.nansum(Study(load_job(one)).sun.panes.beam)) for one in (without, folder)]
    assert sums[0] == sums[1]
    assert main(["check", str(folder)]) == 0
    told = "Tree 2 of yard is not in these numbers"
    assert told in capsys.readouterr().err
    if field == "width":
        run = make(folder, only="html")
        assert told in (run / "proposal.html").read_text("utf-8")
        basis = (run / "basis.html").read_text("utf-8")
        assert told in basis and "not counted" in basis


def test_a_horizon_of_unknown_trees_alone_is_an_open_one(tmp_path):
    """Nothing shades; neither the panes' sky nor the sun fails over it."""
    (tmp_path / "none").mkdir()
    study, bare = Study(load_job(job(tmp_path, {"above": "10 m"}))), Study(load_job(job(tmp_path / "none")))
    assert float(np.nansum(study.sun.panes.beam)) == float(np.nansum(bare.sun.panes.beam))
