"""Photos of the demo: plain sketches made here, of a wall, a tape and what was read off it."""

import io
from pathlib import Path

from PIL import Image, ImageDraw, ImageFont

from server.outside.photos import Saved, save_own

SIZE = (800, 600)
WALL, WOOD, TAPE, INK = "#e4ded2", "#c9a878", "#f2cf3b", "#2b2b2b"


def sketch(title: str, reading: str) -> bytes:
    """A JPEG of a sketched tape on a stud wall, with what it is of and what is read."""
    picture = Image.new("RGB", SIZE, WALL)
    draw = ImageDraw.Draw(picture)
    for left in range(40, SIZE[0], 180):
        draw.rectangle((left, 0, left + 44, SIZE[1]), fill=WOOD, outline=INK)
    draw.rectangle((0, 330, SIZE[0], 420), fill=TAPE, outline=INK)
    for tick in range(0, SIZE[0], 20):
        length = 44 if tick % 160 == 0 else 26 if tick % 80 == 0 else 14
        draw.line((tick, 330, tick, 330 + length), fill=INK, width=2)
    draw.line((400, 250, 400, 420), fill="#b3261e", width=5)
    font, large = ImageFont.load_default(26), ImageFont.load_default(52)
    draw.rectangle((0, 0, SIZE[0], 48), fill=INK)
    draw.text((16, 8), title, fill="white", font=font)
    draw.rectangle((250, 180, 550, 252), fill="white", outline=INK)
    draw.text((400, 216), reading, fill=INK, font=large, anchor="mm")
    draw.text((16, 560), "sketch made for the demo", fill=INK, font=font)
    made = io.BytesIO()
    picture.save(made, "JPEG", quality=80)
    return made.getvalue()


def kept(title: str, reading: str, data_dir: Path) -> Saved:
    """The sketch, kept as an upload from a phone is."""
    return save_own(sketch(title, reading), data_dir)
