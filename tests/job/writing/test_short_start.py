"""A new job with what a first one needs: short, each line a question, right for every kind of job."""

import itertools
import shutil
from pathlib import Path

import pytest

from reportkit.app.command_line import main
from reportkit.app.run import make
from reportkit.base.errors import InputError
from reportkit.job import convert, load_job, write_starter
from reportkit.job.writing.samples import KINDS

JOBS = Path(__file__).parents[3] / "jobs"
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
    # a name beside its id, the rest of what a sheet of film prints, a second sheet of glass
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


# ---- from a former job -----------------------------------------------------------------------------------


@pytest.fixture
def home(tmp_path: Path) -> Path:
    """Return a folder with a demo job and what it shares."""
    shutil.copytree(JOBS / "_shared", tmp_path / "jobs/_shared")
    skip = shutil.ignore_patterns("runs")
    shutil.copytree(JOBS / "corner-shop", tmp_path / "jobs/corner-shop", ignore=skip)
    return tmp_path / "jobs"


@pytest.mark.parametrize("book", [False, True])
@pytest.mark.parametrize("place", ["jobs/new", "elsewhere/new"])
def test_a_job_from_a_former_one(home: Path, place: str, book: bool) -> None:
    """Business, prices, films and glass are those of the former job; its client and windows are not."""
    former, new = home / "corner-shop", home.parent / place
    written = write_starter(new, former=former, as_workbook=book)
    assert [path.name for path in written] == (["job.xlsx"] if book else ["job.yaml", "windows.csv"])
    before, after = load_job(former).job, load_job(new).job
    for name in ("units", "currency", "language", "locale", "business", "prices", "films", "compare"):
        assert getattr(after, name) == getattr(before, name), name
    assert {glazing.id for glazing in after.glazings} <= {glazing.id for glazing in before.glazings}
    assert after.panes[0].glazing == before.panes[0].glazing
    assert after.quote is not None and before.quote is not None
    assert (after.quote.terms, after.quote.deposit_percent) == (
        before.quote.terms,
        before.quote.deposit_percent,
    )
    assert after.quote.number != before.quote.number
    assert after.client != before.client
    assert after.complaint != before.complaint
    own = sorted(path.name for path in new.iterdir())
    assert own == sorted(path.name for path in written)


def test_a_former_workbook_and_its_spectra(tmp_path: Path) -> None:
    """A former job may be a workbook; a measured spectrum that its film names comes along."""
    write_starter(tmp_path / "old", units="metric")
    rows = "\n".join(
        f"{nm};{42 if nm < 780 else 12};8;12" for nm in (*range(300, 800, 20), *range(800, 2501, 100))
    )
    (tmp_path / "old/grey.csv").write_text("nm;T %;R front %;R back %\n" + rows, "utf-8")
    path = tmp_path / "old/job.yaml"
    text = path.read_text("utf-8").replace(
        "    life_years: 12", "    spectrum: {file: grey.csv, front: glass}\n    life_years: 12", 1
    )
    path.write_text(text, "utf-8")
    convert(tmp_path / "old")
    assert main(["start", str(tmp_path / "new"), "--from", str(tmp_path / "old"), "--workbook"]) == 0
    assert sorted(path.name for path in (tmp_path / "new").iterdir()) == ["grey.csv", "job.xlsx"]
    spectrum = load_job(tmp_path / "new").job.films[0].spectrum
    assert spectrum is not None and spectrum.file == "grey.csv"


def test_a_former_own_home_stays_one(tmp_path: Path) -> None:
    """Without a business before there is none now; another kind asks for one; other units are refused."""
    write_starter(tmp_path / "old", units="us", kind="own-home", full=False)
    write_starter(tmp_path / "own", former=tmp_path / "old")
    write_starter(tmp_path / "shop", former=tmp_path / "old", kind="shop")
    assert load_job(tmp_path / "own").job.own_home
    assert load_job(tmp_path / "shop").job.business is not None
    with pytest.raises(InputError, match="is in us units"):
        write_starter(tmp_path / "metric", units="metric", former=tmp_path / "old")
    assert not (tmp_path / "metric").exists()


def test_a_new_job_beside_shared_prices_has_their_currency(home: Path) -> None:
    """Whatever money the shared prices are in, and whichever units are asked for, the new job is right."""
    for units in ("us", "metric"):
        write_starter(home / units, units=units, full=False)
        assert load_job(home / units).job.currency == "USD"
