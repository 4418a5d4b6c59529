"""A layer whose parts stand differently says which stand how, and its drawing shows them."""

from dataclasses import replace

from server.core.world import Snapshot
from server.core.world.network import forecast
from server.pages.shared.buildup import sides_shown
from server.pages.shared.layers import Standing
from server.words import words
from tests.pages.at_the_wall import NOW, garden_rail
from tests.worlds import on


def hidden(parts: tuple[int, ...]) -> Snapshot:
    """Board hung over some stand-offs."""
    snapshot = garden_rail().snapshot()
    board = replace(
        snapshot.activities["hang-board"], started=on("Dec 3 10:25"), finished=on("Dec 3 10:45")
    )
    effects = snapshot.effects_of["hang-board"]
    covers = next(e for e in effects if (e.verb, e.layer_id) == ("covers", "stand-offs"))
    return snapshot.put(board, replace(covers, parts=parts))


def said(snapshot: Snapshot) -> str:
    standing = Standing(snapshot, forecast(snapshot, NOW), words(), NOW)
    return standing.sentence(snapshot.layers["stand-offs"])


def drawing(snapshot: Snapshot) -> str:
    (side,) = sides_shown(snapshot, forecast(snapshot, NOW), "garden-stair-rail", words(), NOW)
    return str(side.drawing)


def test_which_parts_are_hidden_and_which_in_the_open_is_said() -> None:
    sentence = said(hidden((1, 2, 3, 4, 5)))
    assert "No. 1, 2, 3, 4 and 5 hidden, No. 6 and 7 in the open" in sentence


def test_parts_that_stand_alike_are_said_once() -> None:
    assert ", hidden, " in said(hidden(()))
    assert "No. 1" not in said(hidden(()))


def test_the_drawing_of_parts_that_stand_differently_is_another() -> None:
    assert drawing(hidden((1, 2, 3))) != drawing(hidden(()))
    assert drawing(hidden((1, 2, 3))) != drawing(hidden((1, 2)))
