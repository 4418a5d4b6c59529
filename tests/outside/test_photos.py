"""Photos from phones: kept upright, small and without position; everything else is refused."""

import errno
import os
import struct
import zlib
from datetime import UTC, datetime, timedelta
from io import BytesIO
from pathlib import Path

import pytest
from PIL import ExifTags, Image, ImageDraw

from server.outside import photos
from server.outside.photos import Limits, PhotoRefused, path_of, save, save_own, sweep
from server.words import say

RED, BLUE = (200, 30, 30), (30, 30, 200)
LATER = datetime.now(UTC) + timedelta(days=1)


def red_over_blue(size: tuple[int, int] = (400, 300), mode: str = "RGB") -> Image.Image:
    """A picture whose top half is red and bottom half blue."""
    picture = Image.new("RGB", size, RED)
    ImageDraw.Draw(picture).rectangle((0, size[1] // 2, *size), fill=BLUE)
    return picture.convert(mode)


def file_of(picture: Image.Image, format: str = "JPEG", **options: object) -> bytes:
    out = BytesIO()
    picture.save(out, format, **options)
    return out.getvalue()


def exif(orientation: int = 1, taken: str = "2026:12:04 10:40:05") -> Image.Exif:
    tags = Image.Exif()
    tags[ExifTags.Base.Orientation] = orientation
    tags[ExifTags.Base.Make] = "Quarry Phone"
    tags.get_ifd(ExifTags.IFD.Exif)[ExifTags.Base.DateTimeOriginal] = taken
    gps = tags.get_ifd(ExifTags.IFD.GPSInfo)
    gps[ExifTags.GPS.GPSLatitudeRef] = "N"
    gps[ExifTags.GPS.GPSLatitude] = (43.0, 4.0, 22.0)
    return tags


def chunk(kind: bytes, content: bytes) -> bytes:
    body = kind + content
    return struct.pack(">I", len(content)) + body + struct.pack(">I", zlib.crc32(body))


def bomb(width: int, height: int) -> bytes:
    """A PNG of nothing but zeros: a few hundred kilobytes that unpack to width x height pixels."""
    header = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    packer = zlib.compressobj(9)
    row = bytes(1 + 3 * width)
    packed = b"".join(packer.compress(row) for _ in range(height)) + packer.flush()
    parts = [chunk(b"IHDR", header), chunk(b"IDAT", packed), chunk(b"IEND", b"")]
    return b"\x89PNG\r\n\x1a\n" + b"".join(parts)


def kept(data_dir: Path, sha256: str, *, thumbnail: bool = False) -> Image.Image:
    return Image.open(BytesIO(path_of(data_dir, sha256, thumbnail=thumbnail).read_bytes()))


def files_in(data_dir: Path) -> list[Path]:
    return [path for path in data_dir.rglob("*") if path.is_file()]


def refused(data: bytes, data_dir: Path, limits: Limits = photos.USUAL) -> PhotoRefused:
    with pytest.raises(PhotoRefused) as caught:
        save(data, data_dir, limits)
    assert files_in(data_dir) == []
    assert say(caught.value.message).endswith(".")
    return caught.value


def is_red(color: object) -> bool:
    assert isinstance(color, tuple)
    return bool(color[0] > 150 and color[2] < 90)


@pytest.mark.parametrize("format", ["JPEG", "PNG", "WEBP"])
def test_a_photo_is_kept_as_jpeg_whatever_it_came_as(tmp_path: Path, format: str) -> None:
    saved = save(file_of(red_over_blue(), format), tmp_path)
    picture = kept(tmp_path, saved.sha256)
    assert picture.format == "JPEG"
    assert picture.size == (saved.width, saved.height) == (400, 300)
    assert is_red(picture.getpixel((200, 10)))
    assert path_of(tmp_path, saved.sha256).stat().st_size == saved.bytes


def test_a_large_photo_is_shrunk_and_has_a_thumbnail(tmp_path: Path) -> None:
    saved = save(file_of(red_over_blue((4000, 3000))), tmp_path)
    assert (saved.width, saved.height) == (2000, 1500)
    assert kept(tmp_path, saved.sha256, thumbnail=True).size == (320, 240)


def test_a_small_photo_is_not_blown_up(tmp_path: Path) -> None:
    saved = save(file_of(red_over_blue((40, 30))), tmp_path)
    assert (saved.width, saved.height) == (40, 30)


def test_a_strip_of_a_photo_keeps_at_least_a_pixel(tmp_path: Path) -> None:
    saved = save(file_of(Image.new("RGB", (9000, 1), RED), "PNG"), tmp_path)
    assert (saved.width, saved.height) == (2000, 1)


def test_position_and_phone_are_gone(tmp_path: Path) -> None:
    data = file_of(red_over_blue(), exif=exif(), comment=b"43.07 N", xmp=b"<x>43.07</x>")
    assert b"Quarry Phone" in data
    saved = save(data, tmp_path)
    for thumbnail in (False, True):
        path = path_of(tmp_path, saved.sha256, thumbnail=thumbnail)
        with Image.open(path) as picture:
            assert not picture.getexif()
            assert set(picture.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}
        written = path.read_bytes()
        assert b"Exif" not in written
        assert b"43.07" not in written
        assert b"Quarry Phone" not in written


def test_the_time_the_phone_says_it_was_taken_is_kept(tmp_path: Path) -> None:
    saved = save(file_of(red_over_blue(), exif=exif()), tmp_path)
    assert saved.taken == datetime(2026, 12, 4, 10, 40, 5)


@pytest.mark.parametrize("taken", ["", "yesterday", "2026:13:45 10:40:05", "0000:00:00 00:00:00"])
def test_a_time_that_is_none_is_left_out(tmp_path: Path, taken: str) -> None:
    assert save(file_of(red_over_blue(), exif=exif(taken=taken)), tmp_path).taken is None


def test_a_photo_without_exif_has_no_time(tmp_path: Path) -> None:
    assert save(file_of(red_over_blue()), tmp_path).taken is None


# Where the red half, on top in the stored pixels, is when the picture stands upright.
@pytest.mark.parametrize(
    ("orientation", "size", "red"),
    [
        (1, (400, 300), "top"),
        (2, (400, 300), "top"),
        (3, (400, 300), "bottom"),
        (4, (400, 300), "bottom"),
        (5, (300, 400), "left"),
        (6, (300, 400), "right"),
        (7, (300, 400), "right"),
        (8, (300, 400), "left"),
    ],
)
def test_a_photo_stands_upright(
    tmp_path: Path, orientation: int, size: tuple[int, int], red: str
) -> None:
    saved = save(file_of(red_over_blue(), exif=exif(orientation)), tmp_path)
    picture = kept(tmp_path, saved.sha256)
    width, height = picture.size
    places = {
        "top": (width // 2, 10),
        "bottom": (width // 2, height - 10),
        "left": (10, height // 2),
        "right": (width - 10, height // 2),
    }
    assert (saved.width, saved.height) == picture.size == size
    assert is_red(picture.getpixel(places[red]))
    opposite = {"top": "bottom", "bottom": "top", "left": "right", "right": "left"}[red]
    assert not is_red(picture.getpixel(places[opposite]))


def test_what_is_see_through_stands_on_white(tmp_path: Path) -> None:
    saved = save(file_of(Image.new("RGBA", (30, 30), (0, 0, 0, 0)), "PNG"), tmp_path)
    assert kept(tmp_path, saved.sha256).getpixel((15, 15)) == (255, 255, 255)


@pytest.mark.parametrize(
    ("mode", "format"),
    [("P", "PNG"), ("L", "PNG"), ("LA", "PNG"), ("1", "PNG"), ("CMYK", "JPEG"), ("L", "JPEG")],
)
def test_every_kind_of_pixels_is_taken(tmp_path: Path, mode: str, format: str) -> None:
    saved = save(file_of(red_over_blue(mode=mode), format), tmp_path)
    assert kept(tmp_path, saved.sha256).mode == "RGB"


def test_sixteen_bit_gray_keeps_its_shade(tmp_path: Path) -> None:
    saved = save(file_of(Image.new("I;16", (30, 30), 128 * 256), "PNG"), tmp_path)
    shade = kept(tmp_path, saved.sha256).getpixel((15, 15))
    assert isinstance(shade, tuple)
    assert abs(shade[0] - 128) <= 2


def test_the_same_photo_twice_is_kept_once(tmp_path: Path) -> None:
    data = file_of(red_over_blue())
    assert save(data, tmp_path) == save(data, tmp_path)
    assert len(files_in(tmp_path)) == 2


def test_a_text_called_jpg_is_not_a_photo(tmp_path: Path) -> None:
    assert refused(b"Stand-offs, see sheet A4.1", tmp_path).id == "photo.not_a_photo"


@pytest.mark.parametrize("format", ["GIF", "BMP", "TIFF"])
def test_other_formats_are_not_taken(tmp_path: Path, format: str) -> None:
    assert refused(file_of(red_over_blue(), format), tmp_path).id == "photo.not_a_photo"


def test_an_empty_upload_is_not_a_photo(tmp_path: Path) -> None:
    assert refused(b"", tmp_path).id == "photo.not_a_photo"


def test_a_heic_photo_is_told_how_to_be_sent(tmp_path: Path) -> None:
    refusal = refused(b"\0\0\0\x18ftypheic\0\0\0\0mif1heic" + bytes(100), tmp_path)
    assert refusal.id == "photo.heic"
    assert "JPEG" in say(refusal.message)


def test_too_many_bytes_are_refused(tmp_path: Path) -> None:
    data = file_of(red_over_blue()) + bytes(2_000_000)
    refusal = refused(data, tmp_path, Limits(bytes=2_000_000))
    assert refusal.id == "photo.too_large"
    assert say(refusal.message).startswith("This photo is over 2 MB.")


@pytest.mark.parametrize("side", [8_000, 12_000])
def test_a_small_file_that_unpacks_to_a_huge_picture_is_refused(tmp_path: Path, side: int) -> None:
    data = bomb(side, side)
    assert len(data) < 2_000_000
    assert refused(data, tmp_path).id == "photo.too_many_pixels"


def test_a_picture_of_just_the_limit_is_taken(tmp_path: Path) -> None:
    data = file_of(Image.new("RGB", (100, 100), RED), "PNG")
    assert save(data, tmp_path, Limits(pixels=10_000)).width == 100


def test_one_row_more_than_the_limit_is_refused(tmp_path: Path) -> None:
    data = file_of(Image.new("RGB", (100, 101), RED), "PNG")
    assert refused(data, tmp_path, Limits(pixels=10_000)).id == "photo.too_many_pixels"


def test_a_header_that_lies_about_its_pixels_is_refused(tmp_path: Path) -> None:
    header = struct.pack(">IIBBBBB", 2**31 - 1, 2**31 - 1, 8, 2, 0, 0, 0)
    lie = b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", b"") + chunk(b"IEND", b"")
    assert refused(lie, tmp_path).id == "photo.too_many_pixels"


def test_what_needs_more_memory_than_allowed_is_refused(tmp_path: Path) -> None:
    limits = Limits(memory=150_000_000)
    assert refused(bomb(7_000, 7_000), tmp_path, limits).id == "photo.too_much_memory"


def test_what_takes_longer_than_allowed_is_refused(tmp_path: Path) -> None:
    limits = Limits(seconds=0.001)
    assert refused(file_of(red_over_blue()), tmp_path, limits).id == "photo.took_too_long"


@pytest.mark.parametrize("format", ["JPEG", "PNG", "WEBP"])
@pytest.mark.parametrize("part", [0.5, 0.9])
def test_a_photo_that_was_cut_off_is_refused(tmp_path: Path, format: str, part: float) -> None:
    noise = Image.frombytes("RGB", (200, 200), os.urandom(200 * 200 * 3))
    data = file_of(noise, format)
    assert refused(data[: int(len(data) * part)], tmp_path).id == "photo.broken"


@pytest.mark.parametrize("start", [b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n", b"RIFF\0\0\0\0WEBP"])
def test_rubbish_after_the_first_bytes_of_a_photo_is_refused(tmp_path: Path, start: bytes) -> None:
    assert refused(start + bytes(range(256)), tmp_path).id == "photo.broken"


def test_a_third_photo_that_gets_no_turn_is_told_to_come_again(tmp_path: Path) -> None:
    for _ in range(photos.AT_ONCE):
        photos._turns.acquire()
    try:
        data = file_of(red_over_blue())
        assert refused(data, tmp_path, Limits(wait=0)).id == "photo.busy"
    finally:
        for _ in range(photos.AT_ONCE):
            photos._turns.release()


def test_a_refused_photo_gives_its_turn_back(tmp_path: Path) -> None:
    rubbish = b"\xff\xd8\xff" + bytes(50)
    for _ in range(photos.AT_ONCE + 1):
        assert refused(rubbish, tmp_path, Limits(wait=0)).id == "photo.broken"


@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EDQUOT])
def test_a_full_disk_is_said_and_leaves_nothing_behind(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    def full(handle: int) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr("server.outside.photos_files.os.fsync", full)
    refusal = refused(file_of(red_over_blue()), tmp_path)
    assert refusal.id == "photo.no_room"
    assert "no room left on the server's disk" in say(refusal.message)


def test_a_broken_disk_is_no_refusal(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(handle: int) -> None:
        raise OSError(errno.EIO, os.strerror(errno.EIO))

    monkeypatch.setattr("server.outside.photos_files.os.fsync", broken)
    with pytest.raises(OSError, match="Input/output"):
        save(file_of(red_over_blue()), tmp_path)


@pytest.mark.parametrize("name", ["", "../../etc/passwd", "a" * 63, "A" * 64, "a" * 64 + "\n"])
def test_only_a_sha256_names_a_photo(tmp_path: Path, name: str) -> None:
    with pytest.raises(ValueError, match="no photo"):
        path_of(tmp_path, name)


def test_sweeping_removes_what_no_row_names_and_keeps_the_rest(tmp_path: Path) -> None:
    wanted = save(file_of(red_over_blue()), tmp_path).sha256
    orphan = save(file_of(red_over_blue((200, 200))), tmp_path).sha256
    assert sweep(tmp_path, {wanted}, LATER) == (f"{orphan}.jpg", f"{orphan}.thumb.jpg")
    assert {file.name.partition(".")[0] for file in files_in(tmp_path)} == {wanted}


def test_sweeping_leaves_what_is_newer_than_asked(tmp_path: Path) -> None:
    save(file_of(red_over_blue()), tmp_path)
    assert sweep(tmp_path, set(), datetime.now(UTC) - timedelta(days=1)) == ()
    assert len(files_in(tmp_path)) == 2


def test_sweeping_removes_files_that_were_never_finished(tmp_path: Path) -> None:
    wanted = save(file_of(red_over_blue()), tmp_path).sha256
    left_over = path_of(tmp_path, wanted).parent / ".part-x1y2"
    left_over.write_bytes(b"half")
    assert sweep(tmp_path, {wanted}, LATER) == (".part-x1y2",)
    assert len(files_in(tmp_path)) == 2


def test_sweeping_before_the_first_photo_finds_nothing(tmp_path: Path) -> None:
    assert sweep(tmp_path, set(), LATER) == ()


def test_a_picture_of_our_own_comes_out_as_an_upload_does(tmp_path: Path) -> None:
    data = file_of(red_over_blue(), exif=exif())
    assert save_own(data, tmp_path / "own") == save(data, tmp_path / "sent")
