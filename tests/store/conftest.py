"""A store with a small house in it."""

import pytest

from server.store import Store
from tests.store.worlds import kept
from tests.worlds import a_project


@pytest.fixture
def house(store: Store) -> Store:
    """Tallow Creek's house, with a plaster crew and its lead."""
    return kept(store, a_project().with_crew("Ninepail Plaster").snapshot())
