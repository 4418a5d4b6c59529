"""The super looks: OK to cover, all but a part, look again, reject, open again."""

import pytest
from bs4 import BeautifulSoup
from httpx import Response

from server.core.states import activity_state, hold_state
from server.core.world import Snapshot
from server.core.world.network import forecast
from tests.pages.at_the_wall import CHECK, NOW, THIRD_HIGH, WITHIN, Browser, Wall, photo

RELEASE, AGAIN, REJECT, OPEN = (f"{CHECK}/{it}" for it in ("release", "again", "reject", "open"))


@pytest.fixture
def rufus(wall: Wall) -> Browser:
    """The super, after Ore Street marked it with No. 3 a sixteenth high."""
    return marked(wall, THIRD_HIGH)


def marked(wall: Wall, numbers: tuple[str, ...], by: str = "Ore Street Metal lead") -> Browser:
    crew = wall.browser(by)
    answer = crew.send(
        crew.get(CHECK),
        f"{CHECK}/mark",
        {f"ask-height-{part}": number for part, number in enumerate(numbers, 1)},
        [("photo", ("pole.jpg", photo(), "image/jpeg"))],
    )
    assert answer.status_code == 303, answer.text
    return wall.browser("Rufus Orme")


def beside(answer: Response, field: str) -> str:
    assert answer.status_code == 422, answer.text[:300]
    found = BeautifulSoup(answer.text, "html.parser").select_one(f"#{field}-e")
    assert found is not None
    return found.text


def state(snapshot: Snapshot) -> str:
    return hold_state(snapshot, snapshot.holds["height-check"])


def board(snapshot: Snapshot) -> str:
    schedule = forecast(snapshot, NOW.replace(minute=45))
    return activity_state(snapshot, schedule, snapshot.activities["hang-board"])


def test_the_press_leaves_out_the_part_that_is_outside(rufus: Browser) -> None:
    page = rufus.get(CHECK)
    press = page.select_one(f'form[action="{RELEASE}"] .big')
    assert press is not None
    assert press.text == "OK to cover, all but No. 3"
    ticked = [box["value"] for box in page.select("#leave input[checked]")]
    assert ticked == ["3"]


def test_released_all_but_one_the_next_work_is_ready(wall: Wall, rufus: Browser) -> None:
    assert board(wall.snapshot()) == "waiting"
    assert rufus.send(rufus.get(CHECK), RELEASE).status_code == 303
    snapshot = wall.snapshot()
    assert snapshot.attempts_of["height-check"][0].left_out == (3,)
    assert board(snapshot) == "ready"


def test_the_crew_reads_the_receipt_of_its_ok(wall: Wall, rufus: Browser) -> None:
    rufus.send(rufus.get(CHECK), RELEASE)
    page = wall.browser("Ore Street Metal lead").get(CHECK)
    receipt = page.select_one(".flash")
    assert receipt is not None
    assert receipt.text == "OK to cover by Rufus Orme today 10:52 am, all but No. 3."


def test_the_part_left_out_can_be_marked_by_itself(wall: Wall, rufus: Browser) -> None:
    rufus.send(rufus.get(CHECK), RELEASE)
    page = wall.browser("Ore Street Metal lead").get(CHECK)
    assert [box["id"] for box in page.select(".m input")] == ["ask-height-3"]


def test_a_number_outside_is_not_released_without_a_reason(rufus: Browser) -> None:
    answer = rufus.send(rufus.get(CHECK), RELEASE, {"leave": []})
    assert "reason" in beside(answer, "release_reason")


def test_with_a_reason_a_number_outside_is_released(wall: Wall, rufus: Browser) -> None:
    typed: dict[str, str | list[str]] = {"leave": [], "release_reason": "Rail takes it up"}
    assert rufus.send(rufus.get(CHECK), RELEASE, typed).status_code == 303
    assert state(wall.snapshot()) == "released"


def test_nobody_releases_their_own_mark(wall: Wall) -> None:
    rufus = marked(wall, WITHIN, by="Rufus Orme")
    answer = rufus.send(rufus.get(CHECK), RELEASE)
    assert answer.status_code == 422
    page = BeautifulSoup(answer.text, "html.parser")
    assert "You marked this yourself" in page.select(".errors")[0].text
    assert state(wall.snapshot()) == "marked"


def test_the_second_to_release_is_told_who_was_first(rufus: Browser) -> None:
    page = rufus.get(CHECK)
    rufus.send(page, RELEASE)
    key: dict[str, str | list[str]] = {"key": "another-form"}
    answer = rufus.send(page, RELEASE, key)
    errors = BeautifulSoup(answer.text, "html.parser").select(".errors li")
    assert len(errors) == 1
    assert "Rufus Orme" in errors[0].text


def test_look_again_names_the_time_and_moves_nothing(wall: Wall, rufus: Browser) -> None:
    page = rufus.get(CHECK)
    before = forecast(wall.snapshot(), NOW)["hang-board"].early_start
    answer = rufus.send(page, AGAIN, {"again_reason": "No. 3 down a sixteenth"})
    assert answer.status_code == 303, answer.text
    assert state(wall.snapshot()) == "look again"
    assert forecast(wall.snapshot(), NOW)["hang-board"].early_start == before


def test_a_rejection_needs_a_reason_and_keeps_the_hours(rufus: Browser) -> None:
    answer = rufus.send(rufus.get(CHECK), REJECT, {"reject_rework": "6"})
    assert beside(answer, "reject_reason")
    hours = BeautifulSoup(answer.text, "html.parser").select_one("#reject_rework")
    assert hours is not None
    assert hours["value"] == "6"


def test_hours_that_are_none_are_refused_beside_their_box(rufus: Browser) -> None:
    typed: dict[str, str | list[str]] = {"reject_reason": "Crooked", "reject_rework": "some"}
    assert "is not a number" in beside(rufus.send(rufus.get(CHECK), REJECT, typed), "reject_rework")


def test_a_rejection_brings_rework_before_the_check(wall: Wall, rufus: Browser) -> None:
    typed: dict[str, str | list[str]] = {"reject_reason": "Crooked", "reject_rework": "6"}
    assert rufus.send(rufus.get(CHECK), REJECT, typed).status_code == 303
    rework = [a for a in wall.snapshot().activities.values() if a.rework_of_id]
    assert [a.work for a in rework] == [360]


def test_what_each_press_would_push_is_said_before_it_is_pressed(rufus: Browser) -> None:
    said = rufus.get(CHECK).select(".said")[-1].text
    assert "Look again: nothing moves." in said
    assert "Reject: Ore Street Metal comes back" in said


def test_more_hours_push_further(rufus: Browser) -> None:
    said = rufus.post(f"{CHECK}/push", {"reject_rework": "24"}).text
    assert "“Hang board” moves to" in said


def test_the_label_follows_the_parts_ticked(rufus: Browser) -> None:
    said = rufus.client.post(
        f"{CHECK}/label",
        data={"leave": ["2", "3"]},
        headers={"Sec-Fetch-Site": "same-origin", "HX-Request": "true"},
    )
    assert said.text.strip() == "OK to cover, all but No. 2 and No. 3"


def test_a_released_check_is_opened_again_with_a_reason(wall: Wall, rufus: Browser) -> None:
    rufus.send(rufus.get(CHECK), RELEASE)
    assert beside(rufus.send(rufus.get(CHECK), OPEN), "open_reason")
    answer = rufus.send(rufus.get(CHECK), OPEN, {"open_reason": "Board knocked two of them"})
    assert answer.status_code == 303
    assert state(wall.snapshot()) == "to check"


def test_earlier_marks_stay_with_their_numbers_and_photos(wall: Wall, rufus: Browser) -> None:
    rufus.send(rufus.get(CHECK), AGAIN, {"again_reason": "No. 3 down"})
    marked(wall, WITHIN)
    page = rufus.get(CHECK)
    earlier = page.select_one("details:has(dl)")
    assert earlier is not None
    assert "1/16 high" in earlier.text
    assert earlier.select_one("img") is not None


def test_a_press_by_htmx_is_answered_by_the_main_part_alone(rufus: Browser) -> None:
    answer = rufus.send(rufus.get(CHECK), OPEN.replace("open", "reject"), None, None,
                        **{"HX-Request": "true"})  # fmt: skip
    page = BeautifulSoup(answer.text, "html.parser")
    assert answer.status_code == 422
    assert page.select_one("html") is None
    assert page.select_one("main#main .errors") is not None
