"""Files a job may read: its own folder and ``_shared``, nothing else, and of texts only sane ones.

A file is refused, as a fault and never as a crash, when it lies outside those two folders (also by a
link), is a folder, is missing or too large; a text also when it is not UTF-8 or holds NUL bytes.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from pathlib import Path, PureWindowsPath

from reportkit.base.errors import Fault
from reportkit.base.translatable import translatable
from reportkit.base.visible import HARMLESS, visible

#: No job file is longer than this [bytes]; a survey of 500 panes is under 0.1 MB.
LARGEST_FILE = 5_000_000
SHARED = "_shared"
#: Control signs, halves of surrogate pairs and non-characters: no document can show them.
UNPRINTABLE = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff]")


@dataclass
class Folders:
    """The folders a job may read, and the files read so far."""

    own: Path
    shared: Path | None = None
    read: list[Path] = field(default_factory=list)

    @classmethod
    def of(cls, folder: Path) -> tuple[Folders, list[Fault]]:
        """Return the folders for a job: ``_shared`` inside its own folder wins over one beside it."""
        own = folder.resolve()
        for shared in (own / SHARED, own.parent / SHARED):
            if shared.is_dir():
                if shared.resolve() != shared:
                    rule = translatable("must be a folder of its own, not a link to another place")
                    return cls(own), [
                        Fault(SHARED, 0, "", rule, str(shared.name), translatable("copy the folder here"))
                    ]
                return cls(own, shared), []
        return cls(own), []

    def shown(self, path: Path) -> str:
        """Return a file's name as messages show it: relative to the folder it lies in."""
        if self.shared is not None and path.is_relative_to(self.shared):
            return f"{SHARED}/{path.relative_to(self.shared).as_posix()}"
        return path.relative_to(self.own).as_posix() if path.is_relative_to(self.own) else path.name

    def inside(self, typed: str) -> Path | str:
        """Return the file a typed path means, or the rule that the path breaks.

        Parameters
        ----------
        typed
            A path below the job's folder, or below ``_shared/``.
        """
        text = typed.strip().replace("\\", "/")
        parts = [part for part in text.split("/") if part not in ("", ".")]
        windows = PureWindowsPath(text)
        if text.startswith(("/", "~")) or windows.drive or ".." in parts or not parts or "\0" in text:
            return translatable(
                "must be a path inside the job's folder or _shared, without .. and not from a disk's root"
            )
        base = self.own
        if parts[0] == SHARED and self.shared is not None:
            base, parts = self.shared, parts[1:]
            if len(parts) != 1:
                return translatable("must name a file that lies directly in _shared")
        if visible(text) != text:
            return translatable("must be a path of signs that can be seen")
        path = base.joinpath(*parts)
        try:
            return self.refused(path) or path
        except (OSError, RuntimeError, ValueError):  # too long, a loop of links, a name that cannot be
            return translatable("must be a path that this machine can have")

    def refused(self, path: Path) -> str | None:
        """Return why a file may not be read, or None."""
        real = path.resolve()
        roots = [self.own] + ([self.shared] if self.shared is not None else [])
        if not any(real.is_relative_to(root) for root in roots):
            return translatable("must lie inside the job's folder or _shared; a link leads outside")
        if real.is_dir():
            return translatable("must be a file (there is a folder of that name)")
        if not real.exists():
            return translatable("must be there (no such file)")
        if not real.is_file():
            return translatable("must be an ordinary file")
        return None

    def text(self, path: Path) -> tuple[str | None, list[Fault]]:
        """Return a file's text and the faults that kept it from being read."""
        data, faults = self.data(path)
        return (None, faults) if data is None else _decoded(self.shown(path), data)

    def optional(self, name: str) -> tuple[str | None, list[Fault]]:
        """Return the text of a file of the job that need not be there, and what kept it from being read."""
        path = self.own / name
        return self.text(path) if path.exists() or path.is_symlink() else (None, [])

    def data(self, path: Path, largest: int = LARGEST_FILE) -> tuple[bytes | None, list[Fault]]:
        """Return a file's bytes and the faults that kept it from being read.

        Parameters
        ----------
        path
            The file.
        largest
            The most it may hold [bytes].
        """
        shown = self.shown(path)
        try:
            rule = self.refused(path)
            if rule:
                return None, [Fault(shown, 0, "", rule, hint=_MENDS.get(path.name))]
            size = path.stat().st_size
            if size > largest:
                rule = translatable("must be at most {megabytes} MB", megabytes=largest // 1_000_000)
                return None, [
                    Fault(
                        shown,
                        0,
                        "",
                        rule,
                        translatable("{megabytes:.1f} MB", megabytes=size / 1e6),
                        translatable("take out what does not belong"),
                    )
                ]
            data = path.read_bytes()
        except (OSError, RuntimeError) as error:  # no permission, a loop of links
            found = clipped(getattr(error, "strerror", None) or error)
            return None, [
                Fault(
                    shown,
                    0,
                    "",
                    translatable("must be readable"),
                    found,
                    translatable("allow yourself to read it, or copy it here"),
                )
            ]
        if path not in self.read:
            self.read.append(path)
        return data, []


_MENDS = {
    "job.yaml": translatable("reportkit start makes one in a new folder, or with --workbook a job.xlsx"),
    "windows.csv": translatable(
        "one row per pane (or windows.xlsx); reportkit start makes one in a new folder"
    ),
}


def _decoded(shown: str, data: bytes) -> tuple[str | None, list[Fault]]:
    save = translatable("save the file again as UTF-8")
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return None, [
            Fault(
                shown,
                1,
                "",
                translatable("must be UTF-8 text"),
                "UTF-16",
                translatable("{save} (in a spreadsheet: CSV UTF-8)", save=save),
            )
        ]
    if b"\0" in data:
        line = data[: data.index(b"\0")].count(b"\n") + 1
        return None, [
            Fault(
                shown,
                line,
                "",
                translatable("must be text"),
                translatable("a NUL byte"),
                translatable("{save}; this may be another kind of file", save=save),
            )
        ]
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        row = data[data.rfind(b"\n", 0, error.start) + 1 :].split(b"\n", 1)[0]
        guess = row.decode("cp1252", "replace")
        rule = translatable("must be UTF-8 text")
        return None, [
            Fault(
                shown,
                line,
                "",
                rule,
                clipped(guess),
                translatable("{save} (in a spreadsheet: CSV UTF-8)", save=save),
            )
        ]
    text = re.sub(r"[\u2028\u2029]", " ", re.sub(r"\r\n?", "\n", text))
    odd = UNPRINTABLE.search(text)
    if odd:
        line = text.count("\n", 0, odd.start()) + 1
        found = translatable(
            "{sign} in {text}", sign=f"U+{ord(odd[0]):04X}", text=clipped(text.split(chr(10))[line - 1])
        )
        return None, [
            Fault(
                shown,
                line,
                "",
                translatable("must hold only signs that print"),
                found,
                translatable("remove it"),
            )
        ]
    return text, []


def there(folder: Path, *names: str) -> list[str]:
    """Return which of some names a folder has."""
    return [name for name in names if (folder / name).exists() or (folder / name).is_symlink()]


def clipped(value: object, longest: int = 70) -> str:
    """Return a short, one-line, printable form of what was found, nothing hidden in it."""
    text = "".join(sign if sign.isprintable() or sign in HARMLESS else " " for sign in visible(str(value)))
    text = " ".join(text.split())
    return text if len(text) <= longest else text[: longest - 1] + "…"
