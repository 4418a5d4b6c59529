"""Forms that list rows elsewhere, copy, move, split and join them; sides, layers and floors."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from server.core.changes.rules_plan_layers import layers_of
from server.core.world.network import forecast
from tests.pages.at_the_wall import NOW, PROJECT, Wall, fields_of, garden_rail
from tests.pages.plan.typing_in import Super, refused

PLAN = "/d/garden-stair-rail/plan"
BOARD = f"{PLAN}/base-coat"
CELLAR = "cellar-stair-rail"


@pytest.fixture
def house(tmp_path: Path, migrated_sqlite: Path) -> Iterator[Wall]:
    """The garden rail, and a cellar rail that has a board but no stand-offs."""
    shutil.copy(migrated_sqlite, tmp_path)
    world = (
        garden_rail()
        .with_changed("Hang board", place_id=None)
        .with_task("Second coat", crew="Ninepail Plaster", after="Base coat dries")
        .with_detail("Cellar stair rail", sheet="D4")
        .with_layer("Cellar board", material="board")
        .with_changed("Cellar board", name="Board")
        .with_task("Cellar frame")
    )
    with Wall.served(tmp_path, world) as served:
        yield served


@pytest.fixture
def rufus(house: Wall) -> Super:
    return Super(house.browser("Rufus Orme"))


def listed(house: Wall, detail: str = "garden-stair-rail") -> list[str]:
    return [a.name for a in house.snapshot().chain_of(detail)]


def posted(rufus: Super, path: str, **typed: str) -> int:
    return rufus.browser.post(path, {"key": f"{path} {typed}", **typed}).status_code


def test_one_press_lists_a_row_up_down_at_the_top_or_behind_another(house: Wall) -> None:
    rufus = Super(house.browser("Rufus Orme"))
    before = forecast(house.snapshot(), NOW)
    at = listed(house).index("Base coat")
    assert posted(rufus, f"{BOARD}/order", up="yes") == 303
    assert listed(house).index("Base coat") == at - 1
    assert posted(rufus, f"{BOARD}/order", down="yes") == 303
    assert listed(house).index("Base coat") == at
    assert posted(rufus, f"{BOARD}/order", behind_id="") == 303
    assert listed(house)[0] == "Base coat"
    assert posted(rufus, f"{BOARD}/order", behind_id="height") == 303
    assert listed(house)[:4] == ["Blocking", "Set stand-offs", "Height", "Base coat"]
    after = forecast(house.snapshot(), NOW)
    for activity in house.snapshot().chain:
        assert after[activity.id].early_start == before[activity.id].early_start


def test_at_either_end_of_the_list_a_row_stays(rufus: Super, house: Wall) -> None:
    rows = listed(house)
    assert posted(rufus, f"{PLAN}/blocking/order", up="yes") == 303
    assert posted(rufus, f"{PLAN}/second-coat/order", down="yes") == 303
    only = "/d/cellar-stair-rail/plan/cellar-frame/order"
    assert posted(rufus, only, down="yes") == 303
    assert listed(house) == rows


def test_a_row_that_is_not_there_is_refused_beside_the_field(rufus: Super) -> None:
    answer = rufus.browser.post(f"{BOARD}/order", {"key": "k", "behind_id": "cellar-frame"})
    assert answer.status_code in (404, 409, 410, 422)
    assert "behind_id" in refused(answer)


def test_rows_are_copied_here_with_one_press(rufus: Super, house: Wall) -> None:
    assert rufus.take(f"{PLAN}/height/copy", {}) == PLAN
    assert listed(house)[2:4] == ["Height", "Height 2"]


def test_before_rows_are_copied_elsewhere_it_is_said_what_is_left_out(
    rufus: Super, house: Wall
) -> None:
    asked = f"{PLAN}/hang-board/copy?activity_ids=hang-board&activity_ids=base-coat"
    path = f"{asked}&to_detail_id={CELLAR}"
    said = " ".join(rufus.page(path).text.split())
    assert "“Hang board” hides Stand-offs" in said
    assert "“Base coat” puts in Base coat" in said
    assert "puts in Board" not in said
    assert rufus.take(path, {}) == f"/d/{CELLAR}/plan"
    assert listed(house, CELLAR) == ["Cellar frame", "Hang board", "Base coat"]


def test_a_row_moves_to_another_detail_behind_one_there(rufus: Super, house: Wall) -> None:
    path = f"{PLAN}/second-coat/move?activity_ids=second-coat&to_detail_id={CELLAR}"
    assert "“Cellar frame”" in rufus.page(path).text
    assert rufus.take(path, {"behind_id": "behind “Cellar frame”"}) == f"/d/{CELLAR}/plan"
    assert listed(house, CELLAR) == ["Cellar frame", "Second coat"]


def test_a_row_moves_to_the_top_of_its_own_list(rufus: Super, house: Wall) -> None:
    rufus.take(f"{PLAN}/second-coat/move", {"behind_id": "at the top"})
    assert listed(house)[0] == "Second coat"


def test_what_has_happened_is_refused_and_says_so_beside_the_rows(rufus: Super) -> None:
    path = f"{PLAN}/blocking/move?activity_ids=blocking&to_detail_id={CELLAR}"
    answer = rufus.send(path, {})
    assert answer.status_code == 422
    assert "Something of “Blocking” has happened" in refused(answer)["activity_ids"]


def test_a_task_is_split_with_what_is_left_for_the_second(rufus: Super, house: Wall) -> None:
    assert "that visit is for both" in rufus.page(f"{PLAN}/hang-board/split").text
    rufus.take(
        f"{PLAN}/hang-board/split",
        {"name": "Hang low", "work": "1 h", "second_name": "Hang high",
         "parts_stand-offs": "the bottom three"},
    )  # fmt: skip
    snapshot = house.snapshot()
    (second,) = (a for a in snapshot.chain if a.name == "Hang high")
    covers = {
        (e.activity_id, e.parts) for e in snapshot.effects_on["stand-offs"] if e.verb == "covers"
    }
    assert second.work == 180
    assert covers == {("hang-board", (1, 2, 3)), (second.id, (4, 5, 6, 7))}
    assert snapshot.bookings["ninepail-plaster-1"].activity_ids == ("hang-board", second.id)


@pytest.mark.parametrize(
    ("typed", "field", "sentence"),
    [
        ({"work": ""}, "work", "Say how long"),
        ({"work": "4 h"}, "work", "leaves nothing"),
        ({"work": "1 h", "second_name": ""}, "second_name", "filled in"),
        ({"work": "1 h", "parts_stand-offs": "the green ones"}, "parts_stand-offs", "no parts"),
        ({"work": "1 h", "parts_stand-offs": "8"}, "parts_stand-offs", "It has 7 parts"),
    ],
)
def test_what_cannot_be_split_is_said_beside_its_field_and_kept(
    rufus: Super, typed: dict[str, str], field: str, sentence: str
) -> None:
    answer = rufus.send(f"{PLAN}/hang-board/split", {**typed})
    assert answer.status_code == 422
    assert sentence in refused(answer)[field]
    page = BeautifulSoup(answer.text, "html.parser")
    kept = page.select_one('[name="work"]')
    assert kept is not None
    assert kept["value"] == typed["work"]


def test_two_tasks_become_one(rufus: Super, house: Wall) -> None:
    house.browser("Rufus Orme").post("/visit/ninepail-plaster-1/end", {"key": "e"})
    rufus.take(
        f"{PLAN}/hang-board/merge",
        {"second_id": "Base coat, 1 d, after it", "name": "Board and base coat"},
    )
    assert "Board and base coat" in listed(house)
    assert "Base coat" not in listed(house)


def test_what_has_to_come_between_keeps_two_tasks_apart(rufus: Super) -> None:
    answer = rufus.send(f"{BOARD}/merge", {"second_id": "Second coat, 1 d, after it"})
    assert "“" not in refused(answer)["second_id"].partition("Base coat dries")[0]
    assert "Base coat dries" in refused(answer)["second_id"]


def test_a_side_is_renamed_and_one_with_layers_stays(rufus: Super, house: Wall) -> None:
    path = f"{PLAN}/sides/garden-stair-rail-stair-side"
    rufus.take(path, {"name": "Well side"})
    assert house.snapshot().sides["garden-stair-rail-stair-side"].name == "Well side"
    answer = rufus.browser.post(path, {"key": "e", "end": "yes"})
    assert "Stand-offs" in refused(answer)["side_id"]


def test_a_side_without_layers_is_taken_out(rufus: Super, house: Wall) -> None:
    rufus.take(f"{PLAN}/sides/new", {"name": "Soffit"})
    (side,) = (s for s in house.snapshot().sides.values() if s.name == "Soffit")
    page = rufus.page(f"{PLAN}/sides/{side.id}")
    assert page.select_one('input[name="end"]') is not None
    assert posted(rufus, f"{PLAN}/sides/{side.id}", end="yes") == 303
    assert side.id not in house.snapshot().sides


def test_a_layer_is_put_in_another_place(rufus: Super, house: Wall) -> None:
    path = f"{PLAN}/layers/board"
    answer = rufus.send(path, {"over_id": "the bearing side"}, action=f"{path}/over")
    assert answer.status_code == 303
    stack = layers_of(house.snapshot(), "garden-stair-rail-stair-side")
    assert stack[0].id == "board"
    wrong = rufus.send(path, {"over_id": "board"}, action=f"{path}/over")
    assert "over_id" in refused(wrong)


def test_a_floor_is_renamed_from_the_house(rufus: Super, house: Wall) -> None:
    link = rufus.page(f"/p/{PROJECT}").select_one('a[href$="/floors/main-floor"]')
    assert link is not None
    rufus.take(str(link["href"]), {"name": "Ground floor"})
    assert house.snapshot().floors["main-floor"].name == "Ground floor"
    answer = rufus.send(str(link["href"]), {"name": "Upper floor"})
    assert "name" in refused(answer)


def test_parts_of_a_layer_are_typed_in_words_and_written_back(rufus: Super, house: Wall) -> None:
    rufus.take(f"{PLAN}/hang-board", {"covers_stand-offs": "all but the bottom"})
    effects = house.snapshot().effects_of["hang-board"]
    assert (2, 3, 4, 5, 6, 7) in {e.parts for e in effects if e.layer_id == "stand-offs"}
    field = rufus.page(f"{PLAN}/hang-board").select_one('[name="covers_stand-offs"]')
    assert field is not None
    assert field["value"] == "all but 1"


def test_a_form_taken_as_it_stands_leaves_a_row_where_it_is(rufus: Super, house: Wall) -> None:
    rows = listed(house)
    for row in ("blocking", "height", "second-coat"):
        path = f"{PLAN}/{row}/move"
        form = rufus.page(path).select_one(f'form[method="post"][action="{path}"]')
        assert form is not None
        behind = form.select_one("option[selected]")
        assert behind is not None
        fields = {**fields_of(form), "behind_id": str(behind["value"])}
        assert rufus.browser.post(path, fields).status_code == 303  # type: ignore[arg-type]
        assert listed(house) == rows
