"""Downloads, without a network: the answers are made here."""

import pytest

from reportkit import climate
from reportkit.base.errors import InputError, UnavailableError

requests = pytest.importorskip("requests")


class Answer:
    """A web service's answer, invented."""

    def __init__(self, ok, content=b"", status_code=200):
        """Keep what the service says."""
        self.ok, self.content, self.status_code = ok, content, status_code
        self.text = content.decode()


def test_offline(monkeypatch, tmp_path):
    """Without a network the message says what is missing and what to do."""

    def refuse(*args, **kwargs):
        raise requests.ConnectionError("no route")

    monkeypatch.setattr(requests, "get", refuse)
    with pytest.raises(UnavailableError, match="cannot be reached") as caught:
        climate.fetch_pvgis(45.0, 8.0, folder=tmp_path)
    assert "weather file" in str(caught.value) and "use: clear_days" in str(caught.value)
    assert isinstance(caught.value, InputError)  # exit code 2
    assert not list(tmp_path.iterdir())


def test_no_data_for_the_place(monkeypatch, tmp_path):
    """The service's own words are passed on."""
    monkeypatch.setattr(requests, "get", lambda *a, **k: Answer(False, b"Location over the sea", 400))
    with pytest.raises(UnavailableError, match="over the sea"):
        climate.fetch_pvgis(0.0, -30.0, folder=tmp_path)


def test_the_file_is_kept_and_used_again(monkeypatch, tmp_path):
    """One download serves every later run."""
    asked = []

    def give(url, params, timeout):
        asked.append(params)
        return Answer(True, b"content")

    monkeypatch.setattr(requests, "get", give)
    folder = tmp_path / "job"
    first = climate.fetch_pvgis(45.0, 8.0, folder=folder)
    second = climate.fetch_pvgis(45.0, 8.0, folder=folder)
    assert first == second
    assert first.read_bytes() == b"content"
    assert len(asked) == 1
    assert asked[0]["outputformat"] == "csv"
    assert [path.name for path in folder.iterdir()] == [first.name]


def test_impossible_coordinates_ask_nothing(tmp_path):
    """A latitude over 90 is refused before any download."""
    with pytest.raises(ValueError, match="latitude"):
        climate.fetch_pvgis(95.0, 0.0, folder=tmp_path)
