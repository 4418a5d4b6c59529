"""On the morning sheet: what crews have not heard yet, and the next day's visits."""

import shutil
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from fractions import Fraction
from pathlib import Path
from urllib.parse import unquote

import pytest
from bs4 import BeautifulSoup

from server.core.world import Reading, Telling
from tests.pages.at_the_wall import Wall, garden_rail
from tests.worlds import CLOCK_DAY, PROJECT, World, on

RUFUS = "Rufus Orme"
Serve = Callable[[World], Wall]


def telling(id: str, what: str = "moves", **fields: object) -> Telling:
    made = {"was": on("Dec 4"), "now": on("Dec 5"), **fields}
    return Telling(id=id, project_id=PROJECT, crew_id="ninepail-plaster", what=what,
                   activity_ids=("hang-board",), by_id="rufus-orme", at=on("Dec 3"),
                   **made)  # type: ignore[arg-type]  # fmt: skip


def air(degrees: int) -> Reading:
    return Reading(id=f"air-{degrees}", project_id=PROJECT, place_id="garden-stair", what="air",
                   value=Fraction(degrees), unit="°F", by_id="rufus-orme",
                   at=on("Dec 3 7:40"))  # fmt: skip


READY = (
    garden_rail()
    .with_attempt("Height", "released", decided_by_id="rufus-orme", decided_at=on("Dec 3 10:40"))
    .with_changed("Height", started=on("Dec 3 10:40"), finished=on("Dec 3 10:40"))
)


@pytest.fixture
def serve(tmp_path: Path, migrated_sqlite: Path) -> Iterator[Serve]:
    """Serves any world."""
    with ExitStack() as stack:

        def start(world: World) -> Wall:
            shutil.copy(migrated_sqlite, tmp_path)
            return stack.enter_context(Wall.served(tmp_path, world))

        yield start


def flat(page: BeautifulSoup, select: str) -> str:
    return " ".join(" ".join(found.get_text(" ").split()) for found in page.select(select))


# -- to tell ------------------------------------------------------------------------------------


def test_what_a_crew_has_not_heard_is_there_with_one_text_that_says_it_all(serve: Serve) -> None:
    world = garden_rail().put(telling("t-1"), telling("t-2", "ends", now=None))
    page = serve(world).browser(RUFUS).get("/")
    assert "Hang board, garden stair rail: Fri Dec 5 instead of Thu Dec 4" in flat(page, ".tell")
    sms = page.select_one('.tell a[href^="sms:"]')
    assert sms is not None
    assert unquote(str(sms["href"])) == (
        "sms:5550130?body=Fri Dec 5, 7 am instead of Thu Dec 4: hang board, garden stair rail. "
        "Not Thu Dec 4 any more: hang board, garden stair rail. Can you?"
    )
    assert page.select_one('.tell a[href="tel:5550130"]') is not None


def test_told_is_one_press_for_all_of_a_crew(serve: Serve) -> None:
    wall = serve(garden_rail().put(telling("t-1"), telling("t-2", "ends", now=None)))
    rufus = wall.browser(RUFUS)
    page = rufus.get("/")
    form = page.select_one('form[action="/p/quarry-road/heard"]')
    assert form is not None
    ids = [str(field["value"]) for field in form.select('[name="telling_ids"]')]
    sent = {"telling_ids": ids, "key": "key-of-a-press"}
    answer = rufus.client.post(
        "/p/quarry-road/heard", data=sent, headers={"Sec-Fetch-Site": "same-origin"},
        follow_redirects=False,
    )  # fmt: skip
    assert answer.status_code == 303
    told = wall.snapshot().tellings.values()
    assert [(t.heard is not None, t.heard_by_id) for t in told] == [(True, "rufus-orme")] * 2
    assert rufus.get("/").select(".tell") == []


def test_what_was_heard_is_not_told_again(serve: Serve) -> None:
    wall = serve(garden_rail().put(telling("t-1", heard=on("Dec 3 9:00"))))
    assert wall.browser(RUFUS).get("/").select(".tell") == []


# -- the day before -----------------------------------------------------------------------------


def test_the_heading_says_whose_day_it_is(serve: Serve) -> None:
    assert "Thursday's visits" in flat(serve(garden_rail()).browser(RUFUS).get("/"), "h2")


def test_a_visit_whose_work_waits_says_for_what_and_leads_there(serve: Serve) -> None:
    page = serve(garden_rail()).browser(RUFUS).get("/")
    said = flat(page, ".ahead")
    assert "Ninepail Plaster : Hang board" in said
    assert "Garden stair rail, Garden stair · coming" in said
    assert "Not ready: waits for “Height”; Ore Street Metal can move that" in said
    assert page.select_one('.amiss a[href="tel:5550120"]') is not None
    assert page.select_one('.ahead a[href="tel:5550130"]') is not None


def test_what_only_the_super_moves_is_one_press_away(serve: Serve) -> None:
    page = serve(garden_rail().with_attempt("Height")).browser(RUFUS).get("/")
    assert "waits for “Height”; you can move that" in flat(page, ".amiss")
    assert page.select_one('.amiss a[href="/h/height-check"]') is not None


def test_where_nothing_is_wrong_a_few_words_say_so(serve: Serve) -> None:
    here = {"ordered": on("Dec 1"), "started": on("Dec 1"), "finished": on("Dec 2")}
    world = READY.with_delivery("Screws", counted=on("Dec 2"), **here)
    world = world.with_dependency("Screws", "Hang board").put(air(58))
    page = serve(world).browser(RUFUS).get("/")
    assert flat(page, ".ahead .fine") == "Ready, parts here, place clear, 58°F"
    assert page.select(".amiss") == []


def test_parts_that_are_not_here_and_parts_nobody_counted_are_said(serve: Serve) -> None:
    world = (
        READY.with_delivery("Screws", ordered=on("Dec 1"), promised=on("Dec 5"))
        .with_dependency("Screws", "Hang board")
        .with_delivery("Tape", started=on("Dec 1"), finished=on("Dec 2"), ordered=on("Dec 1"))
        .with_dependency("Tape", "Hang board")
    )
    said = flat(serve(world).browser(RUFUS).get("/"), ".amiss")
    assert "Not ready: not before Fri Dec 5, 7 am; waits for “Screws”; you can move that" in said
    assert "Parts not here: “Screws”, due Fri Dec 5, 7 am" in said
    assert "Not counted: “Tape” is here; nobody has counted it and looked it over" in said


def test_cold_air_for_wet_work_is_said_with_who_decides(serve: Serve) -> None:
    world = READY.with_changed("Hang board", wet=True).put(air(46))
    said = flat(serve(world).browser(RUFUS).get("/"), ".amiss")
    assert "Too cold for wet work: 46°F read at Garden stair today 7:40 am" in said
    assert "common practice wants 50°F. The maker's data sheet decides." in said


def test_wet_work_where_nobody_has_read_the_air_says_so(serve: Serve) -> None:
    page = serve(READY.with_changed("Hang board", wet=True)).browser(RUFUS).get("/")
    assert "Nobody has read the air there: wet work comes to Garden stair" in flat(page, ".amiss")


def test_a_place_that_another_crew_stands_in_and_one_that_is_closed_are_said(serve: Serve) -> None:
    world = (
        READY.with_task("Sand treads", crew="Ore Street Metal", place_id="garden-stair")
        .with_booking("Ore Street Metal", "Sand treads", on("Dec 4"), on("Dec 4 12:00"))
        .with_wait("Finish hardens", 30 * CLOCK_DAY, closes_place=True, place_id="garden-stair",
                   not_before=on("Dec 3"))
    )  # fmt: skip
    said = flat(serve(world).browser(RUFUS).get("/"), ".amiss")
    assert (
        "Place not clear: Ore Street Metal asked to Garden stair at the same hours; "
        "it has room for 1 crew" in said
    )
    assert "Place closed: nobody on Garden stair till" in said
    assert "for “Finish hardens”" in said


def test_nobody_coming_is_said(serve: Serve) -> None:
    world = garden_rail().with_changed("ninepail-plaster-1", ended=on("Dec 3"))
    assert "Nobody is asked to come that day." in flat(serve(world).browser(RUFUS).get("/"), "p")


def test_a_forecast_day_opens_and_says_why(serve: Serve) -> None:
    page = serve(garden_rail()).browser(RUFUS).get("/")
    why = "/d/garden-stair-rail/a/base-coat-dries/why"
    assert page.select_one(f'.strip details.why a[href="{why}"]') is not None
    assert page.select_one('.goes a[href="/d/garden-stair-rail/a/hang-board/why"]') is not None
