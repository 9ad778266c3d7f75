"""Files and folders that a cut of the power leaves as they were or as they were to be, never in between.

What is written stands in the machine's memory until it is synced, and a name until its folder is (POSIX,
``fsync`` and ``rename``; where a folder cannot be opened, as on Windows, its sync is left out). So everything
is synced under a name nobody looks for, then renamed, then the folder that holds the name is synced.
"""

from __future__ import annotations

import glob
import os
from pathlib import Path

from reportkit.base.maker import Maker


def sync(path: Path) -> None:
    """Put a file's content, or the names in a folder, on the disk."""
    if path.is_dir():
        if os.name == "nt":
            return
        handle = os.open(path, os.O_RDONLY)
    else:
        handle = os.open(path, os.O_RDWR if os.name == "nt" else os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def sync_tree(folder: Path) -> None:
    """Put a folder and all that is below it on the disk: files before the folders that name them."""
    for entry in sorted(folder.iterdir()):
        if entry.is_dir() and not entry.is_symlink():
            sync_tree(entry)
        else:
            sync(entry)
    sync(folder)


def make_folder(folder: Path) -> None:
    """Make a folder unless it is there, and put its name on the disk."""
    if not folder.is_dir():
        folder.mkdir(exist_ok=True)
        sync(folder.parent)


def publish(folder: Path, place: Path) -> None:
    """Give a finished folder its name, whole on the disk or not at all.

    Parameters
    ----------
    folder
        The folder, complete, under a hidden name beside its place.
    place
        Where it goes; nothing may be there.

    Raises
    ------
    OSError
        If the disk is full or refuses; nothing stands at ``place`` then.
    """
    sync_tree(folder)
    os.rename(folder, place)  # noqa: PTH104 # the calls of this module go through os, so that tests see their order
    sync(place.parent)


def replace_file(path: Path, data: bytes) -> None:
    """Write a file at once: whoever reads it, also after a power cut, finds the old one or the new one.

    Parameters
    ----------
    path
        The file.
    data
        All it is to hold.

    Raises
    ------
    OSError
        If the disk is full or refuses; the file is then as it was.
    """
    for other in path.parent.glob(f".{glob.escape(path.name)}.*"):
        maker = Maker.read(other.name.removeprefix(f".{path.name}."))
        if maker is not None and maker.left(other):
            other.unlink(missing_ok=True)
    hidden = path.with_name(f".{path.name}.{Maker.this()}")
    try:
        hidden.write_bytes(data)
        sync(hidden)
        os.replace(hidden, path)  # noqa: PTH105 # as above
    except BaseException:
        hidden.unlink(missing_ok=True)
        raise
    sync(path.parent)
