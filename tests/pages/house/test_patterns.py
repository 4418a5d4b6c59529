"""Patterns of the company's own on the web: kept, brought, taken as a file, copied."""

from dataclasses import replace

import pytest
from bs4 import BeautifulSoup
from httpx import Response
from sqlalchemy import insert

from server.core.world import Company, OwnPattern, Person, Project, WorkCalendar
from server.data.pattern_reading import read_pattern
from server.data.patterns import pattern, text_of
from server.store.tables import NOUNS
from tests.data.test_reading_patterns import GOOD
from tests.pages.at_the_wall import PROJECT, Wall
from tests.pages.plan.typing_in import Super, refused, value_of
from tests.worlds import COMPANY, WEEK

NEW = "/house/patterns/new"
RAIL = "/d/garden-stair-rail"


def brought(rufus: Super, text: str, **typed: str) -> str:
    """The page of a pattern that was brought as a text."""
    return rufus.take(NEW, {"text": text, **typed})


def sent(rufus: Super, data: bytes, name: str = "small.toml") -> Response:
    page = rufus.page(NEW)
    return rufus.browser.send(page, NEW, files=[("file", (name, data, "text/plain"))])


def test_a_text_that_is_brought_stands_in_the_list_with_its_counts(
    rail: Wall, rufus: Super
) -> None:
    brought(rufus, GOOD)
    page = rufus.page("/house/patterns").text
    assert "Small one" in page
    assert "1 layer on 1 side · 1 task · 1 check · 1 wait" in page


def test_a_file_is_brought_like_a_text(rail: Wall, rufus: Super) -> None:
    answer = sent(rufus, b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").encode())
    assert answer.status_code == 303
    (own,) = rail.snapshot().own_patterns.values()
    assert (own.name, own.text) == ("Small one", GOOD)


@pytest.mark.parametrize(
    ("right", "wrong", "said"),
    [
        ('thickness = "1 1/8"', 'thickness = "5/0"', "Line 13, thickness: '5/0' is no number"),
        ('who = "board"', 'whoo = "board"', "Line 21, whoo: is no field here; who is"),
        ('name = "Hang"', 'name = "Hang', "Line 20, the file: is no TOML: a text does not end"),
    ],
)
def test_a_wrong_text_is_refused_beside_its_field_and_is_still_there(
    rail: Wall, rufus: Super, right: str, wrong: str, said: str
) -> None:
    text = GOOD.replace(right, wrong)
    answer = rufus.send(NEW, {"text": text})
    assert answer.status_code == 422
    assert said in refused(answer)["text"]
    assert wrong in refused(answer)["text"]
    assert value_of(answer, "text").lstrip("\n") == text.lstrip("\n")
    assert not rail.snapshot().own_patterns


def test_a_wrong_file_comes_back_as_text_to_be_put_right(rail: Wall, rufus: Super) -> None:
    answer = sent(rufus, GOOD.replace("1 1/8", "thick").encode())
    assert "Line 13, thickness" in refused(answer)["text"]
    assert "thick" in value_of(answer, "text")


def test_a_file_in_another_writing_is_refused_beside_the_file(rail: Wall, rufus: Super) -> None:
    answer = sent(rufus, GOOD.replace("Small one", "Größe").encode("latin-1"))
    assert "is not UTF-8" in refused(answer)["file"]
    assert "Gr\ufffd" in value_of(answer, "text")


def test_a_file_that_is_too_large_is_refused(rail: Wall, rufus: Super) -> None:
    answer = sent(rufus, b"#" * 300_000)
    assert "256 kB" in refused(answer)["file"]


def test_what_a_text_brings_is_shown_before_it_is_kept(rail: Wall, rufus: Super) -> None:
    answer = rufus.send(NEW, {"text": GOOD, "look": "yes"})
    assert answer.status_code == 200
    assert "1 layer on 1 side" in answer.text
    assert not rail.snapshot().own_patterns
    assert rufus.send(NEW, {"text": "no", "look": "yes"}).status_code == 422


def test_a_file_taken_and_brought_again_is_the_same_pattern(rail: Wall, rufus: Super) -> None:
    page = brought(rufus, text_of("wall-rail"), name="Rail of ours")
    taken = rufus.browser.client.get(f"{page}.toml")
    rufus.send(page, {"end": "yes"})
    again = brought(rufus, taken.text)
    ours = read_pattern(rufus.browser.client.get(f"{again}.toml").text, "")
    assert replace(ours, name=pattern("wall-rail").name) == pattern("wall-rail")


def test_a_file_is_sent_as_one_to_keep_under_a_plain_name(rail: Wall, rufus: Super) -> None:
    page = brought(rufus, GOOD, name='../../etc/"passwd"\\ № 1')
    answer = rufus.browser.client.get(f"{page}.toml")
    assert answer.headers["content-disposition"] == 'attachment; filename="etc-passwd-no-1.toml"'
    assert answer.headers["content-type"] == "application/toml"
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert "sandbox" in answer.headers["content-security-policy"]


def test_a_pattern_that_ships_can_be_taken_too(rail: Wall, rufus: Super) -> None:
    answer = rufus.browser.client.get("/house/patterns/wall-rail.toml")
    assert answer.text == text_of("wall-rail")
    assert rufus.browser.status("/house/patterns/..%2Ftrades.toml") == 404


def test_a_pattern_that_ships_is_not_changed(rail: Wall, rufus: Super) -> None:
    assert rufus.browser.post("/house/patterns/wall-rail", {"name": "A"}).status_code == 404


def test_a_pattern_is_renamed_in_its_file_too(rail: Wall, rufus: Super) -> None:
    page = brought(rufus, "# Ours.\n" + GOOD)
    rufus.take(page, {"name": "Small two"})
    text = rufus.browser.client.get(f"{page}.toml").text
    assert text == "# Ours.\n" + GOOD.replace("Small one", "Small two")
    rufus.take(page, {"text": text.replace("Small two", "Small three")})
    assert "Small three" in rufus.page("/house/patterns").text


def test_an_ended_pattern_is_gone_from_the_lists(rail: Wall, rufus: Super) -> None:
    page = brought(rufus, GOOD)
    ending = rufus.page(page).select("form")[-1]
    fields = {str(f["name"]): str(f["value"]) for f in ending.select("input[name]")}
    assert rufus.browser.post(page, fields).status_code == 303
    assert "Small one" not in rufus.page("/house/patterns").text
    assert "Small one" not in rufus.page(f"/p/{PROJECT}/details/new").text
    assert rufus.browser.status(page) == 404


def test_a_new_detail_is_made_from_a_pattern_of_ones_own(rail: Wall, rufus: Super) -> None:
    id = brought(rufus, GOOD).rpartition("/")[2]
    assert "Small one" in rufus.page(f"/p/{PROJECT}/details/new").text
    plan = rufus.take(f"/p/{PROJECT}/details/new?pattern={id}", {"name": "Bench", "sheet": "D7"})
    made = rail.snapshot().chain_of(plan.split("/")[2])
    assert [a.name for a in made] == ["Hang", "Dries", "Look"]


def test_names_with_markup_are_printed_as_they_are(rail: Wall, rufus: Super) -> None:
    evil = "<script>alert(1)</script>"
    text = GOOD.replace("Small one", evil).replace('"Board"', f'"{evil}"').replace("Hang", evil)
    page = brought(rufus, text)
    for path in (page, "/house/patterns", f"/p/{PROJECT}/details/new"):
        html = rufus.browser.client.get(path).text
        assert "<script>alert" not in html
        assert "&lt;script&gt;alert(1)" in html


def test_a_pattern_that_cannot_be_read_is_listed_with_why_and_anothers_is_not_there(
    rail: Wall, rufus: Super
) -> None:
    id = brought(rufus, GOOD).rpartition("/")[2]
    rail.store.found_company(
        Company(id="late", name="Late Builders"),
        WorkCalendar(id="late-week", company_id="late", name="Week", shifts=WEEK),
        Person(id="lea-frost", company_id="late", name="Lea Frost", role="super"),
        OwnPattern(id="old", company_id="late", name="Old one", text="id = 1"),
    )
    lea = rail.browser("Lea Frost")
    assert "chain: is missing" in lea.get("/house/patterns").text
    assert "Old one" in lea.get("/house/patterns/old").text
    assert lea.status(f"/house/patterns/{id}") == 404
    assert lea.status(f"/house/patterns/{id}.toml") == 404


# -- of a detail -----------------------------------------------------------------------------------


def test_a_detail_is_kept_as_a_pattern(rail: Wall, rufus: Super) -> None:
    page = rufus.take(f"{RAIL}/pattern", {"name": "Our stair rail"})
    one = read_pattern(rufus.browser.client.get(f"{page}.toml").text, "")
    assert (one.id, one.name) == ("our-stair-rail", "Our stair rail")
    assert [a.name for a in one.chain][:2] == ["Blocking", "Set stand-offs"]
    assert one.trades == ("framing", "metal", "plaster")


def test_a_note_of_several_lines_goes_in(rail: Wall, rufus: Super) -> None:
    rufus.take(f"{RAIL}/plan/hang-board", {"note": 'First this.\r\nThen "that".'})
    page = rufus.take(f"{RAIL}/pattern", {"name": "Our stair rail"})
    one = read_pattern(rufus.browser.client.get(f"{page}.toml").text, "")
    assert 'First this.\nThen "that".' in {a.note for a in one.chain}


def test_what_goes_in_and_what_stays_out_is_said_before(rail: Wall, rufus: Super) -> None:
    page = rufus.page(f"{RAIL}/pattern").text
    assert "4 layers on 1 side" in page
    assert "1 task in another place" in page


def test_a_name_in_a_note_is_pointed_out(rail: Wall, rufus: Super) -> None:
    rufus.take(f"{RAIL}/plan/hang-board", {"note": "Call Lou Vance, 555 0130, first"})
    caution = rufus.page(f"{RAIL}/pattern").select_one(".caution")
    assert caution is not None
    assert "Lou Vance" in caution.text
    assert "555 0130" in caution.text


def test_a_detail_with_nothing_planned_is_no_pattern(rail: Wall, rufus: Super) -> None:
    empty = f"/p/{PROJECT}/details/new?pattern=empty"
    plan = rufus.take(empty, {"name": "Bench", "sheet": "D7"})
    detail = plan.removesuffix("/plan")
    page = rufus.page(f"{detail}/pattern")
    assert "Nothing in its plan yet" in page.text
    answer = rufus.browser.post(
        f"{detail}/pattern", {"name": "Bench", "about": "A bench", "source": "Ours"}
    )
    assert answer.status_code == 422
    assert "chain: is missing" in answer.text


@pytest.fixture
def two_houses(rail: Wall) -> Wall:
    """Another house of the company, with the garden stair in other letters, and no ways yet."""
    here = rail.snapshot()
    other = replace(here.project, id="mill-lane", name="Mill Lane house")
    floor = replace(here.floors["main-floor"], id="mill-floor", project_id="mill-lane")
    place = replace(
        here.places["garden-stair"], id="mill-stair", project_id="mill-lane", floor_id="mill-floor",
        name="GARDEN stair",
    )  # fmt: skip
    with rail.store.writing() as connection:
        for noun in (other, floor, place):
            row = {**vars(noun), "company_id": COMPANY}
            row |= {"revision": 0} if isinstance(noun, Project) else {}
            connection.execute(insert(NOUNS[type(noun)]), [row])
    return rail


def test_a_detail_is_copied_into_another_house(two_houses: Wall, rufus: Super) -> None:
    rufus.take(f"{RAIL}/change", {"place_id": "Garden stair"})
    page = rufus.page(f"{RAIL}/copy?house=mill-lane")
    assert "Mill Lane house" in page.text
    rufus.take(f"{RAIL}/copy?house=mill-lane", {})
    there = two_houses.store.snapshot("mill-lane")
    (detail,) = there.details.values()
    assert (detail.name, detail.sheet, detail.place_id) == ("Garden stair rail", "D3", "mill-stair")
    here = two_houses.snapshot().chain_of("garden-stair-rail")
    copies = there.chain_of(detail.id)
    assert [(a.name, a.work, a.crew_id) for a in copies] == [
        (a.name, a.work, a.crew_id) for a in here
    ]
    assert not [a for a in copies if a.started or a.finished]
    assert not there.attempts


def test_a_copy_in_the_same_house_has_another_name(rail: Wall, rufus: Super) -> None:
    plan = rufus.take(f"{RAIL}/copy", {})
    copy = rail.snapshot().details[plan.split("/")[2]]
    assert copy.name == "Garden stair rail, copy"
    (entry,) = rail.store.log(PROJECT, detail_id=copy.id)
    assert entry.said[0].id == "log.detail_copied"


def test_a_copy_without_a_mark_is_refused_with_the_house_kept(
    two_houses: Wall, rufus: Super
) -> None:
    answer = rufus.send(f"{RAIL}/copy?house=mill-lane", {"sheet": ""})
    assert "filled in" in refused(answer)["sheet"]
    assert value_of(answer, "house") == "mill-lane"


def test_a_house_that_is_not_the_companys_takes_no_copy(rail: Wall, rufus: Super) -> None:
    assert rufus.browser.status(f"{RAIL}/copy?house=other-house") == 404
    answer = rufus.browser.post(f"{RAIL}/copy", {"house": "other-house", "name": "A"})
    assert answer.status_code == 404


def test_the_new_pages_are_led_to(rail: Wall, rufus: Super) -> None:
    def links(path: str) -> set[str]:
        page: BeautifulSoup = rufus.page(path)
        return {str(a["href"]) for a in page.select("a[href]")}

    assert "/house/patterns" in links("/house")
    assert {f"{RAIL}/copy", f"{RAIL}/pattern"} <= links(f"{RAIL}/change")
    assert "/house/patterns" in links(f"/p/{PROJECT}/details/new")
