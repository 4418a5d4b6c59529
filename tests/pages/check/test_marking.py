"""A crew marks its check: seven numbers and a photo, with and without JavaScript."""

import pytest
from bs4 import BeautifulSoup

from server.core.states import hold_state
from tests.pages.at_the_wall import CHECK, THIRD_HIGH, WITHIN, Browser, Wall, photo

MARK = f"{CHECK}/mark"


def typed(numbers: tuple[str, ...]) -> dict[str, str | list[str]]:
    return {f"ask-height-{part}": number for part, number in enumerate(numbers, 1)}


def a_photo(name: str = "pole.jpg") -> list[tuple[str, tuple[str, bytes, str]]]:
    return [("photo", (name, photo(), "image/jpeg"))]


def ore(wall: Wall) -> Browser:
    return wall.browser("Ore Street Metal lead")


def refused(wall: Wall, numbers: tuple[str, ...]) -> BeautifulSoup:
    browser = ore(wall)
    answer = browser.send(browser.get(CHECK), MARK, typed(numbers), a_photo())
    assert answer.status_code == 422
    return BeautifulSoup(answer.text, "html.parser")


def beside(page: BeautifulSoup, field: str) -> str:
    found = page.select_one(f"#{field}-e")
    assert found is not None, page.select_one(".errors")
    return found.text


def test_seven_numbers_and_a_photo_in_one_form_mark_the_check(wall: Wall) -> None:
    browser = ore(wall)
    answer = browser.send(browser.get(CHECK), MARK, typed(WITHIN), a_photo())
    assert answer.status_code == 303, answer.text
    snapshot = wall.snapshot()
    (attempt,) = snapshot.attempts_of["height-check"]
    assert hold_state(snapshot, snapshot.holds["height-check"]) == "marked"
    assert [m.typed for m in snapshot.measurements_of[attempt.id]] == list(WITHIN)
    assert [p.attempt_id for p in snapshot.photos.values()] == [attempt.id]


def test_the_marked_numbers_stand_on_the_page_with_their_verdicts(wall: Wall) -> None:
    browser = ore(wall)
    browser.send(browser.get(CHECK), MARK, typed(THIRD_HIGH), a_photo())
    page = browser.get(CHECK)
    said = [number.text for number in page.select("dl.facts .verdict")]
    assert said == ["within", "within", "1/16 high", "within", "within", "within", "within"]
    assert page.select_one(".ph img") is not None


@pytest.mark.parametrize(
    ("number", "why"),
    [
        ("1/0", "has 0 under the line"),
        ("36,06", "write 36.06"),
        ("1,016", "can be read two ways"),
        ("914", "914 mm?"),
        ("abc", "is not a number"),
        ("", "Type the number you read"),
    ],
)
def test_a_number_that_cannot_be_read_is_refused_beside_its_box(
    wall: Wall, number: str, why: str
) -> None:
    page = refused(wall, (*WITHIN[:3], number, *WITHIN[4:]))
    assert why in beside(page, "ask-height-4")
    box = page.select_one("#ask-height-4")
    assert box is not None
    assert (box["value"], box["aria-invalid"]) == (number, "true")


def test_a_refused_form_keeps_the_other_numbers_and_the_photo(wall: Wall) -> None:
    page = refused(wall, (*WITHIN[:3], "1/0", *WITHIN[4:]))
    kept = [box["value"] for box in page.select(".m input")]
    assert kept == [*WITHIN[:3], "1/0", *WITHIN[4:]]
    assert len(page.select(".ph img")) == 1


def test_the_photo_that_a_refusal_kept_is_used_by_the_next_press(wall: Wall) -> None:
    browser = ore(wall)
    answer = browser.send(browser.get(CHECK), MARK, typed(("1/0", *WITHIN[1:])), a_photo())
    page = BeautifulSoup(answer.text, "html.parser")
    again = browser.send(page, MARK, typed(WITHIN))
    assert again.status_code == 303, again.text
    assert len(wall.snapshot().attempts_of["height-check"]) == 1


def test_a_missing_photo_is_said_beside_the_camera(wall: Wall) -> None:
    browser = ore(wall)
    answer = browser.send(browser.get(CHECK), MARK, typed(WITHIN))
    page = BeautifulSoup(answer.text, "html.parser")
    assert answer.status_code == 422
    assert "photo" in beside(page, "photo")


def test_a_file_that_is_no_photo_is_said_beside_the_camera(wall: Wall) -> None:
    browser = ore(wall)
    files = [("photo", ("list.jpg", b"no picture at all", "image/jpeg"))]
    answer = browser.send(browser.get(CHECK), MARK, typed(WITHIN), files)
    assert "This file is not a photo" in beside(BeautifulSoup(answer.text, "html.parser"), "photo")


def test_the_same_form_sent_twice_marks_once(wall: Wall) -> None:
    browser = ore(wall)
    page = browser.get(CHECK)
    first = browser.send(page, MARK, typed(WITHIN), a_photo())
    second = browser.send(page, MARK, typed(WITHIN), a_photo())
    assert (first.status_code, second.status_code) == (303, 303)
    assert len(wall.snapshot().attempts_of["height-check"]) == 1


def test_a_photo_sent_by_itself_comes_back_as_a_draft(wall: Wall) -> None:
    browser = ore(wall)
    answer = browser.client.post(
        f"{CHECK}/photos",
        data={"key": "one"},
        files=a_photo(),
        headers={"Sec-Fetch-Site": "same-origin", "HX-Request": "true"},
    )
    part = BeautifulSoup(answer.text, "html.parser")
    assert answer.status_code == 200
    assert part.select_one("html") is None
    assert len(part.select(".ph img")) == 1


def test_a_draft_can_be_taken_away_and_the_numbers_typed_stay(wall: Wall) -> None:
    browser = ore(wall)
    answer = browser.send(browser.get(CHECK), MARK, typed(("1/0", *WITHIN[1:])), a_photo())
    page = BeautifulSoup(answer.text, "html.parser")
    drop = page.select_one("button[formaction]")
    assert drop is not None
    after = browser.post(str(drop["formaction"]), {"ask-height-1": "36 1/2"})
    left = BeautifulSoup(after.text, "html.parser")
    assert not left.select(".ph img")
    box = left.select_one("#ask-height-1")
    assert box is not None
    assert box["value"] == "36 1/2"


def test_a_number_is_judged_while_it_is_typed(wall: Wall) -> None:
    browser = ore(wall)
    said = [
        browser.post(f"{CHECK}/judge", {"ask-height-3": number}).text.strip()
        for number in ("36 1/8", "36 3/16", "36 3/8", "914")
    ]
    assert "within" in said[0]
    assert "1/16 high" in said[1]
    assert "1/4 high, ask" in said[2]
    assert "914 mm?" in said[3]


def test_the_tolerances_stand_over_the_numbers_in_two_bands(wall: Wall) -> None:
    page = ore(wall).get(CHECK)
    heading = page.select_one("#g-ask-height-1")
    assert heading is not None
    assert "36 ± 1/8 in; beyond 36 ± 1/4 in, ask" in heading.text
    assert "common practice" in heading.text


def test_each_box_has_a_label_that_names_its_part(wall: Wall) -> None:
    page = ore(wall).get(CHECK)
    label = page.select_one('label[for="ask-height-3"] .vh')
    assert label is not None
    assert label.text == "Height, No. 3"


def test_who_neither_marks_nor_releases_gets_no_form(wall: Wall) -> None:
    page = wall.browser("Lou Vance").get(CHECK)
    assert [form["action"] for form in page.select("form[method=post]")] == ["/sign-out"]


def test_another_crew_does_not_mark_it(wall: Wall) -> None:
    answer = wall.browser("Ninepail Plaster lead").post(MARK, {"ask-height-1": "36"})
    assert answer.status_code == 403
    assert not wall.snapshot().attempts
