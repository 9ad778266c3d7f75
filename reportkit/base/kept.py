"""What was computed once, kept from one command to the next in the user's folder for what can be made anew.

Only bytes are kept: what they mean, and how to ask for them, is the caller's. Nothing here may stop a command
or change what it finds: where nothing can be kept, everything is computed, and nobody is told. Each file
begins with the SHA-256 of its name and content; one that is not as it was written counts as absent.
"""

from __future__ import annotations

import hashlib
import json
import os
import stat
import tempfile
from collections.abc import Callable, Iterable
from contextlib import suppress
from pathlib import Path

#: So many files are kept, and so many bytes; those not asked for the longest go.
MOST_FILES, MOST_BYTES = 200, 100_000_000

_SUM = hashlib.sha256().digest_size


def kept(asked: Callable[[], Iterable[str | float]], make: Callable[[], bytes]) -> bytes:
    """Return what ``make`` returns, or what it returned when the same was asked before.

    Parameters
    ----------
    asked
        Returns all that the answer depends on, code and libraries too. It is called again after ``make``: an
        answer is kept only where nothing has changed meanwhile.
    make
        Computes the answer. What it raises is raised, and not kept.
    """
    name = _name(asked())
    found = _read(name)
    if found is None:
        found = make()
        if _name(asked()) == name:
            with suppress(OSError):
                _write(name, found)
    return found


def place() -> Path | None:
    """Return the folder where things are kept, or None where that cannot be told; it need not be there."""
    from platformdirs import user_cache_dir

    folder = Path(user_cache_dir("reportkit", appauthor=False))
    return folder if folder.is_absolute() else None  # with no home at all it begins with ~


def digest(files: Iterable[Path]) -> str:
    """Return the SHA-256 of the names and contents of files, as hex digits."""
    total = hashlib.sha256()
    for path in files:
        total.update(f"{path.name}\0{content(path)}\n".encode())
    return total.hexdigest()


def content(path: Path) -> str:
    """Return the SHA-256 of a file's content, as hex digits."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def _name(asked: Iterable[str | float]) -> str:
    return hashlib.sha256(json.dumps(list(asked)).encode()).hexdigest()


def _private(folder: Path) -> bool:
    """Return whether a folder is this user's, and nobody else may look into it or write there."""
    about = folder.lstat()
    if os.name == "nt":  # who may is not told by a mode there; the folder lies in the user's own
        return stat.S_ISDIR(about.st_mode)
    return stat.S_ISDIR(about.st_mode) and about.st_uid == os.geteuid() and not about.st_mode & 0o077


def _read(name: str) -> bytes | None:
    folder = place()
    try:
        if folder is None or not _private(folder):
            return None
        held = (folder / name).read_bytes()
    except OSError:
        return None
    made = held[_SUM:]
    if held[:_SUM] != _sum(name, made):
        return None
    with suppress(OSError):
        os.utime(folder / name)
    return made


def _write(name: str, made: bytes) -> None:
    folder = place()
    if folder is None:
        return
    for each in (folder.parent, folder):  # no home is made where there is none
        with suppress(FileExistsError):
            each.mkdir(0o700)
    if not _private(folder):
        return
    handle, half = tempfile.mkstemp(dir=folder)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(_sum(name, made) + made)
        Path(half).replace(folder / name)
    except BaseException:
        Path(half).unlink(missing_ok=True)
        raise
    _clear(folder)


def _sum(name: str, made: bytes) -> bytes:
    return hashlib.sha256(name.encode() + made).digest()


def _clear(folder: Path) -> None:
    """Remove what has not been asked for the longest, halves of killed processes with it."""
    with os.scandir(folder) as entries:
        files = [(entry.stat(), Path(entry)) for entry in entries if entry.is_file(follow_symlinks=False)]
    files.sort(key=lambda each: each[0].st_mtime_ns, reverse=True)
    held = 0
    for count, (about, path) in enumerate(files, 1):
        held += about.st_size
        if count > MOST_FILES or held > MOST_BYTES:
            path.unlink(missing_ok=True)
