"""What a run was made with is what the packages themselves say."""

from importlib import metadata

import pytest

from reportkit.app import versions


def test_versions_and_requirements_are_the_librarys_own():
    """Read from the heads alone, they are those that importlib.metadata parses out of the whole files."""
    found = versions.packages()
    assert len(found) > 60
    for name in found:
        one = metadata.distribution(name)
        assert versions._told(one) == (one.version, list(one.requires or ())), name
        assert found[name] == one.version


@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_a_description_is_not_read(tmp_path, end):
    """A line of the text below the head is no requirement, nor is a field folded into it (made up)."""
    lines = [
        "Metadata-Version: 2.1",
        "Name: one",
        "Version: 1.5",
        "Requires-Dist: two >=3",
        "",
        "Requires-Dist: x",
    ]
    folder = tmp_path / "one-1.5.dist-info"
    folder.mkdir()
    (folder / "METADATA").write_bytes(end.join(lines).encode())
    assert versions._told(metadata.Distribution.at(folder)) == ("1.5", ["two >=3"])


def test_an_older_form_is_the_librarys_to_read(tmp_path):
    """An egg has PKG-INFO in METADATA's place (setuptools, made up)."""
    folder = tmp_path / "one.egg-info"
    folder.mkdir()
    (folder / "PKG-INFO").write_text("Metadata-Version: 1.1\nName: one\nVersion: 0.9\n", "utf-8")
    assert versions._told(metadata.Distribution.at(folder)) == ("0.9", [])
