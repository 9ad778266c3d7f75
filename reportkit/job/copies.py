"""A job as a set of files that runs by itself: for the archive, and as attachments of a document."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from reportkit.job.reader import LoadedJob


def contents(loaded: LoadedJob) -> dict[str, bytes]:
    """Return every file a job was read from, by its place in a copy of the job folder.

    Files of the job keep their place; what was used of ``_shared`` beside the job goes to ``_shared``
    inside the copy, where the reader looks first.
    """
    files = {}
    for source in loaded.sources:
        home = loaded.folder if source.is_relative_to(loaded.folder) else loaded.shared_folder
        prefix = "" if home == loaded.folder else "_shared/"
        files[prefix + source.relative_to(home or source.parent).as_posix()] = source.read_bytes()
    return files
