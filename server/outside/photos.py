"""An upload's bytes become a photo that can be shown: checked, upright, shrunk, without position.

    save(data, data_dir) -> Saved       or a `PhotoRefused`
    path_of(data_dir, sha256)           where it lies; `thumbnail=True` for the small one
    sweep(data_dir, keep, older_than)   removes what no row names

Nothing of the file is kept but its picture and the time the phone says it was taken.
"""

import hashlib
import json
import math
import os
import signal
import subprocess
import sys
import threading
import warnings
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from server.outside.photo_child import reencode
from server.outside.photos_files import keep, path_of, sweep
from server.outside.photos_refused import (
    Broken,
    Busy,
    Heic,
    NotAPhoto,
    PhotoRefused,
    TookTooLong,
    TooLarge,
    TooManyPixels,
    TooMuchMemory,
)

__all__ = ["Limits", "PhotoRefused", "Saved", "path_of", "save", "save_own", "sweep"]

AT_ONCE = 2
_turns = threading.BoundedSemaphore(AT_ONCE)
_ROOT = Path(__file__).parents[2]
_HEIC_BRANDS = {b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1"}


@dataclass(frozen=True)
class Limits:
    """What one photo may need: bytes of file, pixels, bytes of memory, seconds."""

    bytes: int = 20_000_000
    pixels: int = 50_000_000
    memory: int = 1 << 30
    seconds: float = 20
    wait: float = 30


@dataclass(frozen=True)
class Saved:
    """A photo kept. `bytes` is the size of its file; `taken` is what the phone's clock said."""

    sha256: str
    width: int
    height: int
    bytes: int
    taken: datetime | None


USUAL = Limits()


def save(data: bytes, data_dir: Path, limits: Limits = USUAL) -> Saved:
    """Checks, re-encodes and keeps a photo; the same picture twice is kept once.

    Blocks while it is decoded, so it is called from a thread, never from the event loop.
    Raises a `PhotoRefused`; then nothing is kept.
    """
    _look_at_first_bytes(data, limits)
    with _a_turn(limits.wait):
        answer = _decoded(data, limits)
    line, _, rest = answer.partition(b"\n")
    header = json.loads(line)
    if error := header.get("error"):
        raise _refusal(error, limits)
    size = header["sizes"][0]
    return _kept(header, rest[:size], rest[size:], data_dir)


def save_own(data: bytes, data_dir: Path) -> Saved:
    """Keeps a picture that this program has drawn itself, so that no other process need look at it.

    It comes out as it would from `save`.
    """
    with warnings.catch_warnings():
        header, photo, thumbnail = reencode(data, USUAL.pixels)
    return _kept(header, photo, thumbnail, data_dir)


def _kept(header: Mapping[str, Any], photo: bytes, thumbnail: bytes, data_dir: Path) -> Saved:
    sha256 = hashlib.sha256(photo).hexdigest()
    keep(data_dir, sha256, photo, thumbnail)
    taken = datetime.fromisoformat(header["taken"]) if header["taken"] else None
    return Saved(sha256, header["width"], header["height"], len(photo), taken)


def _look_at_first_bytes(data: bytes, limits: Limits) -> None:
    if len(data) > limits.bytes:
        raise TooLarge(limits.bytes)
    if data[4:8] == b"ftyp" and data[8:12] in _HEIC_BRANDS:
        raise Heic
    is_webp = data[:4] == b"RIFF" and data[8:12] == b"WEBP"
    if not (is_webp or data.startswith((b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n"))):
        raise NotAPhoto


@contextmanager
def _a_turn(wait: float) -> Iterator[None]:
    if not _turns.acquire(timeout=wait):
        raise Busy
    try:
        yield
    finally:
        _turns.release()


def _decoded(data: bytes, limits: Limits) -> bytes:
    """What the child answers. It gets the file and three numbers, and none of our settings."""
    numbers = (limits.pixels, limits.memory, math.ceil(limits.seconds))
    command = [sys.executable, "-P", "-m", "server.outside.photo_child", *map(str, numbers)]
    environment = {"PYTHONPATH": str(_ROOT), "PATH": os.defpath}
    try:
        child = subprocess.run(
            command,
            input=data,
            capture_output=True,
            timeout=limits.seconds,
            env=environment,
            check=False,
        )
    except subprocess.TimeoutExpired:
        raise TookTooLong from None
    if child.returncode in (-signal.SIGXCPU, -signal.SIGKILL):
        raise TookTooLong
    if child.returncode:
        raise Broken
    return child.stdout


def _refusal(error: str, limits: Limits) -> PhotoRefused:
    if error == "pixels":
        return TooManyPixels(limits.pixels)
    return TooMuchMemory() if error == "memory" else Broken()
