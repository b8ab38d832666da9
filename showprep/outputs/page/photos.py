"""Photos of the journal, made small enough to stand in the page itself."""

from __future__ import annotations

import base64
import importlib.util
import io
from collections.abc import Mapping, Sequence

from msgspec import Struct

from showprep.planning.plan import Plan

LONGEST_SIDE = 360  # pixels
A_FISH = 6  # photos at most, the latest ones
MOST_UNPACKED = 50_000_000  # pixels in memory; a JPEG of any camera is unpacked smaller than it is
ALL_TOGETHER = 1_200_000  # bytes of base64 at most
ADVICE = (
    "Showprep was installed without the part that reads photos; to have them on the page, run: "
    "pip install 'showprep[photos]'"
)


class Photo(Struct, frozen=True):
    """A photo as a `data:` address, with its name and size in pixels."""

    name: str
    address: str
    width: int
    height: int


class Album(Struct, frozen=True):
    """Photos by fish, in the journal's order, what could not be shown, and what would help."""

    by_fish: Mapping[str, tuple[Photo, ...]]
    missing: tuple[str, ...]
    advice: str = ""


def photo_advice(plan: Plan) -> str:
    """What to do when the plan has photos and nothing here can read one; empty when all is well."""
    asked_for = any(fish.photos for fish in plan.fish)
    return ADVICE if asked_for and not can_read() else ""


def can_read() -> bool:
    """Is the library there that reads photos (the extra `photos`)?"""
    return importlib.util.find_spec("PIL") is not None


def album_of(plan: Plan, files: Mapping[str, bytes]) -> Album:
    """Shrink the photos of each fish.

    Only the picture is kept, never what a camera writes beside it (such as where it was taken).
    A photo that cannot be read, or for which there is no room, is named in `missing`; without
    Pillow (the extra `photos`) that is all of them.
    """
    by_fish: dict[str, tuple[Photo, ...]] = {}
    missing: list[str] = []
    advice = photo_advice(plan)
    room = ALL_TOGETHER
    for fish in plan.fish:
        made: list[Photo] = []
        for name in fish.photos[-A_FISH:]:
            photo = _small(name, files[name]) if name in files and not advice else None
            if photo is None or len(photo.address) > room:
                missing.append(name)
                continue
            room -= len(photo.address)
            made.append(photo)
        by_fish[fish.id] = tuple(made)
    return Album(by_fish, tuple(missing), advice)


def _small(name: str, data: bytes) -> Photo | None:
    found = bare_picture(data, LONGEST_SIDE, 72)
    if found is None:
        return None
    picture, size = found
    text = base64.b64encode(picture).decode("ascii")
    return Photo(name, f"data:image/jpeg;base64,{text}", *size)


def bare_picture(
    data: bytes,
    longest_side: int,
    quality: int,
    formats: Sequence[str] = ("JPEG", "PNG", "WEBP"),
    most_pixels: int | None = None,
) -> tuple[bytes, tuple[int, int]] | None:
    """A photo as a JPEG of the picture alone, upright, no side longer than so many pixels; and its
    size. None when it cannot be read, has more than `most_pixels`, or would fill the memory.

    Pillow itself refuses what has more than 178 million pixels.
    """
    from PIL import Image, ImageOps

    try:
        with Image.open(io.BytesIO(data), formats=tuple(formats)) as image:
            if most_pixels is not None and image.width * image.height > most_pixels:
                return None
            image.draft("RGB", (longest_side * 2, longest_side * 2))
            if image.width * image.height > MOST_UNPACKED:
                return None
            upright = ImageOps.exif_transpose(image).convert("RGB")
    except Exception:  # a damaged file can fail anywhere inside the decoder
        return None
    upright.thumbnail((longest_side, longest_side))
    clean = Image.new("RGB", upright.size)
    clean.paste(upright)
    out = io.BytesIO()
    clean.save(out, "JPEG", quality=quality, optimize=True)
    return out.getvalue(), clean.size
