"""A crew's visits on its own page: what changed, the day before, and visits that were wasted."""

import shutil
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from datetime import datetime
from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from server.core.world import Telling
from tests.pages.at_the_wall import Browser, Wall, garden_rail
from tests.worlds import PROJECT, World, on

LEAD, OTHER = "Ninepail Plaster lead", "Ore Street Metal lead"
WASTED = "/visit/ninepail-plaster-1/wasted"
Serve = Callable[[World], Wall]


def at(day: str) -> World:
    """The garden stair rail as it stands on another day."""
    return garden_rail().with_changed("Tallow Creek", frozen_at=on(day))


def telling(id: str, crew: str = "ninepail-plaster", heard: datetime | None = None) -> Telling:
    return Telling(id=id, project_id=PROJECT, crew_id=crew, what="moves",
                   activity_ids=("hang-board",), was=on("Dec 4"), now=on("Dec 5"),
                   by_id="rufus-orme", at=on("Dec 3"), heard=heard)  # fmt: skip


@pytest.fixture
def serve(tmp_path: Path, migrated_sqlite: Path) -> Iterator[Serve]:
    """Serves any world."""
    with ExitStack() as stack:

        def start(world: World) -> Wall:
            shutil.copy(migrated_sqlite, tmp_path)
            return stack.enter_context(Wall.served(tmp_path, world))

        yield start


def said(browser: Browser) -> str:
    return " ".join(browser.get("/me").select_one("main").get_text(" ").split())  # type: ignore[union-attr]


# -- what changed -------------------------------------------------------------------------------


def test_what_changed_comes_first_and_is_the_crews_own(serve: Serve) -> None:
    wall = serve(garden_rail().put(telling("t-1"), telling("t-2", "ore-street-metal")))
    text = said(wall.browser(LEAD))
    assert text.startswith("What changed for you Quarry Road house Hang board, garden stair rail:")
    assert text.count("Fri Dec 5 instead of Thu Dec 4") == 1


def test_one_press_says_that_it_was_seen(serve: Serve) -> None:
    wall = serve(garden_rail().put(telling("t-1")))
    crew = wall.browser(LEAD)
    assert crew.send(crew.get("/me"), "/me/heard").status_code == 303
    heard = wall.snapshot().tellings["t-1"]
    assert (heard.heard, heard.heard_by_id) == (on("Dec 3 10:52"), "ninepail-plaster-lead")
    assert "What changed for you" not in said(crew)


def test_a_crew_cannot_see_for_another(serve: Serve) -> None:
    wall = serve(garden_rail().put(telling("t-1")))
    sent = {"telling_ids": "t-1", "project_id": PROJECT, "key": "key-of-a-press"}
    assert wall.browser(OTHER).post("/me/heard", sent).status_code == 404
    assert wall.snapshot().tellings["t-1"].heard is None


def test_the_super_sees_nothing_for_a_crew_there(serve: Serve) -> None:
    wall = serve(garden_rail().put(telling("t-1")))
    sent = {"telling_ids": "t-1", "project_id": PROJECT, "key": "key-of-a-press"}
    assert wall.browser("Rufus Orme").post("/me/heard", sent).status_code == 403


# -- the day before -----------------------------------------------------------------------------


def test_the_day_before_is_said_at_the_visit(serve: Serve) -> None:
    text = said(serve(garden_rail()).browser(LEAD))
    assert "Not ready: waits for “Height”; Ore Street Metal can move that" in text
    assert "Place clear" in text


def test_of_a_visit_further_off_only_its_day_is_said(serve: Serve) -> None:
    later = garden_rail().with_changed(
        "ninepail-plaster-1", start=on("Dec 9"), finish=on("Dec 9 11:00")
    )
    assert serve(later).browser(LEAD).get("/me").select(".amiss") == []


# -- came, could not work -----------------------------------------------------------------------


def test_before_its_day_a_visit_cannot_be_wasted(serve: Serve) -> None:
    page = serve(garden_rail()).browser(LEAD).get("/me")
    assert page.select_one(f'form[action="{WASTED}"]') is None


def test_a_wasted_visit_is_kept_and_stands_on_the_page_with_its_day(serve: Serve) -> None:
    wall = serve(at("Dec 4 7:30"))
    crew = wall.browser(LEAD)
    typed = {"why": "Nobody had looked at the stand-offs"}
    assert crew.send(crew.get("/me"), WASTED, {**typed}).status_code == 303
    visit = wall.snapshot().bookings["ninepail-plaster-1"]
    assert (visit.wasted, visit.wasted_at) == (typed["why"], on("Dec 4 7:30"))
    text = said(crew)
    assert "Thu Dec 4 Hang board : Nobody had looked at the stand-offs" in text
    assert crew.get("/me").select_one(f'form[action="{WASTED}"]') is None


def test_why_it_was_wasted_has_to_be_said(serve: Serve) -> None:
    crew = serve(at("Dec 4 7:30")).browser(LEAD)
    answer = crew.send(crew.get("/me"), WASTED, {"why": " "})
    assert answer.status_code == 422
    page = BeautifulSoup(answer.text, "html.parser")
    assert page.select_one("#why-e") is not None
    assert page.select_one(f'details[open] form[action="{WASTED}"]') is not None


def test_the_day_after_a_visit_it_can_still_be_said_and_no_longer_answered(serve: Serve) -> None:
    page = serve(at("Dec 5 7:30")).browser(LEAD).get("/me")
    assert page.select_one(f'form[action="{WASTED}"]') is not None
    assert page.select_one('form[action="/visit/ninepail-plaster-1/answer"]') is None


def test_a_visit_on_which_work_began_and_that_is_over_is_gone(serve: Serve) -> None:
    worked = at("Dec 5 7:30").with_changed("Hang board", started=on("Dec 4"))
    assert serve(worked).browser(LEAD).get("/me").select(f'form[action="{WASTED}"]') == []


def test_after_180_days_a_wasted_visit_is_no_longer_told(serve: Serve) -> None:
    old = garden_rail().with_changed(
        "ninepail-plaster-1", start=datetime(2025, 5, 1, 7), finish=datetime(2025, 5, 1, 15),
        wasted="Locked out", wasted_at=datetime(2025, 5, 1, 8), ended=datetime(2025, 5, 1, 8),
    )  # fmt: skip
    assert "Locked out" not in said(serve(old).browser(LEAD))


def test_a_crew_cannot_waste_anothers_visit(serve: Serve) -> None:
    wall = serve(at("Dec 4 7:30"))
    sent = {"why": "No power", "key": "key-of-a-press"}
    assert wall.browser(OTHER).post(WASTED, sent).status_code == 404
    assert wall.snapshot().bookings["ninepail-plaster-1"].wasted == ""


# -- the promised days --------------------------------------------------------------------------


def test_how_often_the_crew_came_is_a_sentence_once_a_day_was_due(serve: Serve) -> None:
    promised = at("Dec 5 7:30").with_changed("ninepail-plaster-1", promised=on("Dec 4"))
    came = promised.with_changed("Hang board", started=on("Dec 4"))
    assert "Came on the promised day 1 of 1 time." in said(serve(came).browser(LEAD))


def test_where_no_day_was_due_yet_nothing_is_said(serve: Serve) -> None:
    promised = garden_rail().with_changed("ninepail-plaster-1", promised=on("Dec 4"))
    assert "promised day" not in said(serve(promised).browser(LEAD))


def test_work_that_waits_opens_and_says_why_then(serve: Serve) -> None:
    page = serve(garden_rail()).browser(LEAD).get("/me")
    why = "/d/garden-stair-rail/a/base-coat/why"
    assert page.select_one(f'.goes details.why a[href="{why}"]') is not None
