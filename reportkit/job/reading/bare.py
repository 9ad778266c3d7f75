"""Whether a JPEG or PNG file holds a picture and nothing else: no byte of it is there for another reason.

What is checked is what could carry something along unseen: segments and chunks that no picture needs, tables
that no part of the picture uses, data behind the last pixel, inside the compressed data too. Only the
plainest form of each format passes, as Pillow writes it: one baseline scan without restarts (ITU-T T.81), or
one stream of rows that are not interlaced (ISO/IEC 15948).

Not covered: what the pixels themselves show, or hide in their last bits.
"""

from __future__ import annotations

import struct
import zlib
from dataclasses import dataclass, field
from itertools import product

#: Markers of T.81, table B.1: start of a baseline frame, Huffman tables, a scan, quantisation tables, JFIF.
_FRAME, _HUFFMAN, _SCAN, _QUANTISATION, _JFIF = 0xC0, 0xC4, 0xDA, 0xDB, 0xE0
#: Samples of a pixel by PNG's color type.
_SAMPLES = {0: 1, 2: 3, 3: 1, 4: 2, 6: 4}


def is_bare(data: bytes, kind: str) -> bool:
    """Return whether a ``JPEG`` or ``PNG`` file holds a picture and nothing else."""
    try:
        return _bare_jpeg(data) if kind == "JPEG" else _bare_png(data)
    except (IndexError, KeyError, struct.error, zlib.error):  # it ends too soon, or is no such file
        return False


def _bare_png(data: bytes) -> bool:
    names: list[bytes] = []
    at, packed, colors = 8, b"", 0
    while at < len(data):
        size, name = struct.unpack_from(">I4s", data, at)
        content = data[at + 8 : at + 8 + size]
        (check,) = struct.unpack_from(">I", data, at + 8 + size)
        if zlib.crc32(name + content) != check or len(content) != size:
            return False
        names += [name] if name != b"IDAT" or names[-1] != b"IDAT" else []
        packed += content if name == b"IDAT" else b""
        colors = size if name == b"PLTE" else colors
        at += 12 + size
        if name == b"IEND" and size:
            return False
    width, height, depth, color, *ways = struct.unpack_from(">IIBBBBB", data, 16)
    palette = [b"PLTE"] if color == 3 else []
    if names != [b"IHDR", *palette, b"IDAT", b"IEND"] or any(ways) or colors > 3 << depth:
        return False
    rows = height * (1 + (width * depth * _SAMPLES[color] + 7) // 8)
    stream = zlib.decompressobj()
    drawn = stream.decompress(packed, rows + 1)
    return len(drawn) == rows and stream.eof and not stream.unused_data


@dataclass
class _Part:
    """A component of a JPEG's frame: blocks across and down of a unit, and the tables of its codes."""

    across: int
    down: int
    quantised: int
    tables: tuple[int, int] = (0, 0)


@dataclass
class _Frame:
    """What the segments before a JPEG's scan tell: each table once, by its number."""

    width: int = 0
    height: int = 0
    parts: dict[int, _Part] = field(default_factory=dict)
    quantised: list[int] = field(default_factory=list)
    codes: dict[tuple[int, int], list[int]] = field(default_factory=dict)


def _bare_jpeg(data: bytes) -> bool:
    frame, at = _Frame(), 2
    while True:
        start, marker, size = struct.unpack_from(">BBH", data, at)
        content = data[at + 4 : at + 2 + size]
        if start != 0xFF or not _segment(frame, marker, content):
            return False
        at += 2 + size
        if marker == _SCAN:
            break
    codes = {(sort, part.tables[sort]) for part in frame.parts.values() for sort in (0, 1)}
    used = {part.quantised for part in frame.parts.values()}
    if frame.codes.keys() != codes or sorted(frame.quantised) != sorted(used):
        return False
    scan = data[at:-2]
    # inside a scan FF is followed by 00 (T.81, F.1.2.3)
    whole = data[-2:] == b"\xff\xd9" and scan.count(b"\xff") == scan.count(b"\xff\x00")
    return whole and _ends_with_the_picture(frame, scan.replace(b"\xff\x00", b"\xff"))


def _segment(frame: _Frame, marker: int, content: bytes) -> bool:
    """Take a segment's content into a frame; return whether it is one that a bare picture has."""
    if marker == _JFIF:
        return len(content) == 14 and content.startswith(b"JFIF\0")
    if marker == _QUANTISATION:
        frame.quantised += content[::65]  # a table of bytes has the number 0 to 3 before its 64 values
        return len(content) % 65 == 0 and all(number < 4 for number in content[::65])
    if marker == _HUFFMAN:
        while content:
            count = sum(content[1:17])
            key = (content[0] >> 4, content[0] & 15)
            if key in frame.codes:
                return False
            frame.codes[key] = _lookup(content[1:17], content[17 : 17 + count])
            content = content[17 + count :]
        return True
    if marker == _FRAME and not frame.parts:
        _, frame.height, frame.width, count = struct.unpack_from(">BHHB", content)
        for part in range(6, 6 + 3 * count, 3):
            name, sampling, table = content[part : part + 3]
            frame.parts[name] = _Part(sampling >> 4, sampling & 15, table)
        return len(content) == 6 + 3 * int(count)
    if marker == _SCAN and content[0] == len(frame.parts):
        for part in range(1, 1 + 2 * content[0], 2):
            frame.parts[content[part]].tables = (content[part + 1] >> 4, content[part + 1] & 15)
        return content[1 + 2 * content[0] :] == b"\x00\x3f\x00"
    return False


def _lookup(counts: bytes, symbols: bytes) -> list[int]:
    """Return by the next 16 bits the code's length and symbol, as 256 length + symbol; 0 for no code.

    T.81, annex C: codes of one length follow each other, and a longer one starts at twice the next.
    """
    table: list[int] = []
    left = iter(symbols)
    for length, count in enumerate(counts, start=1):
        for _ in range(count):
            table += [256 * length + next(left, 0)] * (1 << (16 - length))
    return (table + [0] * 65536)[:65536]


def _ends_with_the_picture(frame: _Frame, scan: bytes) -> bool:
    """Return whether a scan's codes make the picture and end with it, but for less than a byte of ones.

    T.81, F.2.2: a block is a difference and up to 63 further values, each a code and as many bits as it says.
    """
    parts = list(frame.parts.values())
    if len(parts) == 1:  # its sampling does not count (T.81, A.2.2)
        parts[0].across = parts[0].down = 1
    wide, high = (8 * max(size) for size in ([p.across for p in parts], [p.down for p in parts]))
    unit = [
        tuple(frame.codes[sort, part.tables[sort]] for sort in (0, 1))
        for part in parts
        for _ in product(range(part.across), range(part.down))
    ]
    bits, end = scan + b"\0\0\0", 8 * len(scan)
    at = 0
    for _ in range(-(-frame.width // wide) * -(-frame.height // high)):
        for first, further in unit:
            table, left = first, 64
            while left > 0:
                byte = at >> 3
                window = bits[byte] << 16 | bits[byte + 1] << 8 | bits[byte + 2]
                code = table[window >> (8 - (at & 7)) & 0xFFFF]
                if not code:
                    return False
                skipped, size = (code & 255) >> 4, code & 15
                at += (code >> 8) + size
                if table is further and not size and skipped < 15:
                    break  # the rest of the block is 0
                left -= 1 + (skipped if table is further else 0)
                table = further
    spare = end - at
    if not 0 <= spare < 8:
        return False
    ones = (1 << spare) - 1
    return not ones or scan[-1] & ones == ones
