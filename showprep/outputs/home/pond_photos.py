"""Photos taken beside the pond: kept in the season without what a camera writes beside them.

Who sends one is not trusted. It may be no photo, or one that unpacks to more than the memory holds
(a bomb): it is bounded before it is unpacked, read by Pillow as JPEG alone, and only the picture
made of it is written, under a name made here.
"""

from __future__ import annotations

import contextlib
import hashlib
import re
import stat
import threading
from datetime import date
from pathlib import Path

from showprep.outputs.failure import Failure
from showprep.outputs.page.photos import bare_picture, can_read
from showprep.outputs.words import pondside as words
from showprep.season.own_files import (
    flush_folder,
    mode_for,
    own_folder,
    read_own,
    stage,
    take_away_all_left_over,
)

FOLDER = "photos"  # of a season: where the examples of the docs have them
LARGEST_SENT = 3_000_000  # bytes; the page makes a photo small before it sends it
MOST_PIXELS = 8_000_000  # of what is sent; the page sends 1,600 on a side
MOST_SCANS = 100  # a JPEG drawn in thousands of passes takes minutes to unpack
LONGEST_SIDE = 1_600
QUALITIES = (85, 70, 50)
LARGEST_KEPT = 1_000_000
MOST_KEPT = 1_000  # photos of a season under names made here
SHOWN_SIDE, SHOWN_QUALITY = 480, 75
LARGEST_SHOWN = 30_000_000  # more is no photo to make small
_SCAN = b"\xff\xda"  # begins each pass; inside of one the bytes cannot stand side by side
_OWN_NAME = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}-[a-z0-9-]{1,100}-[0-9a-f]{16}\.jpg")
_STAGED = "taken.jpg"  # every photo is staged under this name, so that one sweep finds what is left


class PondPhotos:
    """The photos of one season, as the page takes and shows them."""

    def __init__(self, season: Path) -> None:
        self.season = season
        self._one_at_a_time = threading.Lock()  # a photo that is unpacked fills memory

    @property
    def readable(self) -> bool:
        """Is the library there that reads photos?"""
        return can_read()

    def picture(self, sent: bytes) -> bytes:
        """What is kept of a photo. Raises Failure (status 2) in words for the phone."""
        if not self.readable:
            raise Failure(words.PHOTOS_MISSING, 2)
        if len(sent) <= LARGEST_SENT and sent.count(_SCAN) <= MOST_SCANS:
            with self._one_at_a_time:
                for quality in QUALITIES:
                    found = bare_picture(sent, LONGEST_SIDE, quality, ("JPEG",), MOST_PIXELS)
                    if found is None:
                        break
                    if len(found[0]) <= LARGEST_KEPT:
                        return found[0]
        raise Failure(words.PHOTO_UNREADABLE, 2)

    def keep(self, sent: bytes, picture: bytes, fish: str, on: date) -> str:
        """Put `picture` into the season, whole; gives its place there.

        The name is of what was `sent`, so that a photo sent twice is one file. Raises Failure, with
        status 2 where it would be the same the next time.
        """
        name = f"{on.isoformat()}-{fish}-{hashlib.sha256(sent).hexdigest()[:16]}.jpg"
        if not _OWN_NAME.fullmatch(name):
            raise Failure(words.PHOTO_UNREADABLE, 2)
        try:
            folder = own_folder(self.season, FOLDER)
            path = folder / name
            if not path.is_file() and self._kept(folder) >= MOST_KEPT:
                raise Failure(words.PHOTOS_FULL.format(most=MOST_KEPT, folder=FOLDER), 2)
            stage(folder / _STAGED, picture, mode_for(path)).replace(path)
            flush_folder(folder)
        except NotADirectoryError:
            raise Failure(words.PHOTOS_NO_FOLDER.format(folder=FOLDER), 2) from None
        except OSError as error:
            told = words.PHOTO_NOT_WRITTEN.format(why=error.strerror or error)
            raise Failure(told) from error
        return f"{FOLDER}/{name}"

    def take_away(self, place: str) -> None:
        """A photo whose look was not noted; one that the journal names stays."""
        with contextlib.suppress(OSError):
            journal = self.season / "journal.yaml"
            named = journal.read_bytes() if journal.is_file() else b""
            if place.encode() not in named:
                (own_folder(self.season, FOLDER) / place.rpartition("/")[2]).unlink()

    def sweep(self) -> None:
        """Remove what a killed run left half written. Only for who holds the lock of the page."""
        with contextlib.suppress(OSError):
            if (self.season / FOLDER).exists():
                take_away_all_left_over(own_folder(self.season, FOLDER) / _STAGED)

    def shown(self, place: str) -> bytes | None:
        """A photo that the journal names, small; None where it is none inside the season.

        What is handed out is always a picture made here, never the bytes of a file.
        """
        path = self.season / place
        try:
            inside = path.resolve().is_relative_to(self.season.resolve())
            found = path.lstat()
            fit = inside and stat.S_ISREG(found.st_mode) and found.st_size <= LARGEST_SHOWN
            data = read_own(path) if fit and self.readable else None
        except (OSError, ValueError):
            return None
        if data is None:
            return None
        with self._one_at_a_time:
            made = bare_picture(data, SHOWN_SIDE, SHOWN_QUALITY)
        return made[0] if made is not None else None

    def _kept(self, folder: Path) -> int:
        return sum(1 for one in folder.iterdir() if _OWN_NAME.fullmatch(one.name))
