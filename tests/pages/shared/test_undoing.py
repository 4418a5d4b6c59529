"""The presses that undo and do again: on a plan, on a house, on the page of the company."""

from typing import Any

import pytest
from bs4 import BeautifulSoup

from server.core.changes import Command
from server.core.changes.people import KeepCrew, KeepPerson
from server.core.changes.places import AddFloor
from server.core.changes.plan import AddDetail, EndLayer
from server.core.changes.pushing import ChangeWork, PutOff
from server.store import OPERATOR
from tests.pages.at_the_wall import Browser, Wall
from tests.worlds import COMPANY, DAY, PROJECT, actor, on

PLAN, HOUSE = "/d/garden-stair-rail/plan", f"/p/{PROJECT}"
RUFUS = "rufus-orme"
LONGER = ChangeWork(activity_id="base-coat", work=3 * DAY)
CREW = KeepCrew(id="glazing", name="Larch Glazing", trade="glass")


@pytest.fixture
def two(wall: Wall) -> Wall:
    """The garden rail, run by Rufus and Ines."""
    ines = KeepPerson(id="ines-halloran", name="Ines Halloran", role="super")
    wall.store.apply(OPERATOR, None, ines, company_id=COMPANY)
    return wall


def do(
    wall: Wall, command: Command, who: str = "rufus-orme", project: str | None = PROJECT
) -> None:
    company = COMPANY if project is None else None
    by = actor(wall.snapshot(), who)
    wall.store.apply(by, project, command, company_id=company)


def rufus(wall: Wall) -> Browser:
    return wall.browser("Rufus Orme")


def presses(page: BeautifulSoup) -> dict[str, str]:
    """Where each press is sent, and what it says."""
    forms = page.select('form[action$="/undo"], form[action$="/redo"]')
    return {str(form["action"]): " ".join(form.text.split()) for form in forms}


def refusal(answer: Any) -> str:
    said = BeautifulSoup(answer.text, "html.parser").select_one('[role="alert"]')
    assert said is not None
    return " ".join(said.text.split())


def work(wall: Wall) -> int:
    return wall.snapshot().activities["base-coat"].work


def test_where_there_is_nothing_to_undo_nothing_is_shown(two: Wall) -> None:
    for path in (PLAN, HOUSE, "/house"):
        assert presses(rufus(two).get(path)) == {}


def test_the_plan_says_what_it_would_undo_and_undoes_it(two: Wall) -> None:
    do(two, LONGER)
    page = rufus(two).get(PLAN)
    said = "Undo today 10:52 am: “Base coat” takes 3 days."
    assert presses(page) == {f"{PLAN}/undo": said}
    answer = rufus(two).send(page, f"{PLAN}/undo")
    assert (answer.status_code, answer.headers["location"]) == (303, PLAN)
    assert work(two) == DAY


def test_what_was_undone_can_be_done_again(two: Wall) -> None:
    do(two, LONGER)
    rufus(two).send(rufus(two).get(PLAN), f"{PLAN}/undo")
    page = rufus(two).get(PLAN)
    assert presses(page) == {f"{PLAN}/redo": "Do again today 10:52 am: “Base coat” takes 3 days."}
    rufus(two).send(page, f"{PLAN}/redo")
    assert work(two) == 3 * DAY


def test_somebody_else_sees_nothing_of_it(two: Wall) -> None:
    do(two, LONGER)
    assert presses(two.browser("Ines Halloran").get(PLAN)) == {}


def test_the_refusal_stands_on_the_plan_with_whoever_changed_it_and_leads_there(two: Wall) -> None:
    do(two, LONGER)
    page = rufus(two).get(PLAN)
    do(two, PutOff(activity_id="base-coat", until=on("Dec 22")), "ines-halloran")
    answer = rufus(two).send(page, f"{PLAN}/undo")
    assert answer.status_code == 409
    assert refusal(answer) == (
        "This stays: it is not as you left it any more (task or check “Base coat”). "
        "Ines Halloran, today 10:52 am: “Base coat” not before Mon Dec 22, 7 am. Look at it"
    )
    link = BeautifulSoup(answer.text, "html.parser").select_one('main [role="alert"] a')
    assert link is not None
    assert link["href"] == "/d/garden-stair-rail/a/base-coat"
    assert rufus(two).status(str(link["href"])) == 200
    assert work(two) == 3 * DAY


def test_htmx_takes_in_the_page_with_the_refusal(two: Wall) -> None:
    do(two, LONGER)
    page = rufus(two).get(PLAN)
    do(two, PutOff(activity_id="base-coat", until=on("Dec 22")), "ines-halloran")
    answer = rufus(two).send(page, f"{PLAN}/undo", **{"HX-Request": "true"})
    assert answer.status_code == 422
    assert "Ines Halloran" in refusal(answer)


def test_the_same_press_twice_undoes_once(two: Wall) -> None:
    do(two, AddFloor(id="attic", name="Attic"))
    do(two, LONGER)
    page = rufus(two).get(PLAN)
    assert [rufus(two).send(page, f"{PLAN}/undo").status_code for _ in range(2)] == [303, 303]
    assert "attic" in two.snapshot().floors


def test_a_press_of_an_older_page_is_refused_and_says_so(two: Wall) -> None:
    do(two, LONGER)
    older, other = rufus(two).get(PLAN), rufus(two).get(PLAN)
    rufus(two).send(other, f"{PLAN}/undo")
    answer = rufus(two).send(older, f"{PLAN}/undo")
    assert (answer.status_code, refusal(answer)) == (
        409,
        "That is undone already, or you have changed something since. "
        "Look at what can be undone now.",
    )


def test_somebody_elses_entry_is_refused(two: Wall) -> None:
    do(two, LONGER)
    do(two, AddFloor(id="attic", name="Attic"), "ines-halloran")
    theirs = two.store.turns("ines-halloran", COMPANY, PROJECT).undo
    assert theirs is not None
    answer = rufus(two).send(rufus(two).get(PLAN), f"{PLAN}/undo", {"entry": theirs.id})
    assert answer.status_code == 403
    assert "Ines Halloran did that" in refusal(answer)


def test_when_the_detail_itself_goes_the_house_is_next_and_brings_it_back(two: Wall) -> None:
    do(two, AddDetail(id="bench", name="Bench", sheet="D9"))
    page = rufus(two).get("/d/bench/plan")
    assert rufus(two).send(page, "/d/bench/plan/undo").headers["location"] == HOUSE
    assert rufus(two).status("/d/bench/plan") == 404
    rufus(two).send(rufus(two).get(HOUSE), f"{HOUSE}/redo")
    assert rufus(two).status("/d/bench/plan") == 200


def test_what_is_the_companys_is_undone_on_its_page(two: Wall) -> None:
    do(two, CREW, project=None)
    assert presses(rufus(two).get(PLAN)) == {}
    page = rufus(two).get("/house")
    assert presses(page)["/house/undo"].endswith(": Set the crew Larch Glazing.")
    rufus(two).send(page, "/house/undo")
    assert "glazing" not in two.snapshot().crews
    rufus(two).send(rufus(two).get("/house"), "/house/redo")
    assert "glazing" in two.snapshot().crews


def test_the_refusal_stands_on_the_companys_page(two: Wall) -> None:
    do(two, CREW, project=None)
    page = rufus(two).get("/house")
    do(two, KeepCrew(id="glazing", name="Larch Glass", trade="glass"), "ines-halloran", None)
    answer = rufus(two).send(page, "/house/undo")
    assert answer.status_code == 409
    assert "Ines Halloran" in refusal(answer)


def test_a_layer_that_is_undone_leads_to_its_detail(two: Wall) -> None:
    do(two, EndLayer(layer_id="base-coat"))
    rufus(two).send(rufus(two).get(HOUSE), f"{HOUSE}/undo")
    assert two.snapshot().layers["base-coat"].ended is None
