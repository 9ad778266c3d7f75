"""What the machine refuses, told by name: a full disk, a folder that may not be written, a closed pipe."""

from __future__ import annotations

import errno
import os
import re

from reportkit.base.errors import MachineError

#: Refusals that are the machine's and how to help, by the system's own number (POSIX, errno.h).
_REFUSALS = {
    errno.ENOSPC: ("the disk is full", "make room"),
    errno.EDQUOT: ("the disk space you are allowed is used up", "make room"),
    errno.EFBIG: ("the file is larger than this disk takes", "use another disk"),
    errno.EROFS: ("it can only be read there, not written", "use a folder that can be written"),
    errno.EACCES: ("you are not allowed to", "use a folder that you may write"),
    errno.EPERM: ("you are not allowed to", "use a folder that you may write"),
    errno.EIO: ("the disk cannot be read or written", "copy what you can, and look at the disk"),
    errno.ENOTDIR: ("a file is where a folder must be", "move the file away"),
    errno.EEXIST: ("a file is where a folder must be", "move the file away"),
    errno.EISDIR: ("a folder is where a file must be", "move the folder away"),
    errno.ENAMETOOLONG: ("the name is too long for this disk", "use a shorter one"),
    errno.ELOOP: ("links lead in a circle", "mend the links"),
    errno.EMFILE: ("too many files are open", "close other programs, or allow more"),
    errno.ENFILE: ("too many files are open", "close other programs, or allow more"),
    errno.EAGAIN: ("no further process can be started", "close other programs, or allow more"),
    errno.ENOMEM: ("there is no memory left", "close other programs"),
    errno.EPIPE: ("whoever read what was printed has gone", "read it to its end, or into a file"),
    errno.ETXTBSY: ("another program holds it", "close that program"),
    errno.EBUSY: ("another program holds it", "close that program"),
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
    what, help_ = _REFUSALS.get(number, ("it is not there", "make it, or name another"))
    where = f"{path}: " if path else ""
    return MachineError(f"{where}{what}; nothing is wrong with the job: {help_} and run the command again")
