"""Photos of panes: checked, turned upright, made small, and freed of everything but the picture.

A photo from a telephone tells where and when it was taken, with which device, and often holds a second
copy of the picture. None of that may leave with an offer, so what a job holds of a photo is a new file
made from its pixels alone: upright by its Exif orientation (CIPA DC-008), in sRGB, its longer side at
most `LONGEST` pixels. A file that is already so is kept byte for byte: an archived job reads as the job
it came from. The file in the job's folder is never written to.

A HEIC file (ISO/IEC 23008-12), as telephones write it, becomes a JPEG; its own turning is applied, its Exif
orientation is not, as that standard has it. Under a name in ``.heic`` a JPEG is read as well: an archived
job holds its photos under their own names.

Not covered: what the picture itself shows (a face, a number plate, a name on a door).
"""

from __future__ import annotations

import io
import struct
import warnings
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from reportkit.base.errors import Fault
from reportkit.base.translatable import reason_of, translatable
from reportkit.job.reading.apart import decoded, rule_of
from reportkit.job.reading.bare import is_bare
from reportkit.job.reading.files import Folders, clipped
from reportkit.job.reading.pixels import LARGEST_PNG, LONGEST, Unfit, check_size, from_heic, rewritten
from reportkit.job.reading.survey import Row

if TYPE_CHECKING:
    from PIL.Image import Image

#: No photo is longer than this [bytes].
LARGEST_PHOTO = 30_000_000
_JPEG = b"\xff\xd8\xff"
_MEND = translatable("save it as JPEG or PNG")
_ENDINGS = {".jpg": "JPEG", ".jpeg": "JPEG", ".png": "PNG", ".heic": "HEIF", ".heif": "HEIF"}


@dataclass(frozen=True)
class Photo:
    """A photo as a job holds it.

    Attributes
    ----------
    path
        The file it came from, absolute.
    content
        The picture alone, JPEG or PNG.
    media_type
        ``image/jpeg`` or ``image/png``.
    width, height
        Its size [pixels].
    """

    path: Path
    content: bytes
    media_type: str
    width: int
    height: int


def read_photos(rows: list[Row], folders: Folders, survey: str) -> tuple[dict[str, Photo], list[Fault]]:
    """Return the photo of each pane that names one, by the pane's id, and every fault.

    Parameters
    ----------
    rows
        The survey.
    folders
        The folders that may be read.
    survey
        The survey's name as messages show it.
    """
    photos: dict[str, Photo] = {}
    faults: list[Fault] = []
    named: list[tuple[Row, Path]] = []
    for row in rows:
        typed = row.cells.get("photo")
        if not typed:
            continue
        path = folders.inside(typed)
        if isinstance(path, str):
            hint = translatable("put the photo into the job's folder and name it from there")
            faults.append(Fault(survey, row.line, "photo", path, clipped(typed), hint))
        elif path.suffix.lower() not in _ENDINGS:
            rule = translatable("must be a file that ends in .jpg, .png or .heic")
            faults.append(Fault(survey, row.line, "photo", rule, clipped(typed), _MEND))
        else:
            named.append((row, path))
    made = _made(dict.fromkeys(path for _, path in named), folders)
    for row, path in named:
        one = made[path]
        if isinstance(one, Photo):
            photos[row.cells.get("id", "")] = one
        else:
            found = one.found or clipped(row.cells["photo"])
            faults.append(Fault(survey, row.line, "photo", one.rule, found, one.hint))
    return photos, faults


def _made(paths: Iterable[Path], folders: Folders) -> dict[Path, Photo | Fault]:
    """Return the photo in each file, or what is wrong with it; HEIC files are decoded together, apart."""
    made: dict[Path, Photo | Fault] = {}
    apart: dict[Path, bytes] = {}
    for path in paths:
        kind = _ENDINGS[path.suffix.lower()]
        data, wrong = folders.data(path, LARGEST_PHOTO)
        if data is None:
            made[path] = wrong[0]
        elif kind == "HEIF" and not data.startswith(_JPEG):
            apart[path] = data
        else:
            made[path] = _photo(path, data, kind)
    for path, answer in zip(apart, decoded(list(apart.values())), strict=True):
        made[path] = _refused(answer) if isinstance(answer, str) else _photo(path, answer, "HEIF")
    return made


def _refused(rule: str) -> Fault:
    return Fault("", 0, "photo", rule, None, _MEND)


def _photo(path: Path, data: bytes, kind: str) -> Photo | Fault:
    try:
        content = stripped(data, kind)
    except Unfit as unfit:
        return _refused(rule_of(unfit))
    except ValueError as error:
        return _refused(reason_of(error))
    with _opened(content) as image:
        width, height = image.size
    return Photo(path, content, "image/png" if kind == "PNG" else "image/jpeg", width, height)


def stripped(data: bytes, kind: str) -> bytes:
    """Return the picture alone: upright, small, without any data about how it came to be.

    Parameters
    ----------
    data
        A JPEG, PNG or HEIC file.
    kind
        ``JPEG``, ``PNG`` or ``HEIF``: what its name says, and what is returned, but for a HEIF a JPEG.

    Returns
    -------
    bytes
        The new file; ``data`` itself where it is such a file already.

    Raises
    ------
    ValueError
        If it is no such picture, or larger than allowed; the message starts with "must".
    """
    if kind == "HEIF" and not data.startswith(_JPEG):
        return from_heic(data)
    kind = "JPEG" if kind == "HEIF" else kind
    with _opened(data) as image:
        real = {"MPO": "JPEG"}.get(str(image.format), str(image.format))
        if real != kind:
            raise ValueError(translatable("must be what its name says: it holds a {real} picture", real=real))
        check_size(*image.size)
        light = kind == "JPEG" or len(data) <= LARGEST_PNG
        plain = image.mode in ("L", "P") or (image.mode == "RGB" and light)
        small = max(image.size) <= LONGEST and plain
        try:
            image.draft("RGB", (2 * LONGEST, 2 * LONGEST))  # decodes large JPEG at a fraction of their size
            image.load()
            if small and is_bare(data, kind):
                return data
            return rewritten(image, kind)
        except (OSError, SyntaxError, ValueError, struct.error, EOFError) as error:
            raise ValueError(
                translatable("must be a picture that is whole ({error})", error=clipped(error))
            ) from error


def _opened(data: bytes) -> Image:
    from PIL import Image, UnidentifiedImageError

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # damaged hidden data, which is dropped, and size, checked above
            return Image.open(io.BytesIO(data), formats=("JPEG", "PNG"))
    except UnidentifiedImageError:
        raise ValueError(translatable("must be a JPEG or PNG picture")) from None
    except (Image.DecompressionBombError, OSError, SyntaxError, ValueError, struct.error) as error:
        raise ValueError(
            translatable("must be a picture that can be read ({error})", error=clipped(error))
        ) from error
