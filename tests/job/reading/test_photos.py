"""Photos of panes: upright, small, and without the place, the time and the device."""

import io
import runpy
import struct
import sys
import zlib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageCms
from PIL.ExifTags import IFD

from reportkit.base.errors import Fault, JobError
from reportkit.job import LoadedJob, load_job, write_starter
from reportkit.job.reading.bare import is_bare
from reportkit.job.reading.photos import LONGEST, stripped
from reportkit.job.writing.copies import contents

window = runpy.run_path(str(Path(__file__).with_name("draw_window.py")))["window"]
DEMO = Path(__file__).parents[3] / "jobs" / "harbour-house" / "photos" / "L1.jpg"
#: The drawing of 1600 x 1200 as a HEIC file, with what `telling` writes into one and a profile of sRGB; it
#: was made with pillow-heif 1.8.1 from Exif orientation 6, which that puts into the file as a turning.
HEIC = Path(__file__).with_name("window.heic")
#: Texts that a telephone might write into a photo; none may be found in anything a job hands on.
DEVICE, PLACE_NOTE, THUMBNAIL = b"Invented Camera 9", b"Invented Place Remark", b"THUMBNAIL-BYTES"


def telling(
    size: tuple[int, int] = (1600, 1200), orientation: int = 1, kind: str = "JPEG", profile: bytes = b""
) -> bytes:
    """Return a photo that tells where, when and with what it was taken."""
    exif = Image.Exif()
    exif[0x0110] = DEVICE.decode()
    exif[0x0112] = orientation
    exif[0x0132] = "2026:02:20 10:11:12"
    exif.get_ifd(IFD.GPSInfo).update({1: "S", 2: (36.0, 49.0, 48.0), 3: "E", 4: (174.0, 36.0, 36.0)})
    exif[0x9286] = PLACE_NOTE + THUMBNAIL
    out = io.BytesIO()
    more = {"icc_profile": profile} if profile else {}
    window(*size).save(out, kind, exif=exif, **more)
    return out.getvalue()


def job_with(folder: Path, data: bytes, name: str = "photos/W1.jpg", typed: str | None = None) -> Path:
    """Return a job whose first pane names a photo."""
    write_starter(folder, units="metric")
    place = folder / name
    place.parent.mkdir(exist_ok=True, parents=True)
    place.write_bytes(data)
    survey = folder / "windows.csv"
    rows = survey.read_text(encoding="utf-8").split("\n")
    at = rows[2].split(",").index("photo")
    cells = rows[3].split(",")
    cells[at] = typed or name
    rows[3] = ",".join(cells)
    survey.write_text("\n".join(rows), encoding="utf-8")
    return folder


def fault_of(folder: Path) -> Fault:
    """Return the single fault of a job."""
    with pytest.raises(JobError) as caught:
        load_job(folder)
    (fault,) = caught.value.faults
    return fault


def opened(data: bytes) -> Image.Image:
    """Return a picture, decoded."""
    image = Image.open(io.BytesIO(data))
    image.load()
    return image


@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_nothing_hidden_is_left(kind: str) -> None:
    """The device, the place, the time, remarks and the color profile are gone, by a general library too."""
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    before = telling(kind=kind, profile=profile)
    assert DEVICE in before and PLACE_NOTE in before  # the sample does tell
    assert opened(before).getexif().get_ifd(IFD.GPSInfo)
    after = stripped(before, kind)
    image = opened(after)
    assert dict(image.getexif()) == {}
    assert not image.getexif().get_ifd(IFD.GPSInfo)
    assert set(image.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}
    assert all(secret not in after for secret in (DEVICE, PLACE_NOTE, THUMBNAIL, b"Exif", b"2026:02"))
    assert is_bare(after, kind) and not is_bare(before, kind)


def test_size_is_brought_down_and_the_shape_kept() -> None:
    """A large photo gets the longest side allowed; a small one keeps its size."""
    assert opened(stripped(telling((2400, 1200)), "JPEG")).size == (LONGEST, LONGEST // 2)
    assert opened(stripped(telling((300, 200)), "JPEG")).size == (300, 200)
    assert len(stripped(telling((2400, 1800)), "JPEG")) < 120_000


#: Where the row 0, column 0 of the stored picture is seen (Exif 2.32, tag 0112, from memory of CIPA DC-008).
CORNERS = {1: (0, 0), 2: (1, 0), 3: (1, 1), 4: (0, 1), 5: (0, 0), 6: (1, 0), 7: (1, 1), 8: (0, 1)}


@pytest.mark.parametrize("orientation", CORNERS)
@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_orientation_is_applied(orientation: int, kind: str) -> None:
    """For each of the eight values the stored first pixel is seen where the standard says."""
    stored = Image.new("RGB", (64, 32), "white")
    stored.paste((0, 0, 0), (0, 0, 16, 8))
    exif = Image.Exif()
    exif[0x0112] = orientation
    out = io.BytesIO()
    stored.save(out, kind, exif=exif)
    seen = opened(stripped(out.getvalue(), kind)).convert("L")
    assert seen.size == ((64, 32) if orientation < 5 else (32, 64))
    corners = {
        (x, y): seen.getpixel((x * (seen.width - 1), y * (seen.height - 1))) for x in (0, 1) for y in (0, 1)
    }
    assert min(corners, key=lambda corner: corners[corner]) == CORNERS[orientation]
    assert sorted(corners.values())[1] > 200


@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_stripping_twice_changes_nothing(kind: str) -> None:
    """What was stripped is kept byte for byte, so that an archived job hands on the same photo."""
    once = stripped(telling(kind=kind, orientation=6), kind)
    assert stripped(once, kind) is once


def test_a_telephone_s_heic_becomes_a_bare_jpeg() -> None:
    """The picture is that which was drawn, turned upright and made small; nothing else is left."""
    before = HEIC.read_bytes()
    assert DEVICE in before and PLACE_NOTE in before and b"irot" in before
    after = stripped(before, "HEIF")
    assert is_bare(after, "JPEG")
    assert all(secret not in after for secret in (DEVICE, PLACE_NOTE, b"Exif", b"2026:02"))
    assert stripped(after, "HEIF") is after
    seen = opened(after).convert("L")
    assert seen.size == (LONGEST * 3 // 4, LONGEST)
    drawn = window(1600, 1200).convert("L").transpose(Image.Transpose.ROTATE_270)
    pairs = zip(drawn.resize((24, 32)).tobytes(), seen.resize((24, 32)).tobytes(), strict=True)
    assert max(abs(a - b) for a, b in pairs) < 12


@settings(max_examples=40, deadline=None)
@given(st.data())
def test_no_damage_to_a_heic_is_a_crash(data: st.DataObject) -> None:
    """A HEIC file with bytes changed or cut off is a picture still, bare, or refused in words."""
    spoilt = bytearray(HEIC.read_bytes())
    for _ in range(data.draw(st.integers(1, 6))):
        spoilt[data.draw(st.integers(0, len(spoilt) - 1))] = data.draw(st.integers(0, 255))
    cut = bytes(spoilt[: data.draw(st.integers(1, len(spoilt)))])
    try:
        after = stripped(cut, "HEIF")
    except ValueError as error:
        assert str(error).startswith("must ")
    else:
        assert is_bare(after, "JPEG")


def test_a_job_with_a_heic_hands_on_a_jpeg_under_its_name(tmp_path: Path) -> None:
    """The copy of a job reads as the job, although its photo is another kind of file by then."""
    loaded = load_job(job_with(tmp_path / "job", HEIC.read_bytes(), "photos/W1.HEIC"))
    assert loaded.photos["W1"].media_type == "image/jpeg"
    files = contents(loaded)
    copy = tmp_path / "copy"
    for name, content in files.items():
        (copy / name).parent.mkdir(parents=True, exist_ok=True)
        (copy / name).write_bytes(content)
    assert contents(load_job(copy)) == files


@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_bytes_behind_the_end_are_dropped(kind: str) -> None:
    """A second picture or a film behind the first, as telephones append it, does not travel along."""
    bare = stripped(telling((300, 200), kind=kind), kind)
    after = stripped(bare + b"\xff\xd8hidden", kind)
    assert b"hidden" not in after and is_bare(after, kind)


SECRET = b"where it was taken: 36.8300 S"


def _chunks(png: bytes) -> list[tuple[bytes, bytes]]:
    """Return the chunks of a PNG, name and content (ISO/IEC 15948, 5.3)."""
    at, found = 8, []
    while at < len(png):
        size = int.from_bytes(png[at : at + 4], "big")
        found.append((png[at + 4 : at + 8], png[at + 8 : at + 8 + size]))
        at += 12 + size
    return found


def _hidden_in_png(png: bytes, where: str) -> bytes:
    """Return a PNG of the same pixels with something hidden in it."""
    chunks = _chunks(png)
    names = [name for name, _ in chunks]
    first, last = names.index(b"IDAT"), len(names) - 1
    if where == "behind the stream":
        chunks[last - 1] = (b"IDAT", chunks[last - 1][1] + SECRET)
    elif where == "the end":
        chunks[last] = (b"IEND", SECRET)
    else:
        place, name = {
            "text": (1, b"tEXt"),
            "palette of true color": (1, b"PLTE"),
            "more data": (last, b"IDAT"),
            "data apart": (first + 1, b"prIv"),
        }[where]
        content = SECRET + b"\0" * (-len(SECRET) % 3) if name == b"PLTE" else SECRET
        chunks.insert(place, (name, content))
    return png[:8] + b"".join(_chunk(name, content) for name, content in chunks)


def _hidden_in_jpeg(jpeg: bytes, where: str) -> bytes:
    """Return a JPEG of the same pixels with something hidden in it (ITU-T T.81, annex B)."""
    held = (2 + len(SECRET)).to_bytes(2, "big") + SECRET
    scan = jpeg.index(b"\xff\xda")
    values = (SECRET * 3)[:64]
    at, more = {
        "comment": (2, b"\xff\xfe" + held),
        "application": (2, b"\xff\xe7" + held),
        "number of lines": (scan, b"\xff\xdc" + held),
        "behind the scan": (len(jpeg) - 2, b"\xff\xdc" + held),
        "in the scan": (len(jpeg) - 2, SECRET),
        "table nobody uses": (scan, b"\xff\xdb\x00\x43\x03" + values),
        "table told twice": (2, b"\xff\xdb\x00\x43\x00" + values),
        "codes nobody uses": (scan, b"\xff\xc4\x00\x33\x13" + bytes([0] * 7 + [32] + [0] * 8) + values[:32]),
    }[where]
    return jpeg[:at] + more + jpeg[at:]


@pytest.mark.parametrize(
    ("kind", "where"),
    [
        *(("PNG", where) for where in ("text", "palette of true color", "behind the stream", "more data",
                                       "data apart", "the end")),
        *(("JPEG", where) for where in ("comment", "application", "number of lines", "behind the scan",
                                        "in the scan", "table nobody uses", "table told twice",
                                        "codes nobody uses")),
    ],
)  # fmt: skip
def test_what_hides_in_the_rare_places_of_a_format_does_not_travel_along(kind: str, where: str) -> None:
    """A small picture that is bare but for one hiding place is written anew, and looks the same."""
    bare = stripped(telling((300, 200), kind=kind), kind)
    assert is_bare(bare, kind) and stripped(bare, kind) is bare
    hidden = (_hidden_in_png if kind == "PNG" else _hidden_in_jpeg)(bare, where)
    assert SECRET in hidden and not is_bare(hidden, kind)
    after = stripped(hidden, kind)
    assert SECRET not in after and is_bare(after, kind)
    pairs = zip(opened(bare).convert("L").tobytes(), opened(after).convert("L").tobytes(), strict=True)
    assert max(abs(a - b) for a, b in pairs) < 24


@pytest.mark.parametrize("mode", ["L", "RGB"])
@pytest.mark.parametrize("size", [(8, 8), (17, 33), (640, 480), (1, 1)])
@pytest.mark.parametrize("subsampling", [0, 1, 2])
def test_every_plain_jpeg_is_bare(mode: str, size: tuple[int, int], subsampling: int) -> None:
    """Of noise, with its longest codes, and of one color; whatever its blocks' sampling (ITU-T T.81, A.2)."""
    noise = Image.effect_noise(size, 80).convert(mode)
    for image in (noise, Image.new(mode, size, "white")):
        for quality, optimize in ((95, True), (40, False)):
            out = io.BytesIO()
            more = {"subsampling": subsampling} if mode == "RGB" else {}
            image.save(out, "JPEG", quality=quality, optimize=optimize, **more)
            assert is_bare(out.getvalue(), "JPEG")
            assert not is_bare(out.getvalue()[:-3] + b"\xff\xd9", "JPEG")


@settings(max_examples=60, deadline=None)
@given(st.data(), st.sampled_from(["JPEG", "PNG"]))
def test_no_damage_is_a_crash(data: st.DataObject, kind: str) -> None:
    """A picture with bytes changed or cut off is a picture still, bare, or refused in words."""
    spoilt = bytearray(telling((60, 40), kind=kind))
    for _ in range(data.draw(st.integers(1, 6))):
        spoilt[data.draw(st.integers(0, len(spoilt) - 1))] = data.draw(st.integers(0, 255))
    cut = bytes(spoilt[: data.draw(st.integers(1, len(spoilt)))])
    try:
        after = stripped(cut, kind)
    except ValueError as error:
        assert str(error).startswith("must ")
    else:
        assert is_bare(after, kind)


def test_colors_follow_the_profile_and_glass_is_laid_on_white() -> None:
    """A clear PNG lies on white; shades of grey, palettes and printers' inks become plain color."""
    clear = Image.new("RGBA", (20, 20), (255, 0, 0, 0))
    out = io.BytesIO()
    clear.save(out, "PNG")
    flat = opened(stripped(out.getvalue(), "PNG"))  # what lay under the clear part is gone, too
    assert (flat.mode, flat.getpixel((5, 5))) == ("RGB", (255, 255, 255))
    for mode in ("L", "P", "1", "I;16"):
        out = io.BytesIO()
        Image.new(mode, (20, 20)).save(out, "PNG", comment="x")
        grey = out.getvalue()
        assert opened(stripped(grey[:33] + _chunk(b"tEXt", b"k\0v") + grey[33:], "PNG")).mode in ("RGB", "P")
    out = io.BytesIO()
    Image.new("CMYK", (20, 20), (0, 255, 255, 0)).save(out, "JPEG")
    red = opened(stripped(out.getvalue() + b"x", "JPEG")).getpixel((5, 5))
    assert red[0] > 200 > 60 > red[1]


def _chunk(name: bytes, content: bytes) -> bytes:
    """Return a PNG chunk with its sum (ISO/IEC 15948, 5.3)."""
    return struct.pack(">I", len(content)) + name + content + struct.pack(">I", zlib.crc32(name + content))


def test_a_job_hands_on_the_stripped_photo_only(tmp_path: Path) -> None:
    """The photo's own file stays as it is; the job's copy holds the stripped one, and reads as the job."""
    before = telling(orientation=6)
    folder = job_with(tmp_path / "job", before)
    loaded = load_job(folder)
    photo = loaded.photos["W1"]
    assert (photo.width, photo.height) == (LONGEST * 3 // 4, LONGEST)
    files = contents(loaded)
    assert files["photos/W1.jpg"] == photo.content
    assert (folder / "photos" / "W1.jpg").read_bytes() == before
    assert all(secret not in content for content in files.values() for secret in (DEVICE, PLACE_NOTE))
    copy = tmp_path / "copy"
    for name, content in files.items():
        (copy / name).parent.mkdir(parents=True, exist_ok=True)
        (copy / name).write_bytes(content)
    again = load_job(copy)
    assert again.job == loaded.job
    assert contents(again) == files


@pytest.mark.parametrize("typed", ["photos\\W1.jpg", "./photos/W1.jpg", " photos/W1.jpg "])
def test_paths_as_people_write_them(tmp_path: Path, typed: str) -> None:
    """Either slash, a leading point and spaces name the same file."""
    loaded = load_job(job_with(tmp_path, telling(), typed=typed))
    assert list(loaded.photos) == ["W1"]


def test_a_photo_of_several_panes_is_read_once(tmp_path: Path) -> None:
    """Two panes may share a photo: it is one source, and each pane has it."""
    folder = job_with(tmp_path, telling())
    survey = folder / "windows.csv"
    text = survey.read_text(encoding="utf-8").replace(",,,,Tempered", ",photos/W1.jpg,,,Tempered")
    survey.write_text(text, encoding="utf-8")
    loaded = load_job(folder)
    assert loaded.photos["W1"] is loaded.photos["W2"]
    assert len(loaded.sources) == len(set(loaded.sources))


def _wrong_kind() -> bytes:
    out = io.BytesIO()
    window(20, 20).save(out, "PNG")
    return out.getvalue()


@pytest.mark.parametrize(
    ("data", "name", "typed", "rule"),
    [
        (telling(), "W1.jpg", "W2.jpg", "must be there"),
        (telling(), "W1.jpg", "../W1.jpg", "must be a path inside"),
        (telling(), "W1.jpg", "/W1.jpg", "must be a path inside"),
        (b"not a picture", "W1.jpg", None, "must be a JPEG or PNG picture"),
        (b"", "W1.jpg", None, "must be a JPEG or PNG picture"),
        (telling()[:4000], "W1.jpg", None, "must be a picture that is whole"),
        (_wrong_kind(), "W1.jpg", None, "must be what its name says"),
        (telling(), "W1.gif", None, "must be a file that ends in"),
        (b"not a picture", "W1.heic", None, "must be a HEIC, JPEG or PNG picture"),
        (_wrong_kind(), "W1.heic", None, "must be a HEIC, JPEG or PNG picture"),
        (HEIC.read_bytes()[:3000], "W1.heic", None, "must be a picture that"),
        (b"x" * 30_000_001, "W1.jpg", None, "must be at most 30 MB"),
    ],
)
def test_bad_photos_are_faults_of_their_row(
    tmp_path: Path, data: bytes, name: str, typed: str | None, rule: str
) -> None:
    """Whatever is wrong with a photo is said with the survey's line and column."""
    fault = fault_of(job_with(tmp_path, data, name, typed))
    assert (fault.file, fault.line, fault.field) == ("windows.csv", 4, "photo")
    assert rule in fault.rule


def test_a_picture_of_absurd_size_is_not_decoded(tmp_path: Path) -> None:
    """A small file that claims thousands of millions of pixels is refused by its header."""
    header = struct.pack(">IIBBBBB", 50_000, 50_000, 8, 2, 0, 0, 0)
    data = b"\x89PNG\r\n\x1a\n" + _chunk(b"IHDR", header) + _chunk(b"IDAT", b"") + _chunk(b"IEND", b"")
    assert "must" in fault_of(job_with(tmp_path, data, "W1.png")).rule


@pytest.mark.skipif(sys.platform == "win32", reason="links need a privilege on Windows")
def test_a_link_out_of_the_folder_is_refused(tmp_path: Path) -> None:
    """A photo that is a link to another place is not read."""
    folder = job_with(tmp_path / "job", telling())
    (tmp_path / "outside.jpg").write_bytes(telling())
    (folder / "photos" / "W1.jpg").unlink()
    (folder / "photos" / "W1.jpg").symlink_to(tmp_path / "outside.jpg")
    assert "a link leads outside" in fault_of(folder).rule


def test_the_demo_photo_is_the_drawing() -> None:
    """The photo in the demo job is the invented drawing, a few kilobytes, and holds nothing else."""
    data = DEMO.read_bytes()
    assert len(data) < 20_000
    assert stripped(data, "JPEG") is data
    drawn, kept = window().convert("L"), opened(data).convert("L")
    assert drawn.size == kept.size
    pairs = zip(drawn.resize((32, 24)).tobytes(), kept.resize((32, 24)).tobytes(), strict=True)
    assert max(abs(a - b) for a, b in pairs) < 12


def test_a_job_without_photos_has_none(tmp_path: Path) -> None:
    """The column is optional."""
    write_starter(tmp_path, units="us")
    loaded: LoadedJob = load_job(tmp_path)
    assert dict(loaded.photos) == {}
