"""An empty company on its first day, and the garden rail; both served."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from server.core.world import Company, Person, Snapshot
from tests.pages.at_the_wall import Wall, garden_rail
from tests.pages.plan.typing_in import Super
from tests.worlds import World, on


def empty_company() -> World:
    """A company with one super and nothing else; its clock stands at Fri Nov 28, 9 am."""
    return World(Snapshot()).put(
        Company(
            id="new-company",
            name="Ford & Daughter",
            trades=("metal",),
            frozen_at=on("Nov 28 09:00"),
        ),
        Person(id="ada-ford", company_id="new-company", name="Ada Ford", role="super"),
    )


@pytest.fixture
def empty(tmp_path: Path, migrated_sqlite: Path) -> Iterator[Wall]:
    """The empty company, served."""
    shutil.copy(migrated_sqlite, tmp_path)
    with Wall.served(tmp_path, empty_company()) as served:
        yield served


@pytest.fixture
def ada(empty: Wall) -> Super:
    """The super of the empty company."""
    return Super(empty.browser("Ada Ford"))


@pytest.fixture
def rail(tmp_path: Path, migrated_sqlite: Path) -> Iterator[Wall]:
    """The garden stair rail, served."""
    shutil.copy(migrated_sqlite, tmp_path)
    with Wall.served(tmp_path, garden_rail()) as served:
        yield served


@pytest.fixture
def rufus(rail: Wall) -> Super:
    """The super of the garden rail."""
    return Super(rail.browser("Rufus Orme"))
