"""What the tests of pages ask for: a house that is served."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.pages.at_the_wall import Wall, garden_rail


@pytest.fixture
def wall(tmp_path: Path, migrated_sqlite: Path) -> Iterator[Wall]:
    """The garden stair rail on Dec 3, on SQLite."""
    shutil.copy(migrated_sqlite, tmp_path)
    with Wall.served(tmp_path, garden_rail()) as served:
        yield served
