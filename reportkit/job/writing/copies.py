"""A job as a set of files that runs by itself: for the archive, and as attachments of a document."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportkit.job.reading import issued
from reportkit.job.reading.bookfile import anonymous

if TYPE_CHECKING:
    from pathlib import Path

    from reportkit.job.reading.photos import Photo
    from reportkit.job.reading.reader import LoadedJob


def contents(loaded: LoadedJob) -> dict[str, bytes]:
    """Return every file a job was read from, by its place in a copy of the job folder.

    Files of the job keep their place; what was used of ``_shared`` beside the job goes to ``_shared``
    inside the copy, where the reader looks first. Photos are copied as the job holds them, small and
    without the place, time and device in the original; a workbook without the names of who wrote it. Of an
    earlier run that was sent only what a new one is compared with.
    """
    photos = {photo.path: photo.content for photo in loaded.photos.values()}
    files = {}
    for source in loaded.sources:
        name = _name(loaded, source)
        if source in photos:
            files[name] = photos[source]
        else:
            content = source.read_bytes()
            if source.suffix == ".xlsx":
                content = anonymous(content)
            files[name] = issued.kept(content) if issued.is_one(name) else content
    return files


def photos_of(loaded: LoadedJob) -> dict[str, tuple[str, Photo]]:
    """Return the photo of each pane that has one, by the pane's id, with its place in such a copy."""
    return {pane: (_name(loaded, photo.path), photo) for pane, photo in loaded.photos.items()}


def _name(loaded: LoadedJob, source: Path) -> str:
    home = loaded.folder if source.is_relative_to(loaded.folder) else loaded.shared_folder
    prefix = "" if home == loaded.folder else "_shared/"
    return prefix + source.relative_to(home or source.parent).as_posix()
