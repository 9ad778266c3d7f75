"""An audit: hashes first, then every number again; what moved is named, and so is what is damaged."""

import json
import re
import shutil
import tarfile
from pathlib import Path

import pytest

from reportkit.app.archive import MANIFEST, write_json
from reportkit.app.audit import audit, verified
from reportkit.app.bag import MANIFEST as PAYLOADS
from reportkit.app.bag import PAYLOAD, TAGS, close
from reportkit.app.command_line import main
from reportkit.app.leaves import leaves, names
from reportkit.app.migrations import migrated
from reportkit.base.errors import DamagedError, InputError
from reportkit.findings.findings import SCHEMA_VERSION


@pytest.fixture(scope="module")
def run(run_of):
    """Return a run of a demo job, made by the whole chain."""
    return run_of("hill-studio")


def _bagged_again(run):
    """Write a run's sums anew, as if it had been made so."""
    for name in ("bagit.txt", "bag-info.txt", PAYLOADS, TAGS, PAYLOAD):
        (run / name).unlink()
    (run / "data").rmdir()
    close(run, {"Bagging-Date": "2026-03-02"})


def test_a_run_of_today_is_the_same(run, capsys):
    """Nothing changed: exit 0, and how much was compared."""
    assert main(["audit", str(run)]) == 0
    out, err = capsys.readouterr()
    compared = sum(1 for _ in leaves(json.loads((run / "results.json").read_text("utf-8"))))
    assert out == f"The same: every file as it was written, all {compared} values come out again.\n"
    assert compared > 3000 and err == ""


def _moved(monkeypatch, run, where, value):
    """Return what an audit says moved after one constant of the code is changed."""
    with monkeypatch.context() as patch:
        patch.setattr(where, value)
        found = audit(run)
    assert not found.same
    return {one.path: one for one in found.moved}, found.lines()


def test_a_changed_constant_is_named_by_exactly_what_moved(run, monkeypatch, capsys):
    """Glass that expands by a ninth more: every stress of a screen, each by a ninth, and nothing else."""
    stored = dict(leaves(json.loads((run / "results.json").read_text("utf-8"))))
    moved, lines = _moved(monkeypatch, run, "reportkit.physics.glass.edge.E_ALPHA", 0.70)
    stresses = {path for path, value in stored.items() if ".stress_mpa." in path and value}
    assert set(moved) == stresses and len(stresses) == 6  # of one pane: its screen, and its letter
    for path, one in moved.items():
        assert one.old == stored[path]
        assert one.new / one.old == pytest.approx(0.70 / 0.63, rel=1e-9)
        assert ", +11.1 %)" in str(one)
        assert "results.json" in one.documents
    assert lines[-2] == f"{len(stresses)} of {len(stored)} values moved."
    assert lines[-1] == "Changed since it was made: nothing that it was made with."
    with monkeypatch.context() as patch:
        patch.setattr("reportkit.physics.glass.edge.E_ALPHA", 0.70)
        assert main(["audit", str(run)]) == 3
    assert capsys.readouterr().out.splitlines() == lines


def test_where_it_stood_is_where_its_page_says_so(run, monkeypatch):
    """The first cleaning a day later: its days and dates moved, and the papers named print them."""
    moved, _ = _moved(monkeypatch, run, "reportkit.study.schedule.FIRST_CLEANING", 31)
    assert all("first_cleaning" in path for path in moved)
    one = moved["schedule.first_cleaning_days"]
    assert (one.old, one.new) == (30, 31)
    for kind in ("proposal", "basis", "fitting"):
        text = (run / f"{kind}.html").read_text("utf-8")
        assert (kind in one.documents) is ("30 days" in text), kind
    assert "letters" not in one.documents and "labels" not in one.documents


def test_damage_is_found_first_and_named(run, tmp_path, capsys, monkeypatch):
    """A file that changed, one that went, a list that cannot be read: exit 4, the file, nothing computed."""
    monkeypatch.setattr("reportkit.study.Study.open", None)  # nothing may be computed
    for name, change, told in (
        (
            "proposal.pdf",
            lambda path: path.write_bytes(path.read_bytes()[:-1]),
            "damaged: proposal.pdf: changed",
        ),
        ("inputs/windows.csv", lambda path: path.unlink(), "damaged: inputs/windows.csv: missing"),
        (
            "inputs/_shared/more.yaml",
            lambda path: path.touch(),
            "damaged: inputs/_shared/more.yaml: not listed",
        ),
        (MANIFEST, lambda path: path.write_text("{", "utf-8"), f"damaged: {MANIFEST}: changed"),
        (TAGS, lambda path: path.unlink(), f"damaged: {TAGS}: missing"),
        (TAGS, lambda path: path.write_bytes(b"\xff\xfe"), "what lists its files cannot be read"),
    ):
        copy = shutil.copytree(run, tmp_path / "0001")
        change(copy / name)
        assert main(["audit", str(copy)]) == 4
        out, err = capsys.readouterr()
        assert told in err and out == ""
        shutil.rmtree(copy)


def test_every_byte_of_every_file_is_under_a_sum(run, tmp_path):
    """One bit changed at the start, the middle or the end of any file is damage."""
    copy = shutil.copytree(run, tmp_path / "0001")
    verified(copy)
    for path in sorted(path for path in copy.rglob("*") if path.is_file()):
        data = path.read_bytes()
        for place in {0, len(data) // 2, len(data) - 1}:
            path.write_bytes(data[:place] + bytes([data[place] ^ 1]) + data[place + 1 :])
            with pytest.raises(DamagedError):
                verified(copy)
        path.write_bytes(data)
    verified(copy)


def test_what_is_no_run_is_the_askers_mistake(run, tmp_path, capsys):
    """A folder without a manifest, and results that only a newer program reads: exit 2."""
    assert main(["audit", str(tmp_path)]) == 2
    assert "is no run" in capsys.readouterr().err
    copy = shutil.copytree(run, tmp_path / "0001")
    results = json.loads((copy / "results.json").read_text("utf-8"))
    write_json(copy / "results.json", {**results, "schema": 99})
    manifest = json.loads((copy / MANIFEST).read_text("utf-8"))
    manifest["outputs"].pop("results.json")
    write_json(copy / MANIFEST, manifest)
    _bagged_again(copy)
    with pytest.raises(InputError, match="schema 99"):
        audit(copy)


def test_other_versions_are_named(run, tmp_path):
    """What it was made with differs: packages that compute by name and version, the rest by their number."""
    copy = shutil.copytree(run, tmp_path / "0001")
    manifest = json.loads((copy / MANIFEST).read_text("utf-8"))
    manifest["python"] = "3.10.1"
    manifest["packages"] |= {"numpy": "1.0", "jupyterlab": "1.0", "anyio": "1.0"}
    manifest["tool"] |= {"version": "0.0.1", "code": "0" * 16}
    write_json(copy / MANIFEST, manifest)
    _bagged_again(copy)
    found = audit(copy)
    assert found.same
    told = found.lines()[-1]
    for part in ("reportkit 0.0.1 -> ", f"own code {'0' * 16} -> ", "Python 3.10.1 -> ", "numpy 1.0 -> "):
        assert part in told
    assert "scipy" not in told and told.endswith("and 2 packages that compute nothing.")


#: Runs as the code of each earlier schema made them, of the demo job as it was then; their documents and
#: notebook are left out to keep them small, and of the manifest's list too.
RUNS = Path(__file__).parent / "runs"


@pytest.mark.parametrize("schema", range(1, SCHEMA_VERSION))
def test_a_run_of_every_earlier_schema_is_read(schema, tmp_path):
    """Whole by its manifest; changes of name or shape are taken up, what is left are values that moved."""
    with tarfile.open(RUNS / f"schema-{schema}.tar.xz") as packed:
        packed.extractall(tmp_path, filter="data")
    run = tmp_path / "0001"
    stored = json.loads((run / "results.json").read_text("utf-8"))
    assert stored["schema"] == schema
    found = audit(run)
    assert not found.faults and found.compared > 2500
    told = found.lines()
    assert f"{len(found.moved)} of {found.compared} values moved." in told
    assert any("own code (not noted then) -> " in line for line in told)
    # what moved in no version stands as it stood: bearings, sizes and the sun on clear days
    paths = {one.path for one in found.moved}
    for path, value in leaves(stored):
        if re.fullmatch(
            r"panes\[\w+\]\.(width_mm|height_mm|area_m2|quantity)|faces\[\w+\]\.azimuth_deg", path
        ):
            assert path not in paths, (path, value)
    assert "fit" not in {one.old for one in found.moved if isinstance(one.old, str)}
    (run / "results.json").write_text("{}", "utf-8")
    with pytest.raises(DamagedError, match=r"results\.json: changed"):
        verified(run)


def test_each_step_changes_what_its_schema_changed():
    """As DEVELOPERS.md tells: a verdict's word, a seam's part, four ranges of a screen; nothing else."""
    first = {
        "schema": 1,
        "panes": [
            {"id": "W1", "fit": "fit", "screen": {"verdict": "fit", "absorptance": 0.4, "stress_mpa": 9.5}}
        ],
        "screens": [{"pane": "W1", "verdict": "ask", "computed": {"difference_k": 12, "limit_k": 40}}],
        "cutting": {"pieces": [{"seam": "1 of 2"}, {"seam": None}, {"seam": "as it lies"}]},
        "glazings": [{"absorptance": 0.5}],
    }
    assert migrated(first) == {
        "schema": 4,
        "panes": [
            {
                "id": "W1",
                "fit": "fit",
                "screen": {
                    "verdict": "nothing_found",
                    "absorptance": {"likely": 0.4},
                    "stress_mpa": {"likely": 9.5},
                },
            }
        ],
        "screens": [
            {"pane": "W1", "verdict": "ask", "computed": {"difference_k": {"likely": 12}, "limit_k": 40}}
        ],
        "cutting": {"pieces": [{"seam": {"part": 1, "parts": 2}}, {"seam": None}, {"seam": "as it lies"}]},
        "glazings": [{"absorptance": 0.5}],
    }
    for wrong in (None, 0, 5, "4"):
        with pytest.raises(InputError, match="schema"):
            migrated({"schema": wrong})


def test_paths_name_records_by_what_tells_them_apart():
    """By id, by glazing and film, by place where nothing does; a list of numbers by place."""
    data = {
        "panes": [{"id": "W1", "area": 1.5}],
        "glazings": [{"id": "a", "film": None}, {"id": "a", "film": "f"}],
        "months": [1, 2],
    }
    assert dict(leaves(data)) == {
        "panes[W1].id": "W1",
        "panes[W1].area": 1.5,
        "glazings[a, none].id": "a",
        "glazings[a, none].film": None,
        "glazings[a, f].id": "a",
        "glazings[a, f].film": "f",
        "months[0]": 1,
        "months[1]": 2,
    }
    assert names([{"x": 1}, {"x": 1}]) == ["0", "1"]
