"""Decodes one photo in a process of its own, so that a hostile file can hurt nothing else.

`python -m server.outside.photo_child PIXELS MEMORY CPU_SECONDS` reads the file on stdin. On stdout
comes one line of JSON, then the photo and its thumbnail as JPEG. The line has either `error` (one
of `pixels`, `memory`, `broken`) or `width`, `height`, `taken`, and `sizes`, the two byte counts.
"""

import json
import resource
import sys
import warnings
from datetime import datetime
from io import BytesIO
from typing import Any

from PIL import ExifTags, Image

FORMATS = ("JPEG", "PNG", "WEBP")
LONGEST = 2000
THUMBNAIL = 320
QUALITY = 82
_T = Image.Transpose
# EXIF tag 0x0112: what turns the picture upright (CIPA DC-008, section 4.6.4).
UPRIGHT = {
    2: _T.FLIP_LEFT_RIGHT,
    3: _T.ROTATE_180,
    4: _T.FLIP_TOP_BOTTOM,
    5: _T.TRANSPOSE,
    6: _T.ROTATE_270,
    7: _T.TRANSVERSE,
    8: _T.ROTATE_90,
}


def limit(memory: int, cpu_seconds: int) -> None:
    """No more memory and processor time than these; no file and no core dump written."""
    for what, most in (
        (resource.RLIMIT_AS, memory),
        (resource.RLIMIT_CPU, cpu_seconds),
        (resource.RLIMIT_FSIZE, 0),
        (resource.RLIMIT_CORE, 0),
    ):
        resource.setrlimit(what, (most, most))


def reencode(data: bytes, pixels: int) -> tuple[dict[str, Any], bytes, bytes]:
    """The header, the photo and the thumbnail: upright, shrunk, with nothing but the picture."""
    Image.MAX_IMAGE_PIXELS = pixels
    warnings.simplefilter("error", Image.DecompressionBombWarning)
    with Image.open(BytesIO(data), formats=FORMATS) as image:
        image.draft("RGB", (LONGEST, LONGEST))
        image.load()
        orientation, taken = _exif(image)
        photo = _shrunk(_plain(image), LONGEST)
    if turn := UPRIGHT.get(orientation):
        photo = photo.transpose(turn)
    full, small = _jpeg(photo), _jpeg(_shrunk(photo, THUMBNAIL))
    header = {
        "width": photo.width,
        "height": photo.height,
        "taken": taken.isoformat() if taken else None,
        "sizes": [len(full), len(small)],
    }
    return header, full, small


def _exif(image: Image.Image) -> tuple[int, datetime | None]:
    # Phones and editors write broken EXIF; the picture is still good without it.
    try:
        exif = image.getexif()
        orientation = exif.get(ExifTags.Base.Orientation, 1)
        written = exif.get_ifd(ExifTags.IFD.Exif).get(ExifTags.Base.DateTimeOriginal)
    except Exception:
        return 1, None
    return (orientation if isinstance(orientation, int) else 1), _taken(written)


def _taken(written: object) -> datetime | None:
    try:
        return datetime.strptime(str(written).strip("\0 "), "%Y:%m:%d %H:%M:%S")  # noqa: DTZ007
    except ValueError:
        return None


def _plain(image: Image.Image) -> Image.Image:
    """As RGB; what is see-through stands on white."""
    if image.mode.startswith("I;16"):
        # Pillow cuts 16-bit gray off at 255 when it converts; this scales it.
        image = image.point(lambda level: level / 256).convert("L")
    if image.has_transparency_data:
        image = _shrunk(image.convert("RGBA"), LONGEST)
        paper = Image.new("RGBA", image.size, "white")
        return Image.alpha_composite(paper, image).convert("RGB")
    return image if image.mode == "RGB" else image.convert("RGB")


def _shrunk(image: Image.Image, longest: int) -> Image.Image:
    ratio = longest / max(image.size)
    if ratio >= 1:
        return image
    size = (max(1, round(image.width * ratio)), max(1, round(image.height * ratio)))
    return image.resize(size, Image.Resampling.LANCZOS, reducing_gap=3.0)


def _jpeg(image: Image.Image) -> bytes:
    out = BytesIO()
    # A fresh copy of the pixels alone: what came with the file stays behind.
    bare = Image.frombytes(image.mode, image.size, image.tobytes())
    bare.save(out, "JPEG", quality=QUALITY, optimize=True)
    return out.getvalue()


def main(pixels: int, memory: int, cpu_seconds: int) -> None:
    """Reads, decodes, answers. Whatever goes wrong with the file is an answer too."""
    data = sys.stdin.buffer.read()
    limit(memory, cpu_seconds)
    full = small = b""
    try:
        header, full, small = reencode(data, pixels)
    except (Image.DecompressionBombWarning, Image.DecompressionBombError):
        header = {"error": "pixels"}
    except MemoryError:
        header = {"error": "memory"}
    except Exception:
        # Decoders raise a dozen kinds of errors on damaged bytes; this process does nothing else.
        header = {"error": "broken"}
    sys.stdout.buffer.write(json.dumps(header).encode() + b"\n" + full + small)


if __name__ == "__main__":
    main(*(int(argument) for argument in sys.argv[1:4]))
