"""What `check` says of letters that no font here has."""

import json
from pathlib import Path

import pytest
import small_job

from reportkit.app.command_line import main
from reportkit.documents.layouts import pdf


def _told(folder: Path, title: str, capsys: pytest.CaptureFixture[str]) -> list[str]:
    folder.mkdir()
    small_job.written(folder)
    tree = json.loads((folder / "job.yaml").read_text("utf-8")) | {"title": title}
    (folder / "job.yaml").write_text(json.dumps(tree, ensure_ascii=False), "utf-8")
    assert main(["check", str(folder)]) == 0
    out, err = capsys.readouterr()
    assert out == ""
    return [line for line in err.splitlines() if "font" in line]


def test_letters_without_a_font_are_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """By their names and by what is printed for them; a job whose letters all print is passed over."""
    rare = "\uffe5\u6771"  # as on a machine that has no font with them
    monkeypatch.setattr(pdf, "_prints", lambda sign, system_fonts: sign not in rare)
    (line,) = _told(tmp_path / "one", "\u6771 \uffe5100 for Zoë", capsys)
    assert "東 → [U+6771], \uffe5 → ¥." in line
    assert _told(tmp_path / "two", "Zoë, Ελένη, Мария", capsys) == []


def test_no_font_is_asked_about_plain_letters(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A check of a job in Latin letters stays as quick as it was."""
    monkeypatch.setattr(pdf, "instead", lambda _: pytest.fail("fonts were asked"))
    assert _told(tmp_path / "one", "Zoë’s café – 12 €, Łódź", capsys) == []


def test_what_hides_is_seen(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A short name with a mark of direction is refused, and shown in what is said of it."""
    small_job.written(tmp_path, {"rooms": [{"id": "of\u202efice"}], "currency": "E\u200bUR"})
    assert main(["check", str(tmp_path)]) == 2
    out = capsys.readouterr().out
    assert '(found "of[U+202E]fice")' in out and '(found "E[U+200B]UR")' in out
    assert "\u202e" not in out and "\u200b" not in out
