"""Houses, calendars, crews, places, ways and details by forms."""

from datetime import datetime

import pytest

from server.data.patterns import all_patterns
from tests.pages.at_the_wall import PROJECT, Wall
from tests.pages.plan.typing_in import Super, Typed, refused, value_of

HOUSE = f"/p/{PROJECT}"
CREW = "/house/crews/new"


@pytest.mark.parametrize(
    ("path", "typed", "field", "said"),
    [
        ("/house/new", {"name": "", "start": "2025-12-01T07:00"}, "name", "filled in"),
        ("/house/new", {"name": "A", "start": ""}, "start", "filled in"),
        ("/house/new", {"name": "A", "start": "2025-13-01"}, "start", "not a day there is"),
        ("/house/new", {"name": "A", "start": "2065-01-01"}, "start", "many years off"),
        ("/house/new", {"name": "A", "start": "2025-12-01", "other_zone": "Mars/Base"},
         "other_zone", "Choose a time zone"),
        ("/house/calendars/new", {"name": "A", "day_2": "7-"}, "day_2", "are no hours"),
        ("/house/calendars/new", {"name": "A", "day_2": "25:00-26:00"}, "day_2", "are no hours"),
        ("/house/calendars/new", {"name": "Site week"}, "name", "already"),
        ("/house/calendars/new", {"name": "A", "day_1": "7-12, 11-15"}, "shifts", ""),
        (CREW, {"name": "A", "trade": ""}, "trade", "filled in"),
        (CREW, {"name": "A", "trade": "metal", "phone": "call me"}, "phone", "digits"),
        (CREW, {"name": "A", "trade": "metal", "can_field": "0"}, "can_field", "From"),
        (CREW, {"name": "A", "trade": "metal", "notice": "late"}, "notice", "length"),
        (f"{HOUSE}/floors/new", {"name": "Main floor"}, "name", "already"),
        (f"{HOUSE}/places/new", {"name": "A", "room_for": "50"}, "room_for", "From 1 to 20"),
        (f"{HOUSE}/ways/new", {"name": "A"}, "upper_id", "upper one"),
        (f"{HOUSE}/details/new?pattern=empty", {"name": "Garden stair rail", "sheet": "D9"},
         "name", "already"),
        (f"{HOUSE}/details/new?pattern=empty", {"name": "A", "sheet": ""}, "sheet", "filled in"),
        ("/d/garden-stair-rail/change", {"sheet": ""}, "sheet", "filled in"),
        (f"{HOUSE}/change", {"start": "2025-11-20T07:00"}, "start", "Work began"),
    ],
)  # fmt: skip
def test_a_refusal_stands_beside_its_field_and_what_was_typed_is_still_there(
    rail: Wall, rufus: Super, path: str, typed: Typed, field: str, said: str
) -> None:
    answer = rufus.send(path, typed)
    assert answer.status_code == 422
    assert said in refused(answer).get(field, "nothing beside it"), refused(answer)
    assert field in refused(answer)
    if field in typed:
        assert value_of(answer, field) == typed[field]


def test_hours_are_read_as_people_write_them(rail: Wall, rufus: Super) -> None:
    rufus.take(
        "/house/calendars/new",
        {"name": "Winter", "day_0": "8-noon, 12:30 pm - 4 pm",
         **{f"day_{n}": "" for n in range(1, 7)}},
    )  # fmt: skip
    (made,) = [c for c in rail.snapshot().calendars.values() if c.name == "Winter"]
    assert made.shifts == ("0 08:00 12:00", "0 12:30 16:00")


def test_a_calendar_sent_as_it_stands_stays_as_it_is(rail: Wall, rufus: Super) -> None:
    before = rail.snapshot().calendars["site"]
    rufus.take("/house/calendars/site/week", {})
    assert rail.snapshot().calendars["site"] == before


def test_a_crew_is_changed_and_keeps_what_was_not_typed_over(rail: Wall, rufus: Super) -> None:
    before = rail.snapshot().crews["ninepail-plaster"]
    rufus.take("/house/crews/ninepail-plaster", {"foreman": "Bea Lund"})
    after = rail.snapshot().crews["ninepail-plaster"]
    assert after.foreman == "Bea Lund"
    assert (after.phone, after.notice, after.least_visit) == (
        before.phone,
        before.notice,
        before.least_visit,
    )


def test_a_crew_that_is_counted_on_does_not_end_and_the_page_says_for_what(
    rail: Wall, rufus: Super
) -> None:
    answer = rufus.browser.post("/house/crews/ninepail-plaster", {"end": "yes"})
    assert answer.status_code == 422
    assert "still counted on" in refused(answer)["crew_id"]


def test_a_place_says_what_lies_open_below(rail: Wall, rufus: Super) -> None:
    rufus.take(
        f"{HOUSE}/places/new",
        {"name": "Landing", "floor_id": "Upper floor", "open_to": "Garden stair"},
    )
    assert "open to Garden stair below" in rufus.page(HOUSE).text


def test_the_same_form_sent_twice_makes_one_floor(rail: Wall, rufus: Super) -> None:
    path = f"{HOUSE}/floors/new"
    page = rufus.page(path)
    for _ in range(2):
        assert rufus.browser.send(page, path, {"name": "Attic"}).status_code == 303
    assert [f.name for f in rail.snapshot().floors.values()].count("Attic") == 1


def test_the_patterns_say_what_they_are_and_how_much_they_hold(rail: Wall, rufus: Super) -> None:
    page = rufus.page(f"{HOUSE}/details/new").text
    for pattern in all_patterns():
        checks = sum(a.kind == "hold" for a in pattern.chain)
        assert pattern.name in page
        assert f"{checks} checks" in page


@pytest.mark.parametrize("pattern", all_patterns(), ids=lambda p: p.id)
def test_a_detail_is_copied_from_each_pattern_for_the_crews_chosen(
    rail: Wall, rufus: Super, pattern: object
) -> None:
    id = pattern.id  # type: ignore[attr-defined]
    trades = pattern.trades  # type: ignore[attr-defined]
    trade = trades[1]
    plan = rufus.take(
        f"{HOUSE}/details/new?pattern={id}",
        {"name": "Another rail", "sheet": "D8", "place_id": "Garden stair",
         "crew_1": "ore-street-metal", "not_before": "2026-01-05T07:00"},
    )  # fmt: skip
    detail_id = plan.split("/")[2]
    snapshot = rail.snapshot()
    chain = snapshot.chain_of(detail_id)
    assert len(chain) == len(pattern.chain)  # type: ignore[attr-defined]
    wanted = [a.name for a in pattern.chain if a.who == trade]  # type: ignore[attr-defined]
    theirs = [a.name for a in chain if a.crew_id == "ore-street-metal"]
    assert set(wanted) <= set(theirs)
    assert min(a.not_before for a in chain if a.not_before) == datetime(2026, 1, 5, 7)
    page = rufus.page(plan).text
    assert "common practice" in page
    for activity in chain:
        assert rufus.browser.status(f"{plan}/{activity.id}") == 200


@pytest.mark.parametrize("pattern", all_patterns(), ids=lambda p: p.id)
def test_each_check_of_a_pattern_sent_as_it_stands_keeps_its_numbers(
    rail: Wall, rufus: Super, pattern: object
) -> None:
    id = pattern.id  # type: ignore[attr-defined]
    plan = rufus.take(f"{HOUSE}/details/new?pattern={id}", {"name": "Another rail", "sheet": "D8"})
    before = rail.snapshot()
    for activity in before.chain_of(plan.split("/")[2]):
        rufus.take(f"{plan}/{activity.id}", {})
    after = rail.snapshot()
    numbers = {a.id: (a.label, a.part, a.low, a.high, a.tag) for a in before.asks.values()}
    assert {a.id: (a.label, a.part, a.low, a.high, a.tag) for a in after.asks.values()} == numbers
    assert after.activities == before.activities
    assert after.holds == before.holds
    assert after.effects == before.effects


def test_a_detail_that_is_not_built_is_gone_from_the_house(rail: Wall, rufus: Super) -> None:
    rufus.take(f"{HOUSE}/details/new?pattern=empty", {"name": "Bench", "sheet": "D7"})
    (bench,) = [d.id for d in rail.snapshot().details.values() if d.name == "Bench"]
    path = f"/d/{bench}/change"
    assert "filled in" in refused(rufus.browser.post(path, {"end": "yes", "reason": ""}))["reason"]
    assert rufus.browser.post(path, {"end": "yes", "reason": "Cut"}).status_code == 303
    assert "Bench" not in {link.text for link in rufus.page(HOUSE).select("main a")}


def test_places_share_air_by_its_name(rail: Wall, rufus: Super) -> None:
    place = f"{HOUSE}/places/garden-stair"
    rufus.take(place, {"air": "Garden well"})
    assert rail.snapshot().places["garden-stair"].air == "Garden well"
    kept = rufus.page(place).select_one("#air")
    assert kept is not None
    assert kept["value"] == "Garden well"
    assert "air of its own: Garden well" in rufus.page(HOUSE).text
