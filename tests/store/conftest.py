"""A store on an empty, migrated database of each kind."""

from collections.abc import Iterator

import pytest

from server.settings import Settings
from server.store import Store, open_store
from server.store.migrate import upgrade


@pytest.fixture
def store(settings: Settings) -> Iterator[Store]:
    upgrade(settings)
    opened = open_store(settings)
    yield opened
    opened.close()
