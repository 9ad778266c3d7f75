"""What is kept from one command to the next: found again as it was, never trusted, and nowhere needed."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from reportkit.base import kept as module
from reportkit.base.kept import content, digest, kept, place

HERE = Path(__file__).parents[2]


@pytest.fixture
def folder(tmp_path, monkeypatch):
    """Return the folder where things are kept, which is not there yet."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    return tmp_path / "cache" / "reportkit"


class Maker:
    """Makes bytes and counts how often."""

    def __init__(self, made=b"answer"):
        self.made, self.times = made, 0

    def __call__(self):
        """Return the bytes."""
        self.times += 1
        return self.made


def ask(make, *asked):
    """Return what is kept, or made, of some arguments."""
    return kept(lambda: asked, make)


def test_made_once_for_each_question(folder):
    """The same question is answered from the folder; another, or one put together otherwise, anew."""
    make = Maker()
    assert [ask(make, "a", 1.5), ask(make, "a", 1.5)] == [b"answer"] * 2
    assert make.times == 1
    for other in (("a", 2.5), ("a",), ("a1.5",), ("a", "1.5"), ("", "a", 1.5)):
        ask(make, *other)
    assert make.times == 6
    assert len(list(folder.iterdir())) == 6


def test_the_folder_is_the_users_alone(folder):
    """Folder and files are made so that nobody else can look into them."""
    ask(Maker(), "a")
    assert folder.stat().st_mode & 0o777 == 0o700
    assert folder.parent.stat().st_mode & 0o777 == 0o700
    assert [path.stat().st_mode & 0o777 for path in folder.iterdir()] == [0o600]


@pytest.mark.parametrize("mode", [0o755, 0o770, 0o701])
def test_a_folder_open_to_others_is_not_used(folder, mode):
    """Neither is anything read there nor written."""
    make = Maker()
    ask(make, "a")
    folder.chmod(mode)
    ask(make, "a")
    assert make.times == 2
    ask(make, "b")
    assert len(list(folder.iterdir())) == 1


def test_a_folder_of_another_owner_is_not_used(folder, monkeypatch):
    """As where somebody else made it first."""
    make = Maker()
    ask(make, "a")
    owner = os.geteuid()
    monkeypatch.setattr(module.os, "geteuid", lambda: owner + 1)
    ask(make, "a")
    ask(make, "b")
    assert make.times == 3
    assert len(list(folder.iterdir())) == 1


def test_a_link_to_a_folder_is_not_used(folder, tmp_path):
    """The folder itself must be there: a link could lead anywhere."""
    (tmp_path / "elsewhere").mkdir(mode=0o700)
    folder.parent.mkdir()
    folder.symlink_to(tmp_path / "elsewhere")
    ask(Maker(), "a")
    assert list((tmp_path / "elsewhere").iterdir()) == []


@pytest.mark.parametrize(
    "spoil",
    [
        lambda held: held[:-1] + bytes([held[-1] ^ 1]),
        lambda held: bytes([held[0] ^ 1]) + held[1:],
        lambda held: held[: len(held) // 2],
        lambda held: held + b"more",
        lambda held: b"",
    ],
)
def test_what_is_not_as_it_was_written_is_made_anew(folder, spoil):
    """A bit turned, a file cut short or lengthened: made again, and then kept again."""
    make = Maker()
    ask(make, "a")
    (path,) = folder.iterdir()
    path.write_bytes(spoil(path.read_bytes()))
    assert ask(make, "a") == b"answer"
    assert make.times == 2
    assert ask(make, "a") == b"answer"
    assert make.times == 2


def test_an_answer_under_another_name_is_none(folder):
    """A whole file that answers another question is not taken for this one."""
    ask(Maker(b"one"), "a")
    (path,) = folder.iterdir()
    ask(Maker(b"two"), "b")
    (other,) = set(folder.iterdir()) - {path}
    path.replace(other)
    assert ask(Maker(b"two"), "b") == b"two"


def test_what_changes_meanwhile_is_not_kept(folder):
    """An answer to a question that is another one by now could be wrong for both."""
    state = iter("ab")
    assert kept(lambda: (next(state),), Maker()) == b"answer"
    assert not folder.exists()


def test_what_fails_is_not_kept(folder):
    """An error is raised each time, and leaves nothing."""
    for _ in range(2):
        with pytest.raises(ZeroDivisionError):
            ask(lambda: 1 / 0, "a")
    assert not folder.exists()


def test_nowhere_to_keep_anything(tmp_path, monkeypatch):
    """A file where the folder should be, and no such place: computed each time, without a word."""
    (tmp_path / "file").write_text("")
    for nowhere in (tmp_path / "file", tmp_path / "no" / "such" / "place", "/dev/null/nowhere"):
        monkeypatch.setenv("XDG_CACHE_HOME", str(nowhere))
        make = Maker()
        assert [ask(make, "a"), ask(make, "a")] == [b"answer"] * 2
        assert make.times == 2
    assert [path.name for path in tmp_path.iterdir()] == ["file"]


def test_no_home_at_all(tmp_path, monkeypatch):
    """Where the system knows no home for the user, no folder called ~ is made in the one worked in."""
    monkeypatch.delenv("XDG_CACHE_HOME", raising=False)
    monkeypatch.setattr("os.path.expanduser", lambda path: path)
    monkeypatch.setattr("platformdirs.user_cache_dir", lambda *_, **__: "~/.cache/reportkit")
    monkeypatch.chdir(tmp_path)
    assert place() is None
    assert ask(Maker(), "a") == b"answer"
    assert list(tmp_path.iterdir()) == []


def test_a_full_disk(folder, monkeypatch):
    """What cannot be written whole leaves nothing behind, and the answer is there all the same."""
    ask(Maker(), "a")

    class Full:
        def __init__(self, handle, _):
            self.handle = handle

        def __enter__(self):
            return self

        def __exit__(self, *_):
            os.close(self.handle)

        def write(self, data):
            os.write(self.handle, data[:5])
            raise OSError(28, "No space left on device")

    monkeypatch.setattr(module.os, "fdopen", Full)
    assert ask(Maker(), "b") == b"answer"
    assert len(list(folder.iterdir())) == 1


def test_what_was_not_asked_for_the_longest_goes(folder, monkeypatch):
    """Over a number of files, or of bytes, those last asked for stay."""
    monkeypatch.setattr(module, "MOST_FILES", 3)
    makers = {name: Maker(name.encode()) for name in "abcd"}

    def at(second, name):
        """Ask, and let the file be as old as if it had been at that second."""
        before = {path: path.stat().st_mtime_ns for path in folder.iterdir()} if folder.exists() else {}
        ask(makers[name], name)
        for path in folder.iterdir():
            if path.stat().st_mtime_ns != before.get(path):
                os.utime(path, (second, second))

    for second, name in enumerate("abc"):
        at(second, name)
    at(3, "a")  # asked for again: now b is the oldest
    at(4, "d")
    assert len(list(folder.iterdir())) == 3
    for name in "acd":
        at(5, name)
    assert {name: maker.times for name, maker in makers.items()} == dict(a=1, b=1, c=1, d=1)
    at(6, "b")
    assert makers["b"].times == 2
    monkeypatch.setattr(module, "MOST_BYTES", 100)
    ask(Maker(bytes(60)), "large")
    assert [path.stat().st_size for path in folder.iterdir()] == [60 + 32]


def test_halves_of_killed_processes_go_too(folder, monkeypatch):
    """What a killed process left unfinished is the oldest file some day."""
    ask(Maker(), "a")
    (folder / "tmpleft").write_bytes(b"half")
    os.utime(folder / "tmpleft", (1, 1))
    monkeypatch.setattr(module, "MOST_FILES", 2)
    ask(Maker(), "b")
    assert not (folder / "tmpleft").exists()


def test_many_processes_at_once(folder):
    """Four that ask, make and clear away together each have their answers, and leave whole files only."""
    code = (
        "from reportkit.base import kept as m\n"
        "m.MOST_FILES = 5\n"
        "for each in range(300):\n"
        "    made = str(each % 9).encode() * 20000\n"
        "    assert m.kept(lambda: ('q', each % 9), lambda: made) == made\n"
    )
    asked = [sys.executable, "-c", code]
    running = [
        subprocess.Popen(asked, env={**os.environ, "PYTHONPATH": str(HERE)}, stderr=subprocess.PIPE)
        for _ in range(4)
    ]
    assert [(one.communicate()[1], one.returncode) for one in running] == [(b"", 0)] * 4
    left = list(folder.iterdir())
    assert 0 < len(left) <= 6
    for path in left:
        held = path.read_bytes()
        assert held[:32] == module._sum(path.name, held[32:])


def test_a_digest_knows_names_and_contents(tmp_path):
    """SHA-256 of "abc" is that of FIPS 180-4's example; a changed name or byte is another digest."""
    path = tmp_path / "a.py"
    path.write_bytes(b"abc")
    assert content(path) == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    first = digest([path])
    path.write_bytes(b"abd")
    second = digest([path])
    third = digest([path.rename(tmp_path / "b.py")])
    assert len({first, second, third}) == 3
