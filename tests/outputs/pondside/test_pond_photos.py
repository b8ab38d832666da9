"""Photos taken beside the pond: what is kept of them, where, and what is handed out again."""

from __future__ import annotations

import errno
import io
import os
from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from showprep.outputs.failure import Failure
from showprep.outputs.home import pond_photos
from showprep.outputs.home.pond_photos import PondPhotos
from tests.outputs.pondside.pictures import MARKERS, huge_header, many_scans, photo, png_bomb

Folder = Callable[[Mapping[str, str | bytes]], Path]
ON = date(2027, 5, 10)


@pytest.fixture
def photos(tmp_path: Path, outside: Any) -> PondPhotos:
    outside.module("PIL")
    season = tmp_path / "season"
    season.mkdir()
    return PondPhotos(season)


def kept(photos: PondPhotos, sent: bytes) -> str:
    return photos.keep(sent, photos.picture(sent), "aoi", ON)


def files(root: Path) -> set[str]:
    return {str(path.relative_to(root)) for path in root.rglob("*") if not path.is_dir()}


def opened(data: bytes) -> Any:
    from PIL import Image

    return Image.open(io.BytesIO(data))


def test_nothing_is_kept_of_a_photo_but_the_picture(photos: PondPhotos) -> None:
    sent = photo()
    assert all(marker in sent or marker == b"GPS" for marker in MARKERS)
    found = (photos.season / kept(photos, sent)).read_bytes()
    image = opened(found)
    assert (image.format, image.size) == ("JPEG", (60, 40))
    assert set(image.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}
    assert not image.getexif()
    assert not any(marker in found for marker in MARKERS)


# How a camera was held, by EXIF 2.32, tag 0x0112, and where the picture's left half is then.
@pytest.mark.parametrize(
    ("orientation", "size", "red"),
    [
        (1, (60, 40), (5, 20)),
        (3, (60, 40), (55, 20)),
        (6, (40, 60), (20, 5)),
        (8, (40, 60), (20, 55)),
    ],
)
def test_a_photo_stands_upright(
    photos: PondPhotos, orientation: int, size: tuple[int, int], red: tuple[int, int]
) -> None:
    image = opened(photos.picture(photo(orientation=orientation)))
    assert image.size == size
    assert image.getpixel(red)[1] < 60


def test_a_large_photo_is_made_small(photos: PondPhotos) -> None:
    image = opened(photos.picture(photo(3_000, 2_000)))
    assert image.size == (1_600, 1_067)


@pytest.mark.parametrize(
    "sent",
    [
        b"",
        b"no photo at all",
        b"\xff\xd8\xff",
        b"<svg xmlns='http://www.w3.org/2000/svg'/>",
        b"GIF89a\x01\x00\x01\x00\x00\x00\x00;",
        b"\xff" * 5_000,
        photo()[:-700],
        huge_header(),
        many_scans(),
        png_bomb(),
        photo() + b"\0" * 3_000_000,
        photo(4_000, 2_001),
    ],
    ids=lambda sent: f"{len(sent)} bytes",
)
def test_what_is_no_photo_or_a_bomb_is_not_kept(photos: PondPhotos, sent: bytes) -> None:
    with pytest.raises(Failure, match="cannot be read") as caught:
        photos.picture(sent)
    assert caught.value.status == 2
    assert files(photos.season) == set()


def test_a_picture_that_does_not_squeeze_is_kept_coarser(
    photos: PondPhotos, monkeypatch: pytest.MonkeyPatch
) -> None:
    from PIL import Image

    noise = Image.frombytes("RGB", (400, 400), os.urandom(480_000))
    out = io.BytesIO()
    noise.save(out, "JPEG", quality=95)
    monkeypatch.setattr(pond_photos, "LARGEST_KEPT", 110_000)
    assert len(photos.picture(out.getvalue())) <= 110_000
    monkeypatch.setattr(pond_photos, "LARGEST_KEPT", 10_000)
    with pytest.raises(Failure, match="too large"):
        photos.picture(out.getvalue())


def test_a_photo_sent_twice_is_one_file_of_a_name_made_here(photos: PondPhotos) -> None:
    sent = photo()
    place = kept(photos, sent)
    assert kept(photos, sent) == place
    assert files(photos.season) == {place}
    assert place.startswith("photos/2027-05-10-aoi-")
    assert kept(photos, photo(colour="blue")) != place


@pytest.mark.parametrize("fish", ["../aoi", "a/b", "", "Aoi", "a\0b", "x" * 101])
def test_a_name_that_leads_elsewhere_is_refused(photos: PondPhotos, fish: str) -> None:
    sent = photo()
    with pytest.raises(Failure):
        photos.keep(sent, photos.picture(sent), fish, ON)
    assert files(photos.season) == set()


def test_a_folder_that_leads_elsewhere_is_not_written_to(photos: PondPhotos) -> None:
    outside = photos.season.parent / "outside"
    outside.mkdir()
    (photos.season / "photos").symlink_to(outside)
    with pytest.raises(Failure, match="no folder of its own") as caught:
        kept(photos, photo())
    assert caught.value.status == 2
    photos.sweep()
    photos.take_away("photos/2027-05-10-aoi-0123456789abcdef.jpg")
    assert files(outside) == set()


def test_so_many_and_no_more(photos: PondPhotos, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pond_photos, "MOST_KEPT", 1)
    sent = photo()
    (photos.season / "photos").mkdir()
    (photos.season / "photos" / "mine.jpg").write_bytes(sent)  # the keeper's own do not count
    place = kept(photos, sent)
    with pytest.raises(Failure, match="holds 1 from the pond"):
        kept(photos, photo(colour="blue"))
    assert kept(photos, sent) == place


def test_a_full_disk_leaves_nothing_and_the_phone_tries_again(
    photos: PondPhotos, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*args: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(Failure, match="stays on this phone") as caught:
        kept(photos, photo())
    assert caught.value.status == 1
    assert files(photos.season) == set()


def test_what_a_killed_run_left_is_swept_and_nothing_else(photos: PondPhotos) -> None:
    place = kept(photos, photo())
    left = photos.season / "photos" / ".taken.jpg.showprep-abcd1234"
    left.write_bytes(b"half")
    mine = photos.season / "photos" / ".mine.jpg"
    mine.write_bytes(b"whole")
    photos.sweep()
    assert files(photos.season) == {place, "photos/.mine.jpg"}


def test_a_photo_that_the_journal_names_is_not_taken_away(photos: PondPhotos) -> None:
    place = kept(photos, photo())
    (photos.season / "journal.yaml").write_text(f"- on: 2027-05-10\n  photo: {place}\n", "utf-8")
    photos.take_away(place)
    assert (photos.season / place).exists()
    (photos.season / "journal.yaml").write_text("", "utf-8")
    photos.take_away(place)
    assert not (photos.season / place).exists()


def test_a_photo_is_shown_small_and_bare(photos: PondPhotos) -> None:
    (photos.season / "mine.jpg").write_bytes(photo(2_000, 1_000, orientation=6))
    shown = photos.shown("mine.jpg")
    assert shown is not None
    assert opened(shown).size == (240, 480)
    assert not any(marker in shown for marker in MARKERS)


def test_nothing_but_a_picture_inside_the_season_is_shown(photos: PondPhotos) -> None:
    outside = photos.season.parent / "outside.jpg"
    outside.write_bytes(photo())
    season = photos.season
    (season / "keeper.yaml").write_text("secret: yes", "utf-8")
    (season / "link.jpg").symlink_to(outside)
    (season / "folder.jpg").mkdir()
    (season / "away").symlink_to(season.parent)
    (season / "bomb.jpg").write_bytes(huge_header())
    (season / "bomb.png").write_bytes(png_bomb())
    os.mkfifo(season / "pipe.jpg")
    for place in (
        *("keeper.yaml", "link.jpg", "folder.jpg", "away/outside.jpg", "pipe.jpg", "none.jpg"),
        *("../outside.jpg", str(outside), "", "a\0b", "bomb.jpg", "bomb.png", "x" * 5_000),
    ):
        assert photos.shown(place) is None, place


def test_without_the_library_it_says_what_to_install(
    photos: PondPhotos, monkeypatch: pytest.MonkeyPatch
) -> None:
    (photos.season / "mine.jpg").write_bytes(photo())
    monkeypatch.setattr(pond_photos, "can_read", lambda: False)
    with pytest.raises(Failure, match=r"showprep\[photos\]"):
        photos.picture(photo())
    assert photos.shown("mine.jpg") is None
