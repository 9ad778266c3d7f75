"""What the machine refuses, told by name: a full disk, a folder that may not be written, a closed pipe."""

from __future__ import annotations

import errno
import os
import re

from reportkit.base.errors import MachineError
from reportkit.base.translatable import english, translatable

#: Refusals that are the machine's and how to help, by the system's own number (POSIX, errno.h).
_REFUSALS = {
    errno.ENOSPC: (english("the disk is full"), english("make room")),
    errno.EDQUOT: (english("the disk space you are allowed is used up"), english("make room")),
    errno.EFBIG: (english("the file is larger than this disk takes"), english("use another disk")),
    errno.EROFS: (
        english("it can only be read there, not written"),
        english("use a folder that can be written"),
    ),
    errno.EACCES: (english("you are not allowed to"), english("use a folder that you may write")),
    errno.EPERM: (english("you are not allowed to"), english("use a folder that you may write")),
    errno.EIO: (
        english("the disk cannot be read or written"),
        english("copy what you can, and look at the disk"),
    ),
    errno.ENOTDIR: (english("a file is where a folder must be"), english("move the file away")),
    errno.EEXIST: (english("a file is where a folder must be"), english("move the file away")),
    errno.EISDIR: (english("a folder is where a file must be"), english("move the folder away")),
    errno.ENAMETOOLONG: (english("the name is too long for this disk"), english("use a shorter one")),
    errno.ELOOP: (english("links lead in a circle"), english("mend the links")),
    errno.EMFILE: (english("too many files are open"), english("close other programs, or allow more")),
    errno.ENFILE: (english("too many files are open"), english("close other programs, or allow more")),
    errno.EAGAIN: (
        english("no further process can be started"),
        english("close other programs, or allow more"),
    ),
    errno.ENOMEM: (english("there is no memory left"), english("close other programs")),
    errno.EPIPE: (
        english("whoever read what was printed has gone"),
        english("read it to its end, or into a file"),
    ),
    errno.ETXTBSY: (english("another program holds it"), english("close that program")),
    errno.EBUSY: (english("another program holds it"), english("close that program")),
}

#: How Python begins the text of such an error, also where it comes out of another process.
_TOLD = re.compile(r"\[Errno (\d+)\] (.*)", re.DOTALL)


def refusal(error: BaseException) -> MachineError | None:
    """Return what the machine refused, or None where an error is none of its.

    Parameters
    ----------
    error
        Any error.
    """
    if isinstance(error, MemoryError):
        return _refused(errno.ENOMEM, "")
    if not isinstance(error, OSError) or error.errno is None:
        return None
    # not every lack of a file is the machine's, but that of any folder for what need not last is
    of_its_own = error.strerror not in (None, os.strerror(error.errno))
    if error.errno in _REFUSALS or (error.errno == errno.ENOENT and of_its_own):
        return _refused(error.errno, str(error.filename or (error.strerror if of_its_own else "") or ""))
    return None


def refusal_told(name: str, text: str) -> MachineError | None:
    """Return what the machine refused a cell of a notebook, by the name and text of its error, or None."""
    if name == MemoryError.__name__:
        return _refused(errno.ENOMEM, "")
    match = _TOLD.match(text)
    if match and int(match[1]) in _REFUSALS:
        return _refused(int(match[1]), match[2].partition(": ")[2].strip("'\""))
    return None


def _refused(number: int, path: str) -> MachineError:
    lost = english("it is not there"), english("make it, or name another")
    what, help_ = map(translatable, _REFUSALS.get(number, lost))
    told = translatable("{path}: {what}", path=path, what=what) if path else what
    return MachineError(
        translatable(
            "{what}; nothing is wrong with the job: {help} and run the command again", what=told, help=help_
        )
    )
