"""The plan and the house are the super's alone; another company's do not exist."""

import pytest

from server.core.world import Company, Person
from tests.pages.at_the_wall import PROJECT, Wall

PLAN = "/d/garden-stair-rail/plan"
PATHS = (
    PLAN,
    f"{PLAN}/new",
    f"{PLAN}/hang-board",
    f"{PLAN}/hang-board/end",
    f"{PLAN}/hang-board/copy",
    f"{PLAN}/hang-board/move",
    f"{PLAN}/hang-board/split",
    f"{PLAN}/hang-board/merge",
    f"{PLAN}/hang-board/after/new",
    f"{PLAN}/hang-board/after/height>hang-board",
    f"{PLAN}/sides/new",
    f"{PLAN}/sides/garden-stair-rail-stair-side",
    f"{PLAN}/layers/board",
    "/d/garden-stair-rail/change",
    f"/p/{PROJECT}",
    f"/p/{PROJECT}/change",
    f"/p/{PROJECT}/floors/new",
    f"/p/{PROJECT}/floors/main-floor",
    f"/p/{PROJECT}/places/garden-stair",
    f"/p/{PROJECT}/ways/new",
    f"/p/{PROJECT}/details/new",
    "/house/crews/ninepail-plaster",
    "/house/calendars/site",
)
EVERYBODYS = ("/house", "/house/new", "/house/crews/new", "/house/calendars/new")
LOOKED_AT = (PLAN, f"/p/{PROJECT}", "/house/calendars/site")
SENT = (*(p for p in PATHS if p not in LOOKED_AT), "/house/calendars/site/week")


@pytest.mark.parametrize("person", ["Ninepail Plaster lead", "Lou Vance"])
def test_a_crew_or_a_rep_may_neither_look_nor_send(rail: Wall, person: str) -> None:
    browser = rail.browser(person)
    before = rail.snapshot()
    for path in (*PATHS, *EVERYBODYS):
        assert browser.status(path) in (403, 404), path
    for path in (*SENT, *EVERYBODYS[1:]):
        assert browser.post(path, {"name": "Mine"}).status_code in (403, 404), path
    assert rail.snapshot() == before


def test_for_the_super_of_another_company_it_does_not_exist(rail: Wall) -> None:
    rail.store.found_company(
        Company(id="other", name="Other"),
        Person(id="ida-other", company_id="other", name="Ida Other", role="super"),
    )
    ida = rail.browser("Ida Other")
    before = rail.snapshot()
    for path in PATHS:
        assert ida.status(path) == 404, path
    for path in SENT:
        assert ida.post(path, {"name": "Mine"}).status_code == 404, path
    assert rail.snapshot() == before
    assert "Quarry Road" not in ida.get("/house").text


def test_what_is_not_there_is_not_found(rail: Wall) -> None:
    rufus = rail.browser("Rufus Orme")
    for path in (f"{PLAN}/nothing", f"{PLAN}/layers/nothing", "/p/nothing", "/d/nothing/plan",
                 f"{PLAN}/layers/new?side=nothing", "/house/crews/nothing"):  # fmt: skip
        assert rufus.status(path) == 404, path


def test_somebody_unknown_is_led_to_sign_in(rail: Wall) -> None:
    answer = rail.client.get(PLAN, follow_redirects=False)
    assert answer.status_code == 303
    assert answer.headers["location"].startswith("/sign-in")
