"""The readings of a house: per place the newest of each, who read it, and two weeks drawn."""

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from fractions import Fraction

from bs4 import BeautifulSoup, Tag

from server.core.world import Reading
from tests.pages.at_the_wall import Wall, garden_rail
from tests.pages.site.reading_pages import said
from tests.pages.site.stair import around_the_stair
from tests.worlds import World, on

PAGE = "/p/quarry-road/readings"
Serve = Callable[[World], Wall]


def place(page: BeautifulSoup, id: str = "garden-stair") -> Tag:
    found = page.select_one(f"section#{id}")
    assert found is not None
    return found


def facts(page: BeautifulSoup) -> dict[str, str]:
    names, values = place(page).select("dt"), place(page).select("dd")
    return {said(a): said(b) for a, b in zip(names, values, strict=True)}


def test_the_newest_of_each_kind_says_who_read_it_when_and_where(stair: Wall) -> None:
    assert facts(stair.browser("Rufus Orme").get(PAGE)) == {
        "air": "56°F Mon Dec 1, 7:40 am, Rufus Orme, bottom of the stair",
        "humidity": "48% Mon Dec 1, 7:40 am, Rufus Orme",
        "wood": "11.5% today 7:40 am, Rufus Orme",
    }


def test_two_readings_of_a_kind_are_drawn_and_one_alone_is_not(stair: Wall) -> None:
    drawn = place(stair.browser("Rufus Orme").get(PAGE)).select("figure")
    assert [said(one.select_one("figcaption")) for one in drawn] == ["air, the last 14 days"]
    title = said(drawn[0].select_one("svg > title"))
    assert title == "air, Garden stair: 2 readings in 14 days, 56°F at the last"


def test_a_reading_older_than_two_weeks_is_not_drawn_but_stays_the_newest(serve: Serve) -> None:
    world = garden_rail()
    old = around_the_stair().made.readings["reading-1"]
    page = serve(world.put(replace(old, at=on("Nov 12")))).browser("Rufus Orme").get(PAGE)
    assert "56°F Wed Nov 12, 7 am" in facts(page)["air"]
    assert not place(page).select("figure, details.more")


def test_wood_is_drawn_apart_for_each_spot(serve: Serve) -> None:
    world = around_the_stair()
    wood = world.made.readings["reading-4"]
    spots = [
        replace(wood, id=f"{where}-{back}", where=where, at=wood.at - timedelta(days=back))
        for where in ("tread 2", "tread 9")
        for back in (1, 3)
    ]
    page = serve(world.put(*spots)).browser("Rufus Orme").get(PAGE)
    headings = [said(one) for one in place(page).select("figcaption")]
    assert headings[1:] == ["wood, tread 2, the last 14 days", "wood, tread 9, the last 14 days"]


def plastered(air: str) -> World:
    """Base coat on since yesterday, its wait running; the air was read today."""
    world = around_the_stair()
    board, coat = (world.made.activities[id] for id in ("hang-board", "base-coat"))
    world = world.put(
        replace(board, started=on("Dec 1"), finished=on("Dec 1 12:00")),
        replace(coat, started=on("Dec 2"), finished=on("Dec 2 15:00"), wet=True, stuff="gypsum",
                place_id="garden-stair"),
    )  # fmt: skip
    read = world.made.readings["reading-1"]
    return world.put(replace(read, id="now", value=Fraction(air), at=on("Dec 3 7:40")))


def test_air_beyond_what_drying_plaster_wants_says_so_and_who_wants_it(serve: Serve) -> None:
    page = serve(plastered("44")).browser("Rufus Orme").get(PAGE)
    beyond = place(page).select_one("dd .hl")
    assert said(beyond) == "wanted at least 50°F and at most 80°F: Base coat"


def test_air_within_it_is_said_without_a_mark(serve: Serve) -> None:
    page = serve(plastered("56")).browser("Rufus Orme").get(PAGE)
    assert place(page).select_one("dd .hl") is None
    assert "wanted at least 50°F" in said(place(page))


def test_every_reading_of_two_weeks_is_in_the_fold_the_newest_first(stair: Wall) -> None:
    fold = place(stair.browser("Rufus Orme").get(PAGE)).select_one("details.more")
    assert fold is not None
    assert said(fold.summary) == "4 readings in 14 days"
    assert said(fold.select_one("li")) == "today 7:40 am wood 11.5% Rufus Orme"


def test_a_new_one_is_typed_on_its_page_and_leads_back(stair: Wall) -> None:
    ore = stair.browser("Ore Street Metal lead")
    link = place(ore.get(PAGE)).select_one("a.press")
    assert link is not None
    form = ore.get(str(link["href"]))
    typed: dict[str, str | list[str]] = {"place_id": "garden-stair", "what": "air", "typed": "61"}
    sent = ore.send(form, "/p/quarry-road/reading", typed)
    assert sent.headers["location"] == PAGE
    assert facts(ore.get(PAGE))["air"].startswith("61°F today 10:52 am, Ore Street Metal lead")


def test_a_crew_sees_the_places_of_its_details_and_the_super_all(stair: Wall) -> None:
    assert len(stair.browser("Rufus Orme").get(PAGE).select("section.unit")) == 2
    theirs = stair.browser("Ore Street Metal lead").get(PAGE).select("section.unit")
    assert [one["id"] for one in theirs] == ["garden-stair"]


def test_the_rep_has_no_such_page(stair: Wall) -> None:
    assert stair.browser("Lou Vance").status(PAGE) == 403


def test_a_place_where_nothing_was_read_says_so(stair: Wall) -> None:
    text = said(place(stair.browser("Rufus Orme").get(PAGE), "landing"))
    assert text == "Landing Nothing has been read here yet. Read it now"


def test_a_house_without_places_says_so(serve: Serve) -> None:
    world = garden_rail().with_changed("Hang board", place_id=None)
    world = World(world.made.drop(*world.made.places.values()), world.detail, world.side)
    text = said(serve(world).browser("Rufus Orme").get(PAGE))
    assert "No place has been named in this house yet." in text


def test_names_and_spots_are_shown_as_they_were_typed(serve: Serve) -> None:
    world = around_the_stair()
    stair = replace(world.made.places["garden-stair"], name="<i>" + "Stair by the garden " * 6)
    spot: Reading = replace(world.made.readings["reading-4"], where="<b>tread</b>")
    page = serve(world.put(stair, spot)).browser("Rufus Orme").get(PAGE)
    assert page.select_one("main i, main dd b b") is None
    assert "<b>tread</b>" in facts(page)["wood"]
