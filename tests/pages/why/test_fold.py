"""Why a date is where it is: in a fold for htmx, on a page of its own without it."""

import shutil
from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from tests.pages.at_the_wall import Wall, garden_rail
from tests.worlds import DAY, World, on

DETAIL = "/d/garden-stair-rail"
HTMX = {"HX-Request": "true"}


def why(wall: Wall, activity: str, person: str = "Rufus Orme") -> str:
    page = wall.browser(person).get(f"{DETAIL}/a/{activity}/why")
    return " ".join(page.select_one("main").text.split())  # type: ignore[union-attr]


def served(folder: Path, migrated: Path, world: World) -> str:
    shutil.copy(migrated, folder)
    with Wall.served(folder, world) as wall:
        return why(wall, "trim")


@pytest.mark.parametrize("person", ["Rufus Orme", "Ninepail Plaster lead", "Lou Vance"])
def test_whoever_sees_the_detail_may_ask_why(wall: Wall, person: str) -> None:
    assert "Set by" in why(wall, "hang-board", person)


def test_what_sets_the_date_is_said_with_what_it_waits_for(wall: Wall) -> None:
    said = why(wall, "hang-board")
    assert "“Height” (to be looked at) is OK to cover today 10:45 am at the earliest" in said
    assert "It all hangs on “Height”: Ore Street Metal can move that." in said


def test_only_who_runs_the_work_is_offered_another_date(wall: Wall) -> None:
    offered = "3 working days later"
    assert offered in why(wall, "hang-board")
    assert offered not in why(wall, "hang-board", "Lou Vance")
    assert offered not in why(wall, "hang-board", "Ninepail Plaster lead")


def test_the_hours_of_the_crew_are_said_where_they_move_the_date(
    tmp_path: Path, migrated_sqlite: Path
) -> None:
    world = garden_rail().with_task(
        "Trim", DAY, crew="Thimble Hill Framing", after="Base coat dries"
    )
    said = served(tmp_path, migrated_sqlite, world)
    assert "Base coat dries till Sun Dec 7, 3:15 pm" in said
    assert "; Thimble Hill Framing works from 7 am, so Mon Dec 8, 7 am." in said


def test_what_it_would_take_to_be_earlier_is_said(tmp_path: Path, migrated_sqlite: Path) -> None:
    world = garden_rail().with_task(
        "Trim", DAY, crew="Thimble Hill Framing", after="Hang board", not_before=on("Dec 15")
    )
    said = served(tmp_path, migrated_sqlite, world)
    assert "Set by Not before Mon Dec 15, 7 am" in said
    assert "working days earlier if that comes sooner" in said


def test_what_is_done_has_a_date_and_no_other(wall: Wall) -> None:
    said = why(wall, "blocking")
    assert "It happened" in said
    assert "What it pushes" not in said


def test_htmx_gets_the_fold_alone(wall: Wall) -> None:
    answer = wall.browser("Rufus Orme").client.get(f"{DETAIL}/a/hang-board/why", headers=HTMX)
    page = BeautifulSoup(answer.text, "html.parser")
    assert page.select_one(".set-by") is not None
    assert page.select_one("h1") is None


def test_every_forecast_line_of_the_order_of_work_opens(wall: Wall) -> None:
    page = wall.browser("Rufus Orme").get(DETAIL)
    opened = {str(fold["hx-get"]) for fold in page.select(".rope details.why [hx-get]")}
    waiting = ("height", "hang-board", "base-coat", "base-coat-dries")
    assert opened == {f"{DETAIL}/a/{id}/why" for id in waiting}


def test_an_activity_of_another_detail_is_not_here(wall: Wall) -> None:
    assert wall.browser("Rufus Orme").status(f"{DETAIL}/a/no-such/why") == 404
