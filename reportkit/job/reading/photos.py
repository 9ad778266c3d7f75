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
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from reportkit.base.errors import Fault
from reportkit.base.translatable import reason_of, translatable
from reportkit.job.reading.bare import is_bare
from reportkit.job.reading.files import Folders, clipped
from reportkit.job.reading.survey import Row

if TYPE_CHECKING:
    from PIL.Image import Image

#: Longer side of a kept photo [pixels]: sharp at 75 mm wide in print, at 270 to the inch.
LONGEST = 800
#: No photo is longer than this [bytes], nor has more pixels.
LARGEST_PHOTO = 30_000_000
MOST_PIXELS = 80_000_000
#: A picture without loss larger than this is brought to 256 colors [bytes].
_LARGEST_PNG = 300_000
_QUALITY = 80
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
    known: dict[Path, Photo] = {}
    for row in rows:
        typed = row.cells.get("photo")
        if not typed:
            continue

        def fault(rule: str, found: str | None = None, hint: str | None = None, line: int = row.line,
                  typed: str = typed) -> None:  # fmt: skip
            faults.append(Fault(survey, line, "photo", rule, found or clipped(typed), hint))

        path = folders.inside(typed)
        if isinstance(path, str):
            fault(path, hint=translatable("put the photo into the job's folder and name it from there"))
            continue
        kind = _ENDINGS.get(path.suffix.lower())
        if kind is None:
            fault(translatable("must be a file that ends in .jpg, .png or .heic"), hint=_MEND)
            continue
        if path not in known:
            data, wrong = folders.data(path, LARGEST_PHOTO)
            if data is None:
                fault(wrong[0].rule, wrong[0].found, wrong[0].hint)
                continue
            try:
                known[path] = _photo(path, data, kind)
            except ValueError as error:
                fault(reason_of(error), hint=_MEND)
                continue
        photos[row.cells.get("id", "")] = known[path]
    return photos, faults


def _photo(path: Path, data: bytes, kind: str) -> Photo:
    content = stripped(data, kind)
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
    if kind == "HEIF" and not data.startswith(b"\xff\xd8\xff"):
        return _from_heic(data)
    kind = "JPEG" if kind == "HEIF" else kind
    with _opened(data) as image:
        real = {"MPO": "JPEG"}.get(str(image.format), str(image.format))
        if real != kind:
            raise ValueError(translatable("must be what its name says: it holds a {real} picture", real=real))
        _check_size(*image.size)
        light = kind == "JPEG" or len(data) <= _LARGEST_PNG
        plain = image.mode in ("L", "P") or (image.mode == "RGB" and light)
        small = max(image.size) <= LONGEST and plain
        try:
            image.draft("RGB", (2 * LONGEST, 2 * LONGEST))  # decodes large JPEG at a fraction of their size
            image.load()
            if small and is_bare(data, kind):
                return data
            return _rewritten(image, kind)
        except (OSError, SyntaxError, ValueError, struct.error, EOFError) as error:
            raise ValueError(
                translatable("must be a picture that is whole ({error})", error=clipped(error))
            ) from error


def _check_size(width: int, height: int) -> None:
    if width * height > MOST_PIXELS:
        raise ValueError(
            translatable("must have at most {millions} million pixels", millions=MOST_PIXELS // 1_000_000)
        )


def _from_heic(data: bytes) -> bytes:
    """Return the main picture of a HEIC file as a JPEG."""
    import pi_heif

    if not pi_heif.is_supported(data):
        raise ValueError(translatable("must be a HEIC, JPEG or PNG picture"))
    try:
        held = pi_heif.open_heif(data)
        size = held.size
    except (ValueError, EOFError, SyntaxError, RuntimeError, OSError) as error:
        raise ValueError(
            translatable("must be a picture that can be read ({error})", error=clipped(error))
        ) from error
    _check_size(*size)
    try:
        return _rewritten(held.to_pillow(), "JPEG")
    except (ValueError, EOFError, SyntaxError, RuntimeError, OSError, struct.error) as error:
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


def _rewritten(image: Image, kind: str) -> bytes:
    from PIL import Image, ImageOps

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # damaged Exif: the picture stays as it lies
        try:
            upright = ImageOps.exif_transpose(image)
        except Exception:  # Pillow lets any error of a damaged Exif block through
            upright = image
    flat = _in_srgb(upright, image.info.get("icc_profile"))
    flat.thumbnail((LONGEST, LONGEST), Image.Resampling.LANCZOS)
    bare = Image.new("RGB", flat.size)  # a new picture: nothing travels along with the old one
    bare.paste(flat)
    out = io.BytesIO()
    if kind == "JPEG":
        bare.save(out, "JPEG", quality=_QUALITY, optimize=True)
    else:
        bare.save(out, "PNG", optimize=True)
        if out.tell() > _LARGEST_PNG:
            out = io.BytesIO()
            bare.quantize(256).save(out, "PNG", optimize=True)
    return out.getvalue()


def _in_srgb(image: Image, profile: bytes | None) -> Image:
    """Return a picture in sRGB on white, by its color profile where it has one."""
    from PIL import Image, ImageCms

    if image.mode in ("RGBA", "LA", "PA") or "transparency" in image.info:
        layer = image.convert("RGBA")
        image = Image.new("RGBA", layer.size, "white")
        image.alpha_composite(layer)
        image = image.convert("RGB")
    if profile and image.mode in ("RGB", "CMYK"):
        try:
            own = ImageCms.ImageCmsProfile(io.BytesIO(profile))
            made = ImageCms.profileToProfile(image, own, ImageCms.createProfile("sRGB"), outputMode="RGB")
            image = made or image
        except (ImageCms.PyCMSError, OSError):
            pass  # a damaged profile: its colors are taken for sRGB
    if image.mode.startswith("I"):  # 16 bits of grey
        image = image.point(lambda value: value / 256).convert("L")
    return image.convert("RGB")
