"""A new job with what a first one needs: short, each line a question, right for every kind of job."""

import itertools
from pathlib import Path

import pytest

from reportkit.app.command_line import main
from reportkit.app.run import make
from reportkit.base.errors import InputError
from reportkit.job import load_job, write_starter
from reportkit.job.writing.samples import KINDS

EVERY = list(itertools.product(KINDS, ("us", "metric"), (False, True)))


@pytest.mark.parametrize(("kind", "units", "full"), EVERY)
def test_every_starter_is_a_right_job(tmp_path: Path, kind: str, units: str, full: bool) -> None:
    """Each kind, in both units, short and full, has no fault, and is what its name says."""
    write_starter(tmp_path, units=units, kind=kind, full=full)
    job = load_job(tmp_path).job
    assert job.own_home is (kind == "own-home")
    assert (job.business is None) is (kind == "own-home")
    assert job.units == units
    used = {room.heat.use for room in job.rooms if room.heat and full}
    assert used <= {{"own-home": "home"}.get(kind, kind)}


@pytest.mark.parametrize(("kind", "units"), list(itertools.product(KINDS, ("us", "metric"))))
def test_a_short_start_is_short_and_asks(tmp_path: Path, kind: str, units: str) -> None:
    """Under 60 lines; every line that wants an answer ends in its question or names a group."""
    write_starter(tmp_path, units=units, kind=kind, full=False)
    lines = (tmp_path / "job.yaml").read_text("utf-8").splitlines()
    assert len(lines) < 60
    asked = [line for line in lines if "?" in line]
    assert len(asked) >= 20
    answers = [line for line in lines if ": " in line and "#" not in line]
    # the name beside the film's question, the rest of its sheet below "what does its sheet print", a second sheet
    assert all(line.strip().split(":")[0].lstrip("- ") in
               ("name", "solar_transmittance_percent", "solar_reflectance_glass_side_percent",
                "visible_transmittance_percent", "visible_reflectance_glass_side_percent", "thickness_mm")
               for line in answers)  # fmt: skip


@pytest.mark.parametrize("kind", ["shop", "own-home"])
def test_a_short_start_can_be_made(tmp_path: Path, kind: str) -> None:
    """What a first job needs is enough for an offer, and for a plan of one's own windows."""
    write_starter(tmp_path / "job", units="metric", kind=kind, full=False)
    run = make(tmp_path / "job", only="html")
    assert (run / "proposal.html").is_file()


def test_start_asks_little_unless_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The command writes the short job of a home; --full the long one; --kind another."""
    assert main(["start", str(tmp_path / "a")]) == 0
    assert main(["start", str(tmp_path / "b"), "--full", "--kind", "shop"]) == 0
    assert main(["check", str(tmp_path / "a")]) == main(["check", str(tmp_path / "b")]) == 0
    capsys.readouterr()
    short, full = ((tmp_path / name / "job.yaml").read_text("utf-8") for name in "ab")
    assert "front room" in short
    assert "counter" in full
    assert len(full.splitlines()) > 3 * len(short.splitlines())


def test_kinds_are_known(tmp_path: Path) -> None:
    """Another kind is refused before anything is written."""
    with pytest.raises(ValueError, match="kind must be one of home, shop"):
        write_starter(tmp_path, units="us", kind="barn")
    assert list(tmp_path.iterdir()) == []
    with pytest.raises(InputError, match="is there already"):
        [write_starter(tmp_path, units="us", full=False) for _ in range(2)]
