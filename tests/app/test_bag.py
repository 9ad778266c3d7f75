"""A run is a bag: BagIt 1.0 (RFC 8493), held against the library `bagit`, which was written apart."""

import hashlib
import shutil
import subprocess

import bagit
import pytest

from reportkit.app.bag import PAYLOAD, TAGS, Harm, close, files_of, harms, listed

#: Names a person may give to a photo; the last two are written in percent in a manifest (RFC 8493, 2.1.3).
NAMES = (
    "job.yaml",
    "photos/façade à l'est.png",
    "photos/two  spaces.png",
    "photos/100%.png",
    "photos/a\nb.png",
)


@pytest.fixture
def folder(tmp_path):
    """Return a folder made a bag, with files of many names."""
    run = tmp_path / "0001"
    for name in NAMES:
        path = run / "inputs" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(name, encoding="utf-8")
    (run / "results.json").write_text("{}\n", encoding="utf-8")
    close(run, {"Bagging-Date": "2026-03-02"})
    return run


def test_a_whole_run_is_valid_to_the_library_and_its_own_tool(run_of):
    """The library finds the bag valid and complete; so does sha256sum, which everybody has."""
    run = run_of("hill-studio")
    bag = bagit.Bag(str(run))
    bag.validate()
    assert bag.version_info == (1, 0)
    assert bag.info["Bag-Software-Agent"].startswith("reportkit ")
    assert [name for name, _ in bag.payload_entries().items()] == [PAYLOAD]
    told = {name for name, sums in bag.entries.items() if "sha256" in sums}
    assert told == set(files_of(run)) - {TAGS}
    assert {"results.json", "manifest.json", "versions.txt", "inputs/job.yaml", "proposal.pdf"} <= told
    if shutil.which("sha256sum"):
        subprocess.run(["sha256sum", "--check", "--quiet", TAGS], cwd=run, check=True)


def test_the_library_sees_what_we_see(folder):
    """A changed, a lost and an added file: both refuse."""
    for name in (
        "photos/100%.png",
        "photos/a\nb.png",
    ):  # the library knows no percent in a name: left to RFC 8493
        (folder / "inputs" / name).unlink()
    kept = [line for line in (folder / TAGS).read_text("utf-8").splitlines(True) if "%" not in line]
    (folder / TAGS).write_text("".join(kept), "utf-8")
    bagit.Bag(str(folder)).validate()
    assert harms(folder, listed(folder)) == []
    for name, change in (
        ("results.json", lambda path: path.write_text("{ }\n", "utf-8")),
        (PAYLOAD, lambda path: path.write_text("", "utf-8")),
        ("data/more.txt", lambda path: path.write_text("", "utf-8")),
        ("inputs/job.yaml", lambda path: path.unlink()),
    ):
        copy = folder.with_name("copy")
        shutil.copytree(folder, copy)
        change(copy / name)
        with pytest.raises(bagit.BagError):
            bagit.Bag(str(copy)).validate()
        assert [harm.name for harm in harms(copy, listed(copy))] == [name]
        shutil.rmtree(copy)


def test_names_and_sums_are_written_as_the_standard_says(folder):
    """Percent and line feed alone in codes; two spaces between sum and name (RFC 8493, 2.1.3)."""
    lines = (folder / TAGS).read_text(encoding="utf-8").splitlines()
    assert all(line[64:66] == "  " for line in lines)
    names = {line[66:] for line in lines}
    assert {
        "inputs/photos/100%25.png",
        "inputs/photos/a%0Ab.png",
        "inputs/photos/façade à l'est.png",
    } <= names
    assert TAGS not in names
    sums = listed(folder)
    assert set(sums) == set(files_of(folder)) - {TAGS}
    for name, value in sums.items():
        assert value == hashlib.sha256((folder / name).read_bytes()).hexdigest()


def test_harm_is_told_by_file_and_kind(folder):
    """Changed, missing, and unlisted where only listed files may be; a note at the top is no harm."""
    sums = listed(folder)
    assert harms(folder, sums) == []
    (folder / "note.txt").write_text("mine", encoding="utf-8")
    assert harms(folder, sums) == []
    (folder / "results.json").write_text("{}", encoding="utf-8")
    (folder / "bag-info.txt").unlink()
    (folder / "inputs" / "_shared").mkdir()
    (folder / "inputs" / "_shared" / "prices.yaml").write_text("x", encoding="utf-8")
    assert harms(folder, sums) == [
        Harm("bag-info.txt", "missing"),
        Harm("inputs/_shared/prices.yaml", "not listed"),
        Harm("results.json", "changed"),
    ]
