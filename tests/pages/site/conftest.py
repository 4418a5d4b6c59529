"""What the tests of these screens ask for: the garden stair with all that stands around it."""

import shutil
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from pathlib import Path

import pytest

from tests.pages.at_the_wall import Wall
from tests.pages.site.stair import around_the_stair
from tests.worlds import World


@pytest.fixture
def serve(tmp_path: Path, migrated_sqlite: Path) -> Iterator[Callable[[World], Wall]]:
    """Serves a world of the test's own."""
    with ExitStack() as stack:

        def served(world: World) -> Wall:
            shutil.copy(migrated_sqlite, tmp_path)
            return stack.enter_context(Wall.served(tmp_path, world))

        yield served


@pytest.fixture
def stair(serve: Callable[[World], Wall]) -> Wall:
    """The garden stair with all that stands around it."""
    return serve(around_the_stair())
