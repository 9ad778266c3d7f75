"""A run as a bag (BagIt 1.0, RFC 8493), so that anybody can verify it in many years without this program.

The run's files stay at the top, where people look for them: to BagIt they are tag files, and
``tagmanifest-sha256.txt`` lists every one with its sum. ``data/`` holds one small file that says so.
The sums show damage; they are no signature, and whoever changes a file on purpose can change its sum too.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

DECLARATION = "bagit.txt"
INFO = "bag-info.txt"
MANIFEST = "manifest-sha256.txt"
TAGS = "tagmanifest-sha256.txt"
PAYLOAD = "data/about.txt"

#: Folders of a run in which nothing may stand that is not listed: it would be read as an input or as payload.
CLOSED = ("data", "inputs")

_ABOUT = """\
The files of this run stand beside this folder, not in it: its documents, results.json, the executed notebook,
and inputs/, the job it was made from. To see that nothing has changed since, in the run's folder:

    sha256sum --check --quiet tagmanifest-sha256.txt

or use any program that validates bags (BagIt 1.0, RFC 8493).
"""


@dataclass(frozen=True)
class Harm:
    """What is wrong with one file of a run: it ``changed``, is ``missing`` or is ``not listed``."""

    name: str
    what: str

    def __str__(self) -> str:
        """Return ``name: what``."""
        return f"{self.name}: {self.what}"


def digest(path: Path) -> str:
    """Return the sha256 of a file, in hex."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def files_of(folder: Path) -> list[str]:
    """Return the files of a run by their paths in it, sorted."""
    return sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file())


def close(folder: Path, about: Mapping[str, str]) -> None:
    """Make a finished run's folder a bag.

    Parameters
    ----------
    folder
        The folder, complete but for what BagIt asks for.
    about
        What ``bag-info.txt`` says beside the size, such as ``Bagging-Date``.
    """
    (folder / PAYLOAD).parent.mkdir()
    _write(folder / PAYLOAD, _ABOUT)
    _write(folder / DECLARATION, "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n")
    size = f"{(folder / PAYLOAD).stat().st_size}.1"
    _write(folder / INFO, "".join(f"{k}: {v}\n" for k, v in {**about, "Payload-Oxum": size}.items()))
    _write(folder / MANIFEST, _lines({PAYLOAD: digest(folder / PAYLOAD)}))
    sums = {name: digest(folder / name) for name in files_of(folder) if name != PAYLOAD}
    _write(folder / TAGS, _lines(sums))


def listed(folder: Path) -> dict[str, str]:
    """Return the sums that a bag lists, by path; raises ValueError for a list that is none."""
    sums: dict[str, str] = {}
    for name in (MANIFEST, TAGS):
        for line in (folder / name).read_text(encoding="utf-8").removesuffix("\n").split("\n"):
            match = re.fullmatch(r"([0-9A-Fa-f]{64})[ \t]+\*?(.+)", line)
            if match is None:
                raise ValueError(f"{name} holds {line[:80]!r}")
            sums[_decoded(match[2])] = match[1].lower()
    return sums


def harms(folder: Path, sums: Mapping[str, str]) -> list[Harm]:
    """Return what is wrong with a run's files, by its listed sums.

    Parameters
    ----------
    folder
        The run's folder.
    sums
        The sha256 of each file that is to be there, by its path.

    Returns
    -------
    list of Harm
        Files that changed or are missing, and those in `CLOSED` folders that nobody listed. Another file at
        the top, such as a note, is no harm.
    """
    there = files_of(folder)
    wrong = [Harm(name, "missing") for name in sums if name not in set(there)]
    wrong += [Harm(name, "changed") for name in there if name in sums and digest(folder / name) != sums[name]]
    closed = tuple(f"{name}/" for name in CLOSED)
    wrong += [Harm(name, "not listed") for name in there if name not in sums and name.startswith(closed)]
    return sorted(wrong, key=lambda harm: harm.name)


def _lines(sums: Mapping[str, str]) -> str:
    return "".join(f"{value}  {_encoded(name)}\n" for name, value in sorted(sums.items()))


#: Signs that a manifest writes in percent (RFC 8493, 2.1.3).
_CODES = {"%": "%25", "\n": "%0A", "\r": "%0D"}


def _encoded(name: str) -> str:
    return "".join(_CODES.get(sign, sign) for sign in name)


def _decoded(name: str) -> str:
    for sign, code in reversed(_CODES.items()):
        name = name.replace(code, sign).replace(code.lower(), sign)
    return name


def _write(path: Path, text: str) -> None:
    path.write_text(text, encoding="utf-8", newline="\n")
