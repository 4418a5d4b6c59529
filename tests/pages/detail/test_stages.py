"""How far a delivery has come, and a dead circuit, recorded on the page of an activity."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from tests.pages.at_the_wall import Browser, Wall, garden_rail
from tests.worlds import on

RAIL = "/d/garden-stair-rail/a/rail"
WIRE = "/d/garden-stair-rail/a/wire-the-niche"


@pytest.fixture
def supplied(tmp_path: Path, migrated_sqlite: Path) -> Iterator[Wall]:
    """The garden rail with a rail to come and wire in the wall."""
    shutil.copy(migrated_sqlite, tmp_path)
    world = (
        garden_rail()
        .with_delivery("Rail", crew="Ore Street Metal", sheet_id="a-402")
        .with_task("Wire the niche", crew="Thimble Hill Framing", circuit="Circuit 7")
        .with_effect("Wire the niche", "needs open", "Studs and blocking")
    )
    with Wall.served(tmp_path, world) as served:
        yield served


def ore(wall: Wall) -> Browser:
    return wall.browser("Ore Street Metal lead")


def test_a_crew_records_how_far_its_delivery_has_come(supplied: Wall) -> None:
    crew = ore(supplied)
    typed: dict[str, str | list[str]] = {
        "stage_stage": "measured",
        "stage_when": "2025-12-02T09:00",
    }
    assert crew.send(crew.get(RAIL), f"{RAIL}/stage", typed).status_code == 303
    assert supplied.snapshot().activities["rail"].measured == on("Dec 2 9:00")
    page = crew.get(RAIL)
    assert "measured yesterday 9 am" in page.text
    chosen = page.select_one("#stage_stage option[selected]")
    assert chosen is not None
    assert chosen["value"] == "drawn"


def test_what_cannot_be_is_said_beside_its_field_and_what_was_chosen_stays(supplied: Wall) -> None:
    crew = ore(supplied)
    answer = crew.send(crew.get(RAIL), f"{RAIL}/stage", {"stage_stage": "approved"})
    page = BeautifulSoup(answer.text, "html.parser")
    assert answer.status_code == 422
    said, chosen = page.select_one("#stage_when-e"), page.select_one("#stage_stage [selected]")
    assert said is not None
    assert "drawn up" in said.text
    assert chosen is not None
    assert chosen["value"] == "approved"


def test_a_circuit_is_recorded_dead_in_the_words_of_who_may_say_so(supplied: Wall) -> None:
    crew = supplied.browser("Thimble Hill Framing lead")
    page = crew.get(WIRE)
    assert "Circuit 7: not recorded dead" in page.text
    assert "The licensed electrician switches it off, tries it, locks it" in page.text
    sent = crew.send(page, f"{WIRE}/dead", {"dead_when": "2025-12-03T08:00"})
    assert sent.status_code == 303
    assert supplied.snapshot().activities["wire-the-niche"].circuit_dead == on("Dec 3 8:00")
    assert "dead, tried and locked today 8 am" in crew.get(WIRE).text


def test_work_without_a_circuit_asks_for_none(supplied: Wall) -> None:
    board = supplied.browser("Rufus Orme").get("/d/garden-stair-rail/a/hang-board")
    assert board.select_one('form[action$="/dead"]') is None


@pytest.mark.parametrize(("path", "press"), [(RAIL, "stage"), (WIRE, "dead")])
def test_another_crew_is_not_asked_and_not_let(supplied: Wall, path: str, press: str) -> None:
    crew = supplied.browser("Ninepail Plaster lead")
    assert crew.get(path).select_one(f'form[action="{path}/{press}"]') is None
    typed = {"stage_stage": "measured", "key": "k1"}
    assert crew.post(f"{path}/{press}", typed).status_code == 403


def test_the_page_says_what_work_needs_open_and_what_a_delivery_is_made_to(supplied: Wall) -> None:
    rufus = supplied.browser("Rufus Orme")
    assert "drawing A-402, revision C" in rufus.get(RAIL).text
    needs = [dt.find_next("dd") for dt in rufus.get(WIRE).select("dt") if dt.text == "Needs open"]
    assert [dd.text for dd in needs if dd is not None] == ["Studs and blocking"]
