"""What it pushes: shown first, then agreed to in one go, or dropped."""

import shutil
from pathlib import Path
from urllib.parse import urlencode

import pytest
from bs4 import BeautifulSoup

from tests.pages.at_the_wall import NOW, Browser, Wall, garden_rail
from tests.worlds import HOUR, on

DETAIL = "/d/garden-stair-rail"
BOARD = f"{DETAIL}/push/hang-board"
TOLD = "/p/quarry-road/told"
FRIDAY = {"what": "visit", "day": "2025-12-05T07:00"}


def shown(browser: Browser, address: str, **asked: str) -> BeautifulSoup:
    return browser.get(f"{address}?{urlencode(asked)}")


def text(page: BeautifulSoup) -> str:
    return " ".join(page.select_one("main").get_text(" ").split())  # type: ignore[union-attr]


def agreed(wall: Wall, address: str, asked: dict[str, str], cause: str = "") -> Browser:
    browser = wall.browser("Rufus Orme")
    answer = browser.send(shown(browser, address, **asked), address, {"cause": cause})
    assert (answer.status_code, answer.headers["location"]) == (303, TOLD)
    return browser


def test_nothing_is_done_by_looking(wall: Wall) -> None:
    before = wall.snapshot()
    shown(wall.browser("Rufus Orme"), BOARD, **FRIDAY)
    assert wall.snapshot() == before


def test_another_day_of_a_crew_shows_what_moves_and_whom_to_tell(wall: Wall) -> None:
    said = text(shown(wall.browser("Rufus Orme"), BOARD, **FRIDAY))
    assert "Ninepail Plaster comes Fri Dec 5, 7 am instead of tomorrow 7 am." in said
    assert "Fri Dec 5 Hang board instead of Wed Dec 3" in said
    assert "Ninepail Plaster is asked for Fri Dec 5, 7 am instead of tomorrow 7 am" in said
    assert "1 crew to tell" in said


def test_agreeing_moves_the_visit_and_the_work_and_tells_the_crew(wall: Wall) -> None:
    browser = agreed(wall, BOARD, FRIDAY, "Their lift broke down")
    snapshot = wall.snapshot()
    visit = snapshot.bookings["ninepail-plaster-1"]
    assert (visit.start, visit.state) == (on("Dec 5"), "asked")
    assert snapshot.activities["hang-board"].not_before == on("Dec 5")
    (telling,) = snapshot.tellings.values()
    assert (telling.crew_id, telling.what, telling.was, telling.now) == (
        "ninepail-plaster", "moves", on("Dec 4"), on("Dec 5"),
    )  # fmt: skip
    assert [c.text for c in snapshot.causes.values()] == ["Their lift broke down"]
    said = text(browser.get(TOLD))
    assert "Ninepail Plaster" in said
    assert "Fri Dec 5" in said


def test_the_hours_of_the_other_day_may_be_said(wall: Wall) -> None:
    agreed(wall, BOARD, {**FRIDAY, "finish": "2025-12-05T15:30"})
    assert wall.snapshot().bookings["ninepail-plaster-1"].finish == on("Dec 5 15:30")


def test_the_day_that_a_crew_offers_is_offered_first(wall: Wall) -> None:
    crew = wall.browser("Ninepail Plaster lead")
    typed = {"answer": "cannot", "other_day": "2025-12-09T07:00"}
    crew.post("/visit/ninepail-plaster-1/answer", typed)
    page = wall.browser("Rufus Orme").get(BOARD)
    assert page.select_one("#else ~ p a").text == "Ninepail Plaster comes Tue Dec 9 instead"  # type: ignore[union-attr]


def test_a_visit_of_work_under_way_moves_alone(tmp_path: Path, migrated_sqlite: Path) -> None:
    shutil.copy(migrated_sqlite, tmp_path)
    looked = garden_rail().with_changed("Height", started=NOW, finished=NOW)
    with Wall.served(tmp_path, looked.with_changed("Hang board", started=NOW)) as wall:
        agreed(wall, BOARD, FRIDAY)
        snapshot = wall.snapshot()
    assert snapshot.activities["hang-board"].not_before is None
    assert snapshot.bookings["ninepail-plaster-1"].start == on("Dec 5")


def test_one_log_entry_holds_all_of_it(wall: Wall) -> None:
    before = wall.snapshot().project_revision
    agreed(wall, BOARD, FRIDAY)
    assert wall.snapshot().project_revision == before + 1


@pytest.mark.parametrize(
    ("asked", "not_before"),
    [
        ({"what": "later", "days": "3"}, on("Dec 8 10:45")),
        ({"what": "day", "until": "2025-12-10T07:00"}, on("Dec 10")),
    ],
)
def test_later_moves_the_work_and_its_visit(
    wall: Wall, asked: dict[str, str], not_before: object
) -> None:
    agreed(wall, BOARD, asked)
    snapshot = wall.snapshot()
    assert snapshot.activities["hang-board"].not_before == not_before
    assert snapshot.bookings["ninepail-plaster-1"].start == not_before


def test_a_wait_takes_longer(wall: Wall) -> None:
    agreed(wall, f"{DETAIL}/push/base-coat-dries", {"what": "more", "more": "48 h"})
    assert wall.snapshot().activities["base-coat-dries"].work == 5 * 24 * HOUR


def test_a_wait_takes_days_of_the_clock(wall: Wall) -> None:
    agreed(wall, f"{DETAIL}/push/base-coat-dries", {"what": "takes", "takes": "2 days"})
    assert wall.snapshot().activities["base-coat-dries"].work == 2 * 24 * HOUR


@pytest.mark.parametrize(
    ("asked", "sentence"),
    [
        ({"what": "later", "days": ""}, "has to be filled in"),
        ({"what": "later", "days": "many"}, "whole number"),
        ({"what": "day", "until": "2025-02-30T07:00"}, "not a day there is"),
        ({"what": "day", "until": "2025-12-01T07:00"}, "is past"),
        ({"what": "takes", "takes": "long"}, "days"),
        ({"what": "takes", "takes": "900 days"}, "Between 1 and"),
        ({"what": "done"}, "Not yet."),
        ({"what": "nonsense"}, "Choose what is to be shown"),
    ],
)
def test_what_cannot_be_shown_is_said_beside_its_field_and_kept(
    wall: Wall, asked: dict[str, str], sentence: str
) -> None:
    page = shown(wall.browser("Rufus Orme"), BOARD, **asked)
    assert sentence in text(page)
    assert page.select_one('input[name="shown"]') is None
    for name, typed in asked.items():
        if name != "what":
            assert page.select_one(f'#{name}[value="{typed}"][aria-invalid]') is not None


def test_what_has_changed_meanwhile_is_shown_anew_and_not_done(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    asked = {"what": "later", "days": "3"}
    page = shown(browser, BOARD, **asked)
    agreed(wall, f"{DETAIL}/push/base-coat", {"what": "later", "days": "10"})
    before = wall.snapshot()
    answer = browser.send(page, BOARD, {"cause": "Rain"})
    assert answer.status_code == 409
    again = BeautifulSoup(answer.text, "html.parser")
    assert "pushes other things now" in text(again)
    assert again.select_one("#cause").text == "Rain"  # type: ignore[union-attr]
    assert wall.snapshot() == before
    assert browser.send(again, BOARD, {"cause": "Rain"}).status_code == 303


def test_only_the_super_may_look_at_what_it_pushes(wall: Wall) -> None:
    for person in ("Ninepail Plaster lead", "Lou Vance"):
        assert wall.browser(person).status(f"{BOARD}?what=later&days=3") in (403, 404)


def test_the_page_alone_asks_what_it_would_be(wall: Wall) -> None:
    page = wall.browser("Rufus Orme").get(BOARD)
    assert "What would it be?" in text(page)
    assert page.select_one('a[href*="what=visit"]') is not None
