"""The pixels of a photo as a new file; and, run as a program of its own, those of HEIC files.

The program reads files from its input and answers each, so that what a decoder in C makes of a stranger's
file cannot harm whoever asked. It gives itself limits first: `MEMORY` in all, `SECONDS` of the processor for
each file, nothing written (POSIX, setrlimit). Where a system knows no limits (Windows) it has none; it is a
process of its own all the same. It needs nothing of this package: it starts in a fifth of a second.
"""

from __future__ import annotations

import io
import json
import os
import struct
import sys
import warnings
from typing import TYPE_CHECKING, BinaryIO

try:
    import resource
except ImportError:  # Windows has no such limits
    resource = None  # type: ignore[assignment]

if TYPE_CHECKING:
    from PIL.Image import Image

#: Longer side of a kept photo [pixels]: sharp at 75 mm wide in print, at 270 to the inch.
LONGEST = 800
#: No photo has more pixels.
MOST_PIXELS = 80_000_000
#: A picture without loss larger than this is brought to 256 colors [bytes].
LARGEST_PNG = 300_000
_QUALITY = 80

#: What decoding may take: of memory [bytes] some ten bytes for each of `MOST_PIXELS` and the program itself.
MEMORY = 2_000_000_000
SECONDS = 20

#: What a file of a stranger may raise in a decoder.
BROKEN = (ValueError, EOFError, SyntaxError, RuntimeError, OSError, MemoryError, struct.error)

#: Before each file and each answer: whether it is a picture, and how many bytes follow.
HEAD = struct.Struct(">?Q")


class Unfit(ValueError):
    """A picture that is not taken: the rule that it breaks, as a template, and the values that fill it."""

    def __init__(self, rule: str, **values: int | str) -> None:
        """Keep the rule and its values apart, so that it can be said in another language."""
        super().__init__(rule.format(**values))
        self.rule, self.values = rule, values


def english(text: str) -> str:
    """Return a template as it is, marked for the catalogues of `documents/language/catalogue.py`."""
    return text


#: What a picture may break: the only words of the program that are passed on.
MANY = english("must have at most {millions} million pixels")
NONE = english("must be a HEIC, JPEG or PNG picture")
UNREAD = english("must be a picture that can be read ({error})")
TORN = english("must be a picture that is whole ({error})")
RULES = frozenset({MANY, NONE, UNREAD, TORN})


def check_size(width: int, height: int) -> None:
    """Raise `Unfit` if a picture has too many pixels."""
    if width * height > MOST_PIXELS:
        raise Unfit(MANY, millions=MOST_PIXELS // 1_000_000)


def from_heic(data: bytes) -> bytes:
    """Return the main picture of a HEIC file as a JPEG.

    Raises
    ------
    Unfit
        If it is none, or larger than allowed.
    """
    import pi_heif

    if not pi_heif.is_supported(data):
        raise Unfit(NONE)
    try:
        held = pi_heif.open_heif(data)
        size = held.size
    except BROKEN as error:
        raise Unfit(UNREAD, error=_short(error)) from error
    check_size(*size)
    try:
        return rewritten(held.to_pillow(), "JPEG")
    except BROKEN as error:
        raise Unfit(TORN, error=_short(error)) from error


def _short(error: BaseException) -> str:
    return " ".join(str(error).split())[:60]


def rewritten(image: Image, kind: str) -> bytes:
    """Return a picture as a new file, ``JPEG`` or ``PNG``: upright, in sRGB, small, nothing else in it."""
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
        if out.tell() > LARGEST_PNG:
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


def _limited() -> None:
    """Give this process its limits, as far as the system has such."""
    if resource is None:
        return
    for name, most in {"RLIMIT_AS": MEMORY, "RLIMIT_FSIZE": 0, "RLIMIT_CORE": 0}.items():
        which = getattr(resource, name, None)
        if which is not None:
            _, hard = resource.getrlimit(which)
            least = most if hard == resource.RLIM_INFINITY else min(most, hard)
            resource.setrlimit(which, (least, hard))


def _timed() -> None:
    """Let this process use so much more of the processor and no more."""
    if resource is None:
        return
    used = resource.getrusage(resource.RUSAGE_SELF)
    _, hard = resource.getrlimit(resource.RLIMIT_CPU)
    resource.setrlimit(resource.RLIMIT_CPU, (int(used.ru_utime + used.ru_stime) + SECONDS, hard))


def main(asked: BinaryIO, answers: BinaryIO) -> None:
    """Answer each file with its picture, or with why there is none."""
    import pi_heif  # before the limits: libraries are mapped into memory
    from PIL import Image, ImageCms, ImageOps, JpegImagePlugin  # noqa: F401

    pi_heif.options.DECODE_THREADS = 1  # each thread would want memory of its own
    _limited()
    while len(head := asked.read(HEAD.size)) == HEAD.size:
        data = asked.read(HEAD.unpack(head)[1])
        _timed()
        try:
            good, answer = True, from_heic(data)
        except Unfit as unfit:
            good, answer = False, json.dumps([unfit.rule, unfit.values]).encode()
        answers.write(HEAD.pack(good, len(answer)) + answer)
        answers.flush()


if __name__ == "__main__":
    pipe = os.fdopen(os.dup(sys.stdout.fileno()), "wb")
    os.dup2(sys.stderr.fileno(), sys.stdout.fileno())  # what a library prints is no answer
    main(sys.stdin.buffer, pipe)
