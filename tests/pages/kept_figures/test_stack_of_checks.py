"""A stack kept with its detail: a check measures a part, its release stands in for the drawing."""

from fractions import Fraction
from urllib.parse import parse_qs, urlencode, urlsplit

import pytest
from bs4 import BeautifulSoup

from server.core.changes.holds import AddPhoto, Mark, Release
from server.core.changes.plan import AskFacts
from server.core.warnings.making import with_check
from tests.pages.at_the_wall import CHECK, Browser, Wall
from tests.worlds import PROJECT, actor

DETAIL = "garden-stair-rail"
LIST = f"/d/{DETAIL}/figures"
BY = "height-check/Height"
STACK = {
    "units": "in", "parts": "2",
    "name-1": "Stand-off", "counts-1": "1", "nominal-1": "36", "plus-1": "1/8", "by-1": BY,
    "name-2": "Rail", "counts-2": "-1", "nominal-2": "35 3/4", "plus-2": "1/16", "by-2": "",
    "least": "1/16", "most": "7/16", "detail": DETAIL,
}  # fmt: skip
KEPT = {**STACK, "called": "Reveal", "key": "first"}
AS_DRAWN = ("36",) * 7
FIFTH_HIGH = (*AS_DRAWN[:4], "36 1/4", *AS_DRAWN[5:])


@pytest.fixture
def rufus(wall: Wall) -> Browser:
    return wall.browser("Rufus Orme")


def shown(rufus: Browser, status: int = 200, **typed: str) -> BeautifulSoup:
    """The page of the figure with these fields typed."""
    answer = rufus.client.get(f"/figures/stack?{urlencode({**STACK, **typed})}")
    assert answer.status_code == status, answer.text[:300]
    return BeautifulSoup(answer.text, "html.parser")


def keep(rufus: Browser, **typed: str) -> str:
    """The page of the figure once it is kept."""
    answer = rufus.post(f"{LIST}/keep/stack", {**KEPT, **typed})
    assert answer.status_code == 303, answer.text[:300]
    return str(answer.headers["location"])


def said(page: BeautifulSoup) -> str:
    main = page.select_one("main")
    assert main is not None
    return " ".join(main.get_text(" ").split())


def released(wall: Wall, *heights: str, because: str = "") -> None:
    """The crew marks the check with these heights, and the super says OK to cover."""
    house = wall.snapshot()
    photo = AddPhoto(
        id="look", hold_id="height-check", sha256="0" * 64, width=40, height=30, taken=None
    )
    asks = house.asks_of["height-check"]
    numbers = {ask.id: height for ask, height in zip(asks, heights, strict=True)}
    mark = Mark(id="mark", hold_id="height-check", numbers=numbers, photo_ids=("look",))
    for command in (photo, mark):
        wall.store.apply(actor(house, "Ore Street Metal lead"), PROJECT, command)
    release = Release(hold_id="height-check", reason=because)
    wall.store.apply(actor(house), PROJECT, release)


def test_without_a_detail_no_check_is_offered(rufus: Browser) -> None:
    typed = {name: value for name, value in STACK.items() if name != "detail"}
    page = rufus.get(f"/figures/stack?{urlencode(typed)}")
    assert not page.select("select[name^=by-]")


def test_the_lengths_that_the_checks_of_the_detail_ask_for_are_offered(rufus: Browser) -> None:
    options = shown(rufus).select("#by-1 option")
    assert [str(one["value"]) for one in options] == ["", BY]
    assert options[1].get_text() == "Height: Height, part by part"


def test_one_more_row_keeps_the_check_that_measures_a_part(rufus: Browser) -> None:
    answer = rufus.client.get(
        f"/figures/stack?{urlencode({**STACK, 'more': '1'})}", follow_redirects=False
    )
    fields = parse_qs(urlsplit(answer.headers["location"]).query)
    assert (fields["by-1"], fields["detail"], fields["parts"]) == ([BY], [DETAIL], ["3"])


def test_before_the_release_it_stands_by_the_drawing(wall: Wall, rufus: Browser) -> None:
    page = said(rufus.get(keep(rufus)))
    assert "Gap as it stands: 1/4 in" in page
    assert "Wanted range: kept" in page
    assert "0 of 7 released" in said(shown(rufus))


def test_a_release_stands_in_for_the_drawing_at_each_part(wall: Wall, rufus: Browser) -> None:
    released(wall, *FIFTH_HIGH[:4], "36 1/8", *FIFTH_HIGH[5:])
    page = shown(rufus)
    assert "7 of 7 released" in said(page)
    assert "The numbers above are those at No. 5: none comes out worse." in said(page)
    (table,) = [t for t in page.select("table.grid") if "No. 5" in t.get_text()]
    rows = [[cell.get_text() for cell in row.select("th, td")] for row in table.select("tbody tr")]
    assert rows[4] == ["No. 5", "36 1/8 in", "3/8 in", "5/16 in to 7/16 in", "kept"]
    assert len(rows) == 7


def test_a_gap_that_cannot_stay_is_a_note_with_the_way_to_the_figure(
    wall: Wall, rufus: Browser
) -> None:
    page = keep(rufus)
    assert "is to leave its range" not in said(rufus.get(f"/d/{DETAIL}"))
    released(wall, *FIFTH_HIGH, because="the rail can be shimmed")
    detail = rufus.get(f"/d/{DETAIL}")
    assert "“Reveal” is to leave its range at No. 5" in said(detail)
    assert "hold Rail to 35 13/16 in to 36 3/16 in" in said(detail)
    assert detail.select(f'a[href="{page}"]')
    assert "Wanted range: out of tolerance" in said(rufus.get(page))


def test_the_check_takes_the_tolerance_of_the_part_that_it_measures(
    wall: Wall, rufus: Browser
) -> None:
    page = keep(rufus, **{"plus-1": "3/32"})
    beside = rufus.get(f"{page}?check=height-check")
    assert rufus.send(beside, f"{page}/take").status_code == 303
    asks = wall.snapshot().asks_of["height-check"]
    assert [(ask.label, ask.part) for ask in asks] == [("Height", no) for no in range(1, 8)]
    assert {float(ask.high or 0) for ask in asks} == {36.09375}
    assert {float(ask.far_high or 0) for ask in asks} == {36.125}
    assert "Reveal" in said(rufus.get(CHECK))


def test_a_check_of_how_far_it_is_off_says_so_and_is_asked_around_nothing(
    wall: Wall, rufus: Browser
) -> None:
    house = wall.snapshot()
    hold = house.holds["height-check"]
    activity = house.activities["height"]
    off = AskFacts(label="Off the pole", nominal=Fraction(0), low=Fraction(-1), high=Fraction(1))
    wall.store.apply(actor(house), PROJECT, with_check(house, hold, asks=(off,), parts=0))
    by = {"by-1": "height-check/Off the pole"}
    options = shown(rufus, **by).select("#by-1 option")
    assert options[1].get_text() == f"{activity.name}: Off the pole (added to the drawing)"
    page = keep(rufus, **by)
    rufus.send(rufus.get(f"{page}?check=height-check"), f"{page}/take")
    (ask,) = wall.snapshot().asks_of["height-check"]
    assert (ask.label, ask.nominal, ask.low) == ("Off the pole", 0, Fraction(-1, 8))


def test_a_check_that_measures_none_of_it_asks_for_the_parts_that_none_does(
    wall: Wall, rufus: Browser
) -> None:
    page = keep(rufus, **{"by-1": "", "measured-1": "36"})
    beside = rufus.get(f"{page}?check=height-check")
    assert "Rail" in said(beside)
    rufus.send(beside, f"{page}/take")
    ask, *others = wall.snapshot().asks_of["height-check"]
    assert (ask.label, float(ask.nominal or 0)) == ("Rail", 35.75)
    assert [(one.label, one.part) for one in others] == [("Height", no) for no in range(1, 8)]
    assert wall.snapshot().holds["height-check"].datum == "finished nosing line"


def test_a_part_is_not_measured_twice(rufus: Browser) -> None:
    page = shown(rufus, 422, **{"measured-1": "36"})
    assert "not both" in page.select("#measured-1-e")[0].get_text()


def test_a_check_of_nowhere_is_refused_beside_its_field(rufus: Browser) -> None:
    page = shown(rufus, 422, **{"by-2": "elsewhere/Height"})
    assert page.select("#by-2-e")[0].get_text()


def test_a_check_that_asks_for_it_no_more_is_named_and_counts_for_nothing(rufus: Browser) -> None:
    page = shown(rufus, **{"by-1": "height-check/Clear width"})
    assert "Clear width: not asked for any more" in page.select("#by-1")[0].get_text()
    assert "the check asks for it no more" in said(page)
    assert "Gap" in said(page)


def test_a_crew_sees_what_is_left(wall: Wall, rufus: Browser) -> None:
    page = keep(rufus)
    ore = wall.browser("Ore Street Metal lead")
    assert "Gap as it stands: 1/4 in" in said(ore.get(page))
