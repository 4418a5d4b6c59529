"""Started, done, and a start that a check holds: told whose it is and how to reach them."""

from bs4 import BeautifulSoup
from httpx import Response

from tests.pages.at_the_wall import CHECK, WITHIN, Browser, Wall
from tests.pages.check.test_deciding import marked

BOARD = "/d/garden-stair-rail/a/hang-board"
START = f"{BOARD}/start"


def ninepail(wall: Wall) -> Browser:
    return wall.browser("Ninepail Plaster lead")


def released(wall: Wall) -> None:
    rufus = marked(wall, WITHIN)
    rufus.send(rufus.get(CHECK), f"{CHECK}/release")


def held(answer: Response) -> BeautifulSoup:
    assert answer.status_code == 422, answer.text[:300]
    return BeautifulSoup(answer.text, "html.parser")


def test_a_start_over_an_open_check_says_which_and_how_to_reach_whom(wall: Wall) -> None:
    crew = ninepail(wall)
    page = held(crew.send(crew.get("/d/garden-stair-rail"), START))
    errors = page.select_one(".errors")
    assert errors is not None
    assert "Height" in errors.text
    assert "Rufus Orme" in errors.text
    reach = [str(a["href"]) for a in page.select(".holding a")]
    assert reach[:2] == [CHECK, "tel:5550100"]
    assert reach[2].startswith("sms:5550100?body=Garden%20stair%20rail")
    assert wall.snapshot().activities["hang-board"].started is None


def test_a_crew_is_not_asked_why_it_happened_anyway(wall: Wall) -> None:
    crew = ninepail(wall)
    page = held(crew.send(crew.get("/d/garden-stair-rail"), START))
    assert page.select_one("#start_anyway") is None
    assert not page.select('.errors a[href="#start_anyway"]')


def test_the_super_records_that_it_happened_anyway_with_a_reason(wall: Wall) -> None:
    rufus = wall.browser("Rufus Orme")
    page = held(rufus.send(rufus.get(BOARD), START))
    answer = rufus.send(page, START, {"start_anyway": "Board was up when I came"})
    assert answer.status_code == 303, answer.text
    assert wall.snapshot().activities["hang-board"].anyway == "Board was up when I came"


def test_after_the_ok_the_crew_starts_and_ends_with_one_press_each(wall: Wall) -> None:
    released(wall)
    crew = ninepail(wall)
    assert crew.send(crew.get("/d/garden-stair-rail"), START).status_code == 303
    assert crew.send(crew.get("/d/garden-stair-rail"), f"{BOARD}/finish").status_code == 303
    board = wall.snapshot().activities["hang-board"]
    assert board.started is not None
    assert board.finished is not None


def test_a_time_that_has_not_come_is_refused_and_kept(wall: Wall) -> None:
    released(wall)
    crew = ninepail(wall)
    answer = crew.send(crew.get(BOARD), START, {"start_when": "2025-12-09T07:00"})
    page = held(answer)
    assert page.select_one("#start_when-e") is not None
    box = page.select_one("#start_when")
    assert box is not None
    assert box["value"] == "2025-12-09T07:00"


def test_a_press_by_htmx_is_answered_by_its_part_alone(wall: Wall) -> None:
    crew = ninepail(wall)
    answer = crew.send(
        crew.get("/d/garden-stair-rail"), START, None, None, **{"HX-Request": "true"}
    )
    page = held(answer)
    assert page.select_one("html") is None
    assert page.select_one(".errors") is not None


def test_another_crew_does_not_start_it(wall: Wall) -> None:
    answer = wall.browser("Thimble Hill Framing lead").post(START, {})
    assert answer.status_code == 403


def test_a_start_taken_back_needs_a_reason(wall: Wall) -> None:
    released(wall)
    crew, rufus = ninepail(wall), wall.browser("Rufus Orme")
    crew.send(crew.get("/d/garden-stair-rail"), START)
    back = f"{BOARD}/back"
    assert held(rufus.send(rufus.get(BOARD), back)).select_one("#back_reason-e") is not None
    assert rufus.send(rufus.get(BOARD), back, {"back_reason": "Wrong wall"}).status_code == 303
    assert wall.snapshot().activities["hang-board"].started is None
