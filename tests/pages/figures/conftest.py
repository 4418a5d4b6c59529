"""A house in which air, wood and plaster were read."""

import shutil
from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime
from fractions import Fraction
from pathlib import Path

import pytest

from server.core.world import Reading
from tests.pages.at_the_wall import Browser, Wall, garden_rail
from tests.worlds import DAY, HOUR, PROJECT, World, on


def read(id: str, what: str, value: str, at: str, where: str = "") -> Reading:
    unit = "°F" if what == "air" else "%"
    return Reading(
        id=id, project_id=PROJECT, place_id="garden-stair", what=what, value=Fraction(value),
        unit=unit, by_id="rufus-orme", at=on(at), where=where,
    )  # fmt: skip


def a_read_house() -> World:
    """The brown coat of the garden stair went on Nov 24 and is metered; the air was read today."""
    world = garden_rail().with_place("Cellar").with_task(
        "Brown coat", DAY, crew="Ninepail Plaster", place_id="garden-stair", wet=True,
        stuff="gypsum", started=on("Nov 24"), finished=on("Nov 24 15:00"),
    ).with_task(
        "Scratch coat", 2 * HOUR, crew="Ninepail Plaster", place_id="garden-stair", wet=True,
        stuff="lime", started=datetime(2025, 8, 4, 7), finished=datetime(2025, 8, 4, 15),
    )  # fmt: skip
    return world.put(
        read("air", "air", "66", "Dec 3 07:40"),
        read("humidity", "humidity", "41", "Dec 3 07:40"),
        read("wood", "wood", "8.5", "Dec 2 07:40"),
        read("p1", "plaster", "12", "Nov 25 07:40", "low"),
        read("p2", "plaster", "7", "Dec 2 07:40", "low"),
        read("p3", "plaster", "3", "Dec 2 07:40", "high"),
        read("old", "plaster", "20", "Nov 20 07:40", "low"),
        replace(read("deep", "air", "55", "Dec 3 07:40"), place_id="cellar"),
    )


@pytest.fixture
def read_house(tmp_path: Path, migrated_sqlite: Path) -> Iterator[Wall]:
    shutil.copy(migrated_sqlite, tmp_path)
    with Wall.served(tmp_path, a_read_house()) as served:
        yield served


@pytest.fixture
def super_(wall: Wall) -> Browser:
    """The super's browser."""
    return wall.browser("Rufus Orme")
