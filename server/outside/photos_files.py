"""Photos on disk: `photos/ab/<sha256>.jpg` and its `.thumb.jpg`, each whole or not there."""

import errno
import os
import re
import tempfile
from collections.abc import Iterator, Set
from datetime import datetime
from pathlib import Path

from server.outside.photos_refused import NoRoom

_NAME = re.compile(r"[0-9a-f]{64}")
_TEMPORARY = ".part-"


def path_of(data_dir: Path, sha256: str, *, thumbnail: bool = False) -> Path:
    """Where a photo lies. Raises `ValueError` for anything that is no sha256 in small hex."""
    if not _NAME.fullmatch(sha256):
        raise ValueError(f"no photo has the name {sha256!r}")
    ending = ".thumb.jpg" if thumbnail else ".jpg"
    return data_dir / "photos" / sha256[:2] / f"{sha256}{ending}"


def keep(data_dir: Path, sha256: str, photo: bytes, thumbnail: bytes) -> None:
    """Writes both, so that after this returns a power cut loses nothing.

    The thumbnail goes first: where the photo is, its thumbnail is too. A photo that is there
    already is replaced by itself, which also makes it new for `sweep`. Raises `NoRoom`.
    """
    folder = path_of(data_dir, sha256).parent
    try:
        folder.mkdir(parents=True, exist_ok=True)
        _write(path_of(data_dir, sha256, thumbnail=True), thumbnail)
        _write(path_of(data_dir, sha256), photo)
        for changed in (folder, folder.parent, data_dir):
            _sync_folder(changed)
    except OSError as error:
        if error.errno in (errno.ENOSPC, errno.EDQUOT):
            raise NoRoom from error
        raise


def sweep(data_dir: Path, keep: Set[str], older_than: datetime) -> tuple[str, ...]:
    """Removes photos whose sha256 is not in `keep`, and unfinished files, last written before
    `older_than` (with its time zone). Gives back the names of the files removed.
    """
    removed = []
    for file in _files(data_dir):
        wanted = file.name.partition(".")[0] in keep
        try:
            if not wanted and file.stat().st_mtime < older_than.timestamp():
                file.unlink()
                removed.append(file.name)
        except FileNotFoundError:
            # Another process sweeps too, or an upload just ended under its own name.
            continue
    return tuple(sorted(removed))


def _files(data_dir: Path) -> Iterator[Path]:
    for pattern in ("*.jpg", f"{_TEMPORARY}*"):
        yield from (data_dir / "photos").glob(f"??/{pattern}")


def _write(target: Path, content: bytes) -> None:
    handle, name = tempfile.mkstemp(prefix=_TEMPORARY, dir=target.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        Path(name).replace(target)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


def _sync_folder(folder: Path) -> None:
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
