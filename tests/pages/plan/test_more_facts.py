"""The folded part of the forms: what most work and most layers do not need."""

import shutil
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from server.core.world import Effect, TemporaryWork
from tests.pages.at_the_wall import CHECK, PROJECT, Wall, garden_rail
from tests.pages.plan.typing_in import Super, Typed, refused
from tests.worlds import CLOCK_DAY, on

PLAN = "/d/garden-stair-rail/plan"
BOARD = f"{PLAN}/hang-board"
SCAFFOLD = TemporaryWork(
    id="tower", project_id=PROJECT, kind="scaffold", name="Tower", put_in=on("Dec 1")
)


@pytest.fixture
def rich(tmp_path: Path, migrated_sqlite: Path) -> Iterator[Wall]:
    """The garden rail with a delivery, a decision, a way up, a scaffold that is out again."""
    shutil.copy(migrated_sqlite, tmp_path)
    world = (
        garden_rail()
        .with_way("Old stair")
        .with_delivery("Rail", crew="Ore Street Metal")
        .with_decision("Sample accepted")
        .put(SCAFFOLD, replace(SCAFFOLD, id="ladder", name="Ladder", taken_out=on("Dec 2")))
    )
    with Wall.served(tmp_path, world) as served:
        yield served


@pytest.fixture
def dell(rich: Wall) -> Super:
    """The super of that house."""
    return Super(rich.browser("Rufus Orme"))


ALL: Typed = {
    "needs_open": "stand-offs",
    "needs_open_stand-offs": "1-3",
    "stuff": "joint compound",
    "finish_wood": "yes",
    "shakes": "yes",
    "hot": "yes",
    "fire_watch": "yes",
    "carries_datum": "yes",
    "circuit": "7",
    "temporary": "stands on",
    "temporary_id": "Tower",
    "way_in_id": "Old stair",
    "sample_id": "Sample accepted (Garden stair rail)",
    "sheet_id": "A-402, revision C",
    "covers": [],
}


def test_more_facts_of_a_task_are_taken_and_stand_in_its_form_again(
    rich: Wall, dell: Super
) -> None:
    dell.take(BOARD, ALL)
    board = rich.snapshot().activities["hang-board"]
    assert (board.stuff, board.circuit, board.temporary) == ("compound", "7", "stands on")
    assert (board.temporary_id, board.way_in_id) == ("tower", "old-stair")
    assert (board.sample_id, board.sheet_id) == ("sample-accepted", "a-402")
    ticks = (board.finish_wood, board.shakes, board.fire_watch, board.carries_datum)
    assert ticks == (True, True, True, True)
    needs = [e for e in rich.snapshot().effects_of["hang-board"] if e.verb == "needs open"]
    assert [(e.layer_id, e.parts) for e in needs] == [("stand-offs", (1, 2, 3))]
    dell.take(BOARD, {"name": "Hang the board"})
    again = rich.snapshot().activities["hang-board"]
    assert again == replace(board, name="Hang the board", version=again.version)
    assert "More facts: 11 said" in dell.page(BOARD).text
    assert "needs open Stand-offs (1-3)" in dell.page(PLAN).text


def test_a_delivery_says_how_long_its_review_takes_by_the_clock(rich: Wall, dell: Super) -> None:
    dell.take(f"{PLAN}/rail", {"review": "1 wk", "finish_wood": "yes"})
    rail = rich.snapshot().activities["rail"]
    assert (rail.review, rail.finish_wood) == (7 * CLOCK_DAY, True)


def test_a_wait_says_what_dries(rich: Wall, dell: Super) -> None:
    dell.take(f"{PLAN}/base-coat-dries", {"stuff": "gypsum"})
    assert rich.snapshot().activities["base-coat-dries"].stuff == "gypsum"


def test_a_decision_has_no_more_facts(dell: Super) -> None:
    assert "More facts" not in dell.page(f"{PLAN}/sample-accepted").text


def test_a_temporary_work_that_is_out_is_not_offered(dell: Super) -> None:
    offered = [o.text.strip() for o in dell.page(BOARD).select("#temporary_id option")]
    assert offered == ["none", "Tower"]


@pytest.mark.parametrize(
    ("path", "typed", "field", "said"),
    [
        (BOARD, {"fire_watch": "yes"}, "fire_watch", "goes with hot work"),
        (BOARD, {"temporary": "strikes"}, "temporary_id", "Say which temporary work"),
        (BOARD, {"temporary_id": "Tower"}, "temporary", "sets, strikes or stands on"),
        (BOARD, {"stuff": "mud"}, "stuff", "not one of the choices"),
        (BOARD, {"needs_open": "board"}, "needs_open", "for the task that puts it in"),
        (BOARD, {"needs_open_stand-offs": "9-6"}, "needs_open_stand-offs", "Write it as 1-3, 5"),
        (f"{PLAN}/rail", {"review": "soon"}, "review", "is not a length of time"),
    ],
)
def test_a_refusal_stands_beside_its_field_and_the_folded_part_is_open(
    rich: Wall, dell: Super, path: str, typed: Typed, field: str, said: str
) -> None:
    before = rich.snapshot()
    answer = dell.send(path, typed)
    assert answer.status_code == 422
    assert said in refused(answer).get(field, ""), refused(answer)
    assert '<details class="more" open><summary>More facts' in answer.text
    assert rich.snapshot() == before


def test_the_folded_part_is_closed_when_nothing_in_it_is_wrong(dell: Super) -> None:
    assert '<details class="more"><summary>More facts' in dell.send(BOARD, {"work": "soon"}).text


def test_a_layer_may_be_a_finished_face_and_powered(rail: Wall, rufus: Super) -> None:
    layer = f"{PLAN}/layers/base-coat"
    rufus.take(layer, {"finished": "yes", "powered": "yes"})
    coat = rail.snapshot().layers["base-coat"]
    assert (coat.finished, coat.powered) == (True, True)
    assert "More facts: 2 said" in rufus.page(layer).text
    assert "finished face, tried before it is hidden" in rufus.page(PLAN).text


def test_what_a_task_needs_open_is_no_effect_that_hides_or_opens(rich: Wall, dell: Super) -> None:
    dell.take(BOARD, {"needs_open": "studs-and-blocking", "covers": ["stand-offs"]})
    effects: tuple[Effect, ...] = rich.snapshot().effects_of["hang-board"]
    assert {(e.verb, e.layer_id) for e in effects} == {
        ("puts in", "board"),
        ("covers", "stand-offs"),
        ("needs open", "studs-and-blocking"),
    }


def test_where_the_numbers_of_a_check_come_from_is_typed_and_stands_at_the_wall(
    rich: Wall, dell: Super
) -> None:
    source = "36 in: from memory of IRC R312.1.2. The local code rules."
    dell.take(f"{PLAN}/height", {"source": source})
    assert rich.snapshot().holds["height-check"].source == source
    crew = rich.browser("Ore Street Metal lead").get(CHECK)
    assert source in [one.get_text() for one in crew.select("dl.facts dd")]
