"""Photos that were uploaded and that nothing names are removed after a day."""

import logging
from datetime import UTC, datetime, timedelta
from pathlib import Path

from server.core.refusals import Refusal
from server.outside.photos_files import sweep
from server.store import Store

KEPT = timedelta(days=1)
EVERY = timedelta(hours=6)


def sweep_orphans(store: Store, data_dir: Path, now: datetime) -> tuple[str, ...]:
    """Removes files of photos older than a day that no row names; the names of those removed.

    Where no row names any photo nothing is removed: then this is more likely the folder of
    another database than one in which every photo is an orphan.
    """
    named = store.photo_hashes()
    return sweep(data_dir, named, now - KEPT) if named else ()


def sweep_now(store: Store, data_dir: Path) -> None:
    """Sweeps as of now; what stands in its way is logged, and stops nobody."""
    try:
        sweep_orphans(store, data_dir, datetime.now(UTC))
    except (Refusal, OSError):
        logging.getLogger(__name__).warning("orphaned photos were not swept", exc_info=True)
