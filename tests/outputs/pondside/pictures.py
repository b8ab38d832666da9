"""Photos made for tests: what a camera writes, and what a hostile client sends in their place."""

from __future__ import annotations

import io
import struct
import zlib
from functools import cache
from typing import Any

MARKERS = (b"Exif", b"GPS", b"Invented Maker", b"a secret place", b"ICC_PROFILE", b"http://ns")


@cache  # the profile says at which second it was made
def photo(
    width: int = 60, height: int = 40, orientation: int = 1, colour: str = "white", **more: Any
) -> bytes:
    """A JPEG with a red left half, and all that a camera writes beside a picture."""
    from PIL import Image, ImageCms

    image = Image.new("RGB", (width, height), colour)
    image.paste((200, 0, 0), (0, 0, width // 2, height))
    exif = Image.Exif()
    exif[0x0112] = orientation
    exif[0x010F] = "Invented Maker"
    exif.get_ifd(0x8825)[1] = "N"
    exif.get_ifd(0x8825)[2] = (53.0, 20.0, 10.0)
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    out = io.BytesIO()
    written = {"quality": 90, "exif": exif, "comment": b"a secret place", "icc_profile": profile}
    image.save(out, "JPEG", **{**written, **more})
    xmp = b"http://ns.adobe.com/xap/1.0/\0<x/>"
    data = out.getvalue()
    return data[:2] + b"\xff\xe1" + struct.pack(">H", len(xmp) + 2) + xmp + data[2:]


def huge_header() -> bytes:
    """A small file that says it is 65,500 pixels on a side."""
    data = photo()
    at = data.index(b"\xff\xc0")
    return data[: at + 5] + struct.pack(">HH", 65_500, 65_500) + data[at + 9 :]


def many_scans() -> bytes:
    """One pass over the picture, told two thousand times."""
    data = photo(progressive=True)
    begin = data.rindex(b"\xff\xda")
    return data[:begin] + data[begin:-2] * 2_000 + data[-2:]


def png_bomb(side: int = 20_000) -> bytes:
    """A small PNG that unpacks to 400 million pixels."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        end = struct.pack(">I", zlib.crc32(kind + data))
        return struct.pack(">I", len(data)) + kind + data + end

    head = chunk(b"IHDR", struct.pack(">IIBBBBB", side, side, 1, 0, 0, 0, 0))
    squeezed = zlib.compressobj(9)
    row = b"\0" * (1 + side // 8)
    rows = b"".join(squeezed.compress(row * 100) for _ in range(side // 100)) + squeezed.flush()
    return b"\x89PNG\r\n\x1a\n" + head + chunk(b"IDAT", rows) + chunk(b"IEND", b"")
