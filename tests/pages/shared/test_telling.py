"""What a crew has to hear, as a sentence and as a text."""

from datetime import datetime

import pytest

from server.core.pushed import ToHear
from server.core.world import Telling
from server.pages.shared.telling import telling_said, text_for
from server.words import words
from tests.worlds import PROJECT, a_project, on

NOW = on("Dec 3 10:52")
CREW = "ninepail-plaster"
HOUSE = (
    a_project()
    .with_crew("Ninepail Plaster", trade="plaster")
    .with_detail("Garden stair rail")
    .with_task("Hang board", crew="Ninepail Plaster")
    .with_task("Base coat", crew="Ninepail Plaster")
    .with_detail("LED slot")
    .with_task("Skim", crew="Ninepail Plaster")
    .snapshot()
)


def hears(
    what: str, was: datetime | None, now: datetime | None, work: tuple[str, ...] = ("hang-board",)
) -> Telling:
    return Telling(id="t-1", project_id=PROJECT, crew_id=CREW, what=what, activity_ids=work,
                   was=was, now=now, by_id="rufus-orme", at=NOW)  # fmt: skip


@pytest.mark.parametrize(
    ("telling", "said"),
    [
        (hears("asked", None, on("Dec 5")), "asked for Fri Dec 5, 7 am"),
        (hears("moves", on("Dec 4"), on("Dec 5")), "Fri Dec 5 instead of Thu Dec 4"),
        (hears("moves", on("Dec 5"), on("Dec 5 11:00")), "Fri Dec 5, 11 am instead of 7 am"),
        (hears("moves", on("Dec 5"), on("Dec 5")), "Fri Dec 5, 7 am as before"),
        (hears("moves", None, on("Dec 5")), "asked for Fri Dec 5, 7 am"),
        (hears("ends", on("Dec 4"), None), "not Thu Dec 4 any more"),
        (
            hears("breaks", on("Dec 4"), on("Dec 5")),
            "not ready Thu Dec 4, the day of the visit, but Fri Dec 5",
        ),
        (hears("work", on("Dec 4"), on("Dec 5")), "begins Fri Dec 5 instead of Thu Dec 4"),
    ],
)
def test_each_kind_is_said_with_its_work_first(telling: Telling, said: str) -> None:
    sentence = telling_said(HOUSE, telling, words(), NOW)
    assert sentence == f"Hang board, garden stair rail: {said}"


def test_a_change_that_is_only_shown_is_said_like_one_that_is_kept() -> None:
    shown = ToHear(CREW, "moves", ("hang-board",), None, on("Dec 4"), on("Dec 5"))
    kept = hears("moves", on("Dec 4"), on("Dec 5"))
    assert telling_said(HOUSE, shown, words(), NOW) == telling_said(HOUSE, kept, words(), NOW)


def test_the_tasks_of_a_detail_are_said_together_and_a_name_in_capitals_stays() -> None:
    telling = hears("asked", None, on("Dec 5"), ("hang-board", "base-coat", "skim"))
    sentence = telling_said(HOUSE, telling, words(), NOW)
    works = "Hang board and base coat, garden stair rail and skim, LED slot"
    assert sentence == f"{works}: asked for Fri Dec 5, 7 am"


def test_a_text_says_the_day_first_and_asks() -> None:
    moves = hears("moves", on("Dec 4"), on("Dec 5"))
    text = "Fri Dec 5, 7 am instead of Thu Dec 4: hang board, garden stair rail. Can you?"
    assert text_for(HOUSE, (moves,), "en", NOW) == text


def test_one_text_says_all_of_it_and_asks_once() -> None:
    told = (
        hears("asked", None, on("Dec 8")),
        hears("moves", on("Dec 4"), on("Dec 5"), ("skim",)),
        hears("ends", on("Dec 9"), None, ("base-coat",)),
    )
    assert text_for(HOUSE, told, "en", NOW) == (
        "Mon Dec 8, 7 am: hang board, garden stair rail. "
        "Fri Dec 5, 7 am instead of Thu Dec 4: skim, LED slot. "
        "Not Tue Dec 9 any more: base coat, garden stair rail. Can you?"
    )


def test_a_text_without_a_question_asks_nothing() -> None:
    ends = text_for(HOUSE, (hears("ends", on("Dec 9"), None),), "en", NOW)
    assert ends == "Not Tue Dec 9 any more: hang board, garden stair rail."


def test_a_visit_that_comes_before_its_work_is_ready_asks_when() -> None:
    breaks = text_for(HOUSE, (hears("breaks", on("Dec 4"), on("Dec 8")),), "en", NOW)
    assert breaks == (
        "Not ready Thu Dec 4, but Mon Dec 8: hang board, garden stair rail. When can you?"
    )
