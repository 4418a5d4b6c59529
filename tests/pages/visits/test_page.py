"""Asking a crew to come, its answer by phone, and another time."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from bs4 import BeautifulSoup, Tag

from tests.pages.at_the_wall import Wall, garden_rail
from tests.worlds import on

DETAIL = "/d/garden-stair-rail"
ASK = f"{DETAIL}/visit?activity=base-coat"
OPEN = f"{DETAIL}/visit?activity=hang-board"
VISIT = "/visit/ninepail-plaster-1"
PUSH = f"{DETAIL}/push/hang-board"


def field(page: BeautifulSoup, name: str) -> str:
    found = page.select_one(f'[name="{name}"]')
    assert isinstance(found, Tag)
    return str(found["value"])


def test_the_form_starts_with_the_first_working_time_that_the_work_is_ready(wall: Wall) -> None:
    page = wall.browser("Rufus Orme").get(ASK)
    assert field(page, "start") == "2025-12-04T07:00"
    ticked = [box["value"] for box in page.select('input[name="activity_ids"][checked]')]
    assert ticked == ["base-coat"]


def test_a_visit_is_asked_for_and_the_crew_sees_it(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    typed = {"start": "2025-12-08T07:00", "finish": "2025-12-08T15:30", "activity_ids": "base-coat"}
    assert browser.send(browser.get(ASK), f"{DETAIL}/visit", {**typed}).status_code == 303
    visit = next(b for b in wall.snapshot().bookings.values() if "base-coat" in b.activity_ids)
    assert (visit.state, visit.start) == ("asked", on("Dec 8"))
    crew = wall.browser("Ninepail Plaster lead").get("/me")
    assert crew.select_one(f'form[action="/visit/{visit.id}/answer"]') is not None


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"start": "2025-12-01T07:00"}, "is past"),
        ({"finish": "2025-12-04T06:00"}, "end before it begins"),
        ({"start": "2025-02-30T07:00"}, "not a day there is"),
        ({"start": ""}, "has to be filled in"),
        ({"activity_ids": []}, "Say for what work."),
    ],
)
def test_what_cannot_be_asked_is_refused_and_kept(
    wall: Wall, typed: dict[str, str | list[str]], sentence: str
) -> None:
    browser = wall.browser("Rufus Orme")
    start = {"start": "2025-12-08T07:00", "finish": "2025-12-08T15:30", "activity_ids": "base-coat"}
    refused = browser.send(browser.get(ASK), f"{DETAIL}/visit", {**start, **typed})
    assert refused.status_code == 422
    page = BeautifulSoup(refused.text, "html.parser")
    assert sentence in page.text
    assert page.select_one(".err") is not None
    assert field(page, "finish") == typed.get("finish", "2025-12-08T15:30")
    ticked = page.select('input[name="activity_ids"][checked]')
    assert len(ticked) == (0 if typed.get("activity_ids") == [] else 1)


def test_an_answer_heard_by_phone_says_that_it_was(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    typed = {"answer": "cannot", "other_day": "2025-12-09T07:00", "key": "k-1"}
    assert browser.post(f"{VISIT}/answer", typed).headers["location"] == DETAIL
    visit = wall.snapshot().bookings["ninepail-plaster-1"]
    assert (visit.state, visit.by_phone, visit.other_day) == ("can't come", True, on("Dec 9"))


def test_a_refused_answer_by_phone_is_on_the_visits_page_again(wall: Wall) -> None:
    typed = {"answer": "cannot", "other_day": "2025-12-01T07:00", "key": "k-1"}
    refused = wall.browser("Rufus Orme").post(f"{VISIT}/answer", typed)
    assert refused.status_code == 422
    page = BeautifulSoup(refused.text, "html.parser")
    assert field(page, "other_day") == "2025-12-01T07:00"
    assert page.select_one("#other_day-e") is not None


def test_another_time_is_shown_with_what_it_pushes_before_it_is_asked(wall: Wall) -> None:
    form = wall.browser("Rufus Orme").get(OPEN).select_one(f'form[action="{PUSH}"]')
    assert isinstance(form, Tag)
    asked = {str(field["name"]): str(field["value"]) for field in form.select("input")}
    assert asked == {"what": "visit", "day": "2025-12-04T07:00", "finish": "2025-12-04T11:00"}


def test_a_visit_is_taken_back(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    assert browser.send(browser.get(OPEN), f"{VISIT}/end").status_code == 303
    assert wall.snapshot().bookings["ninepail-plaster-1"].ended is not None


def test_the_text_to_a_crew_that_is_held_says_by_what(wall: Wall) -> None:
    sms = wall.browser("Rufus Orme").get(OPEN).select_one('a[href^="sms:"]')
    assert sms is not None
    assert str(sms["href"]).startswith("sms:5550130?body=Tomorrow%207%20am%2C%20hang%20board")
    assert "Not%20ready%20yet%3A%20it%20waits%20for%20%E2%80%9CHeight%E2%80%9D" in str(sms["href"])


@pytest.mark.parametrize("person", ["Ninepail Plaster lead", "Lou Vance"])
def test_asking_is_the_supers(wall: Wall, person: str) -> None:
    assert wall.browser(person).status(ASK) == 403


def test_work_that_there_is_not_has_no_visit(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    for activity in ("", "nothing", "height", "base-coat-dries"):
        assert browser.status(f"{DETAIL}/visit?activity={activity}") == 404


@pytest.fixture
def on_the_day(tmp_path: Path, migrated_sqlite: Path) -> Iterator[Wall]:
    """The morning of the visit, with two promised days behind."""
    shutil.copy(migrated_sqlite, tmp_path)
    world = garden_rail().with_changed("Tallow Creek", frozen_at=on("Dec 4 7:30"))
    for day in ("Dec 1", "Dec 2"):
        world = world.with_booking(
            "Ninepail Plaster", "Base coat", on(day), on(f"{day} 11:00"), state="coming",
            promised=on(day), ended=on("Dec 3"),
        )  # fmt: skip
    world = world.with_changed("ninepail-plaster-2", wasted="Locked", wasted_at=on("Dec 1"))
    with Wall.served(tmp_path, world) as served:
        yield served


def test_how_often_the_crew_came_on_the_promised_day_is_a_sentence(on_the_day: Wall) -> None:
    text = on_the_day.browser("Rufus Orme").get(OPEN).text
    assert "Came on the promised day 1 of 2 times." in text
    assert "%" not in text


def test_nothing_is_said_of_a_crew_with_no_promised_day_behind_it(wall: Wall) -> None:
    assert "promised day" not in wall.browser("Rufus Orme").get(OPEN).text


def test_the_super_says_that_they_came_and_could_not_work_with_why(on_the_day: Wall) -> None:
    rufus = on_the_day.browser("Rufus Orme")
    page = rufus.get(OPEN)
    refused = rufus.send(page, f"{VISIT}/wasted")
    assert refused.status_code == 422
    assert BeautifulSoup(refused.text, "html.parser").select_one("#why-e") is not None
    taken = rufus.send(page, f"{VISIT}/wasted", {"why": "No power on the floor"})
    assert taken.headers["location"] == DETAIL
    assert on_the_day.snapshot().bookings["ninepail-plaster-1"].wasted == "No power on the floor"


def test_before_its_day_the_super_is_not_offered_that(wall: Wall) -> None:
    page = wall.browser("Rufus Orme").get(OPEN)
    assert page.select_one(f'form[action="{VISIT}/wasted"]') is None


def test_who_is_coming_already_is_not_asked_once_more_whether_it_comes(wall: Wall) -> None:
    page = wall.browser("Rufus Orme").get(OPEN)
    answers = page.select(f'form[action="{VISIT}/answer"] [name="answer"]')
    assert [answer["value"] for answer in answers] == ["cannot"]


def test_one_task_is_taken_out_of_a_visit_and_another_put_in(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    page = browser.get(OPEN)
    ticked = [box["value"] for box in page.select('input[name="activity_ids"][checked]')]
    assert ticked == ["hang-board"]
    both: list[str] = ["hang-board", "base-coat"]
    assert browser.send(page, f"{VISIT}/work", {"activity_ids": both}).status_code == 303
    visit = wall.snapshot().bookings["ninepail-plaster-1"]
    assert (visit.activity_ids, visit.state) == (("hang-board", "base-coat"), "asked")
    browser.send(browser.get(OPEN), f"{VISIT}/work", {"activity_ids": ["base-coat"]})
    assert wall.snapshot().bookings["ninepail-plaster-1"].activity_ids == ("base-coat",)


def test_a_visit_for_nothing_is_refused_and_stays_as_it_was(wall: Wall) -> None:
    browser = wall.browser("Rufus Orme")
    answer = browser.send(browser.get(OPEN), f"{VISIT}/work", {"activity_ids": []})
    assert answer.status_code == 422
    page = BeautifulSoup(answer.text, "html.parser")
    assert page.select_one("#activity_ids-e") is not None
    assert page.select_one('details[open] input[value="hang-board"][checked]') is not None
