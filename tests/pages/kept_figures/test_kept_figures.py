"""A figure kept with its detail: filled in, given to a check, taken again, planned by, let go."""

from dataclasses import replace
from fractions import Fraction
from urllib.parse import parse_qs, urlsplit

import pytest
from bs4 import BeautifulSoup
from httpx import Response

from server.core.changes.holds import AddPhoto, Mark, Release
from server.core.changes.own_limits import KeepLimits
from server.core.changes.plan import AddLayer, LayerFacts
from server.core.figures.base import Limit
from server.core.world import KeptFigure
from server.data.limits import text_of as limits_text
from server.data.limits_writing import renamed, with_limit
from tests.pages.at_the_wall import CHECK, Browser, Wall
from tests.worlds import COMPANY, PROJECT, actor

DETAIL = "garden-stair-rail"
LIST = f"/d/{DETAIL}/figures"
KEEP = f"{LIST}/keep/standoffs"
RAIL = {
    "units": "in", "rise": "7 1/2", "tread": "10", "treads": "13", "most": "26",
    "detail": DETAIL, "called": "Garden rail", "key": "first",
}  # fmt: skip


@pytest.fixture
def rufus(wall: Wall) -> Browser:
    return wall.browser("Rufus Orme")


def keep(rufus: Browser, **typed: str) -> str:
    """The page of the figure with these numbers, once it is kept."""
    answer = rufus.post(KEEP, {**RAIL, **typed})
    assert answer.status_code == 303, answer.text[:300]
    return str(answer.headers["location"])


def take(rufus: Browser, page: str, **typed: str | list[str]) -> Response:
    """The press that gives the check the figure's numbers."""
    return rufus.send(rufus.get(f"{page}?check=height-check"), f"{page}/take", {**typed})


def kept(wall: Wall) -> KeptFigure:
    (one,) = wall.snapshot().kept_figures.values()
    return one


def nominals(wall: Wall) -> list[float]:
    asks = wall.snapshot().asks_of["height-check"]
    return [float(a.nominal or 0) for a in asks if a.label == "Height"]


def said(page: BeautifulSoup) -> str:
    main = page.select_one("main")
    assert main is not None
    return " ".join(main.get_text(" ").split())


def released(wall: Wall) -> None:
    """The crew marks the check with the numbers it asks for, and the super says OK to cover."""
    house = wall.snapshot()
    photo = AddPhoto(
        id="look", hold_id="height-check", sha256="0" * 64, width=40, height=30, taken=None
    )
    heights = {ask.id: str(ask.nominal) for ask in house.asks_of["height-check"]}
    mark = Mark(id="mark", hold_id="height-check", numbers=heights, photo_ids=("look",))
    for command in (photo, mark):
        wall.store.apply(actor(house, "Ore Street Metal lead"), PROJECT, command)
    wall.store.apply(actor(house), PROJECT, Release(hold_id="height-check"))


def test_a_figure_opens_with_what_the_layers_of_the_detail_say(rufus: Browser) -> None:
    page = rufus.get(LIST)
    (link,) = page.select('a[href*="/figures/standoffs?"]')
    fields = parse_qs(urlsplit(str(link["href"])).query)
    assert (fields["board"], fields["plaster"]) == (["1/2"], ["3/8"])
    form = rufus.get(str(link["href"]))
    assert form.select_one("#board")["value"] == "1/2"  # type: ignore[index]


def test_a_kept_figure_holds_all_its_numbers_and_stands_in_the_list(
    wall: Wall, rufus: Browser
) -> None:
    keep(rufus)
    inputs = parse_qs(kept(wall).inputs)
    assert (inputs["rise"], inputs["rail_height"], inputs["units"]) == (["7 1/2"], ["36"], ["in"])
    assert "Garden rail" in said(rufus.get(LIST))
    assert "Stand-offs: 7" in said(rufus.get(LIST))


def test_what_cannot_be_read_is_said_on_the_page_of_the_figure(wall: Wall, rufus: Browser) -> None:
    where = keep(rufus, rise="tall")
    assert where.startswith("/figures/standoffs?")
    answer = rufus.client.get(where)
    assert answer.status_code == 422
    assert "tall" in answer.text
    assert not wall.snapshot().kept_figures


def test_the_check_takes_the_numbers_that_were_shown(wall: Wall, rufus: Browser) -> None:
    page = keep(rufus)
    beside = said(rufus.get(f"{page}?check=height-check"))
    assert "36 ± 1/8 in" in beside
    assert take(rufus, page).status_code == 303
    assert len(set(nominals(wall))) == 7
    assert "Garden rail" in said(rufus.get(CHECK))


def test_another_number_leaves_the_check_as_it_is_until_it_is_taken(
    wall: Wall, rufus: Browser
) -> None:
    page = keep(rufus)
    take(rufus, page)
    before = nominals(wall)
    keep(rufus, rail_height="37", kept=kept(wall).id, key="second")
    assert nominals(wall) == before
    stale = "The check has not the numbers of the figure as it is now."
    assert all(stale in said(rufus.get(path)) for path in (page, LIST, CHECK))
    assert stale in said(rufus.get(f"/d/{DETAIL}/plan/height"))
    take(rufus, page)
    assert nominals(wall) == [height + 1 for height in before]
    assert stale not in said(rufus.get(page))


def test_numbers_that_were_changed_since_they_were_shown_are_not_taken(
    wall: Wall, rufus: Browser
) -> None:
    page = keep(rufus)
    shown = rufus.get(f"{page}?check=height-check")
    keep(rufus, rail_height="37", kept=kept(wall).id, key="second")
    answer = rufus.send(shown, f"{page}/take")
    assert answer.status_code == 409
    assert kept(wall).hold_id is None


def test_after_a_release_with_the_old_numbers_it_asks_and_the_check_is_open_again(
    wall: Wall, rufus: Browser
) -> None:
    page = keep(rufus)
    take(rufus, page)
    released(wall)
    before = nominals(wall)
    keep(rufus, rail_height="36 1/8", kept=kept(wall).id, key="second")
    refused = take(rufus, page)
    assert refused.status_code == 422
    assert "looked at again" in refused.text
    assert nominals(wall) == before
    assert take(rufus, page, again="yes").status_code == 303
    assert nominals(wall) == [height + 1 / 8 for height in before]
    (look,) = wall.snapshot().attempts_of["height-check"]
    assert look.state == "opened again"
    assert wall.snapshot().activities["height"].finished is None


def test_numbers_follow_the_units_of_the_person(wall: Wall, rufus: Browser) -> None:
    page = keep(rufus)
    rufus.post("/figures/standoffs/units", {"to": "mm", "key": "mm"})
    take(rufus, page)
    heights = [a for a in wall.snapshot().asks_of["height-check"] if a.label == "Height"]
    assert {ask.unit for ask in heights} == {"mm"}
    assert heights[0].nominal == round(float(heights[0].nominal or 0))
    assert 1000 < float(heights[0].nominal or 0) < 1020


def test_a_rail_outside_its_limits_is_a_danger(wall: Wall, rufus: Browser) -> None:
    page = keep(rufus, rail_height="42")
    assert kept(wall).outside == ("handrail_height",)
    assert "Outside the limits" in said(rufus.get(page))
    assert "Figure outside its limits" in said(rufus.get(f"/d/{DETAIL}"))


def test_a_wait_is_planned_by_a_figure_and_pushed_only_when_agreed(
    wall: Wall, rufus: Browser
) -> None:
    typed = {"units": "in", "stuff": "gypsum", "thick": "3/8", "detail": DETAIL, "key": "dry"}
    page = str(rufus.post(f"{LIST}/keep/drying", typed).headers["location"])
    rufus.send(rufus.get(page), f"{page}/wait", {"activity_id": "base-coat-dries"})
    assert wall.snapshot().activities["base-coat-dries"].work == 3 * 1440
    shown = rufus.get(page)
    (push,) = shown.select('a[href*="/push/base-coat-dries"]')
    assert "3 days" in said(shown)
    assert "takes 13 days in all" in said(rufus.get(str(push["href"])))


def test_a_figure_is_let_go_and_taken_off(wall: Wall, rufus: Browser) -> None:
    page = keep(rufus)
    take(rufus, page)
    before = nominals(wall)
    rufus.send(rufus.get(page), f"{page}/untie")
    assert kept(wall).hold_id is None
    rufus.send(rufus.get(page), f"{page}/end")
    assert nominals(wall) == before
    assert rufus.status(page) == 404


def test_a_crew_sees_the_figures_and_no_press(wall: Wall, rufus: Browser) -> None:
    page = keep(rufus)
    ore = wall.browser("Ore Street Metal lead")
    assert "Garden rail" in said(ore.get(LIST))
    assert not ore.get(page).select("main form")


def test_a_flight_gives_each_riser_its_height(wall: Wall, rufus: Browser) -> None:
    typed = {
        "units": "in", "rise": "105", "count": "14", "detail": DETAIL,
        "called": "Flight", "key": "flight",
    }  # fmt: skip
    page = str(rufus.post(f"{LIST}/keep/stairs", typed).headers["location"])
    take(rufus, page)
    hold = wall.snapshot().holds["height-check"]
    asks = [a for a in wall.snapshot().asks_of[hold.id] if a.unit == "in"]
    assert [ask.part for ask in asks] == list(range(1, 15))
    assert {float(ask.nominal or 0) for ask in asks} == {7.5}
    assert hold.parts == 14


def test_a_joint_gives_its_least_and_most_at_each_part(wall: Wall, rufus: Browser) -> None:
    typed = {
        "units": "in", "least": "1/16", "most": "3/16", "detail": DETAIL, "called": "Joint",
        "key": "joint",
    }  # fmt: skip
    page = str(rufus.post(f"{LIST}/keep/joint", typed).headers["location"])
    take(rufus, page)
    asks = [a for a in wall.snapshot().asks_of["height-check"] if a.unit == "in"]
    assert {ask.part for ask in asks} == set(range(1, 8))
    assert len({ask.label for ask in asks}) == 3
    assert {(float(a.low or 0), float(a.high or 0)) for a in asks} == {(1 / 16, 3 / 16)}


def test_limits_that_were_changed_since_are_said_until_it_is_kept_again(
    wall: Wall, rufus: Browser
) -> None:
    text = limits_text("irc-2021")
    own = KeepLimits(id="elm", name="Elm Hill", text=renamed(text, "Elm Hill"))
    wall.store.apply(actor(wall.snapshot()), None, own, company_id=COMPANY)
    page = keep(rufus, limits="elm")
    stricter = with_limit(own.text, "handrail_height", Limit(unit="in", least=37, most=38))
    wall.store.apply(actor(wall.snapshot()), None, replace(own, text=stricter), company_id=COMPANY)
    changed = "The limits Elm Hill are not what they were when it was kept."
    assert all(changed in said(rufus.get(path)) for path in (page, LIST))
    keep(rufus, limits="elm", kept=kept(wall).id, key="second")
    assert kept(wall).outside == ("handrail_height",)
    assert changed not in said(rufus.get(page))


def filled_in(rufus: Browser, figure: str) -> dict[str, list[str]]:
    """What the fields of a figure begin with, opened from the detail."""
    (link,) = rufus.get(LIST).select(f'a[href*="/figures/{figure}?"]')
    assert rufus.status(str(link["href"])) == 200
    return parse_qs(urlsplit(str(link["href"])).query)


def test_the_treads_of_a_detail_are_counted_and_measured(wall: Wall, rufus: Browser) -> None:
    assert "count" not in filled_in(rufus, "stairs")
    layer = LayerFacts(
        name="Finish treads", material="ash", parts=13, part_name="Tread", finished=True,
        thickness=Fraction(9, 8),
    )  # fmt: skip
    over = wall.snapshot().layers["base-coat"]
    add = AddLayer(id="treads", side_id=over.side_id, over_id=over.id, facts=layer)
    wall.store.apply(actor(wall.snapshot()), PROJECT, add)
    flight = filled_in(rufus, "stairs")
    assert (flight["count"], flight["tread"]) == (["14"], ["1 1/8"])
    assert filled_in(rufus, "standoffs")["treads"] == ["13"]


def test_the_rail_and_all_coats_of_its_wall_are_filled_in(wall: Wall, rufus: Browser) -> None:
    over = wall.snapshot().layers["base-coat"]
    coat = LayerFacts(name="Finish coat", material="lime plaster", thickness=Fraction(1, 8))
    rail = LayerFacts(name="Rail", material="ash", thickness=Fraction(7, 4), finished=True)
    for id, facts in (("rail", rail), ("finish", coat)):
        add = AddLayer(id=id, side_id=over.side_id, over_id=over.id, facts=facts)
        wall.store.apply(actor(wall.snapshot()), PROJECT, add)
    fields = filled_in(rufus, "standoffs")
    assert (fields["plaster"], fields["rail_deep"]) == (["1/2"], ["1 3/4"])
