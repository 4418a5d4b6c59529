"""Houses with a past: evenings that were kept, causes that were given."""

import shutil
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest

from server.core.world import Cause, DayFinish
from tests.pages.at_the_wall import Wall
from tests.worlds import PROJECT, World

DETAIL = "garden-stair-rail"
PAGE = f"/d/{DETAIL}/promise"
WHY = f"/d/{DETAIL}/cause"

Serve = Callable[[World], Wall]


@pytest.fixture
def serve(tmp_path: Path, migrated_sqlite: Path) -> Iterator[Serve]:
    """Serves a world of one's own."""
    with ExitStack() as served:

        def of(world: World) -> Wall:
            shutil.copy(migrated_sqlite, tmp_path)
            return served.enter_context(Wall.served(tmp_path, world))

        yield of


def evenings(last: date, finishes: list[datetime]) -> list[DayFinish]:
    """The finishes of as many evenings up to a day, one after the other."""
    first = last - timedelta(len(finishes) - 1)
    return [
        DayFinish(
            id=f"{DETAIL}{no}",
            project_id=PROJECT,
            detail_id=DETAIL,
            day=first + timedelta(no),
            finish=finish,
        )
        for no, finish in enumerate(finishes)
    ]


def cause(day: date, text: str, by: str = "rufus-orme", **fields: str) -> Cause:
    """Why the dates moved on a day, said at noon of it."""
    return Cause(
        id=f"cause-{day}-{by}",
        project_id=PROJECT,
        detail_id=DETAIL,
        day=day,
        text=text,
        by_id=by,
        at=datetime(day.year, day.month, day.day, 12),
        **fields,
    )
