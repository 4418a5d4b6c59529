"""Crews, persons, and what each may look at."""

from typing import Any

import pytest

from server.core.changes.people import EndCrew, EndPerson, Give, KeepCrew, KeepPerson, TakeAway
from tests.core.changes.pressing import NOW, pressed, refused
from tests.worlds import World, a_project, on

WORLD = (
    a_project()
    .with_crew("Ninepail Plaster", trade="plaster")
    .with_crew("Haymow Insulation", trade="insulation", ended=on("Nov 28"))
    .with_person("Ines Abel", title="engineer")
    .with_detail("Garden stair rail")
)


def a_crew(**other: Any) -> KeepCrew:
    return KeepCrew(**{"id": "c9", "name": "Ore Street Metal", "trade": "Metal", **other})


def test_a_new_trade_joins_the_company_s_list() -> None:
    after = pressed(WORLD, a_crew())
    assert after.crews["c9"].trade == "metal"
    assert after.company.trades == ("framing", "plaster", "metal")


def test_a_crew_is_changed_in_place() -> None:
    after = pressed(World(pressed(WORLD, a_crew())), a_crew(phone="+1 555 0100", can_field=2))
    assert (after.crews["c9"].phone, after.crews["c9"].can_field) == ("+1 555 0100", 2)
    assert after.crews["c9"].version == 2


@pytest.mark.parametrize(
    ("other", "id", "field"),
    [
        ({"id": ""}, "input.id_taken", "id"),
        ({"name": ""}, "input.no_name", "name"),
        ({"name": "ninepail plaster"}, "input.name_taken", "name"),
        ({"trade": ""}, "input.no_name", "trade"),
        ({"phone": "call me"}, "people.bad_phone", "phone"),
        ({"language": "English"}, "input.not_a_choice", "language"),
        ({"calendar_id": "nights"}, "change.gone", "calendar_id"),
        ({"can_field": 0}, "input.number_outside", "can_field"),
        ({"least_visit": -1}, "input.number_outside", "least_visit"),
        ({"notice": 61 * 1440}, "input.number_outside", "notice"),
        ({"id": "haymow-insulation"}, "change.gone", "id"),
    ],
)
def test_a_wrong_crew_is_refused_at_its_field(other: Any, id: str, field: str) -> None:
    assert refused(WORLD, a_crew(**other)) == (id, field)


def test_the_name_of_an_ended_crew_is_free() -> None:
    assert pressed(WORLD, a_crew(name="Haymow Insulation")).crews["c9"]


def test_an_ended_crew_takes_its_people_along() -> None:
    after = pressed(WORLD, EndCrew(crew_id="ninepail-plaster"))
    assert after.crews["ninepail-plaster"].ended == NOW
    assert after.people["ninepail-plaster-lead"].ended == NOW
    assert after.people["ines-abel"].ended is None


@pytest.mark.parametrize(
    "world",
    [
        WORLD.with_task("Hang board", crew="Ninepail Plaster"),
        WORLD.with_task("Hang board", with_crew_ids=("ninepail-plaster",)),
        WORLD.with_check("Lath", marks="Ninepail Plaster"),
    ],
    ids=["its own work", "work together", "a check it marks"],
)
def test_a_crew_that_is_counted_on_is_not_ended(world: World) -> None:
    assert refused(world, EndCrew(crew_id="ninepail-plaster")) == (
        "people.crew_counted_on",
        "crew_id",
    )


def test_a_crew_whose_work_is_done_may_be_ended() -> None:
    done = {"started": on("Dec 1"), "finished": on("Dec 1 15:30")}
    world = WORLD.with_task("Hang board", crew="Ninepail Plaster", **done)
    assert pressed(world, EndCrew(crew_id="ninepail-plaster")).crews["ninepail-plaster"].ended


def a_person(**other: Any) -> KeepPerson:
    return KeepPerson(**{"id": "x9", "name": "Lou Vance", "role": "rep", **other})


@pytest.mark.parametrize(
    ("other", "id", "field"),
    [
        ({"name": " "}, "input.no_name", "name"),
        ({"role": "boss"}, "input.not_a_choice", "role"),
        ({"role": "crew"}, "people.lead_needs_crew", "crew_id"),
        ({"role": "rep", "crew_id": "ninepail-plaster"}, "people.no_crew_for_role", "crew_id"),
        ({"role": "crew", "crew_id": "haymow-insulation"}, "change.gone", "crew_id"),
        ({"phone": "12"}, "people.bad_phone", "phone"),
        ({"email": "lou at work"}, "people.bad_email", "email"),
        ({"units": "cubits"}, "input.not_a_choice", "units"),
        ({"answers_in": -1}, "input.number_outside", "answers_in"),
        ({"id": "rufus-orme"}, "people.last_super", "role"),
    ],
)
def test_a_wrong_person_is_refused_at_their_field(other: Any, id: str, field: str) -> None:
    assert refused(WORLD, a_person(**other)) == (id, field)


def test_a_lead_belongs_to_a_crew() -> None:
    after = pressed(WORLD, a_person(role="crew", crew_id="ninepail-plaster", phone="(555) 010-0"))
    assert after.people["x9"].crew_id == "ninepail-plaster"


def test_somebody_always_runs_the_work() -> None:
    assert refused(WORLD, EndPerson(person_id="rufus-orme")) == ("people.last_super", "person_id")
    world = WORLD.with_person("Ada Lind", role="super")
    assert pressed(world, EndPerson(person_id="rufus-orme")).people["rufus-orme"].ended == NOW


def test_a_person_is_ended_whatever_waits_on_them() -> None:
    world = WORLD.with_check("Lath", releases="Ines Abel")
    assert pressed(world, EndPerson(person_id="ines-abel")).people["ines-abel"].ended == NOW


def test_giving_again_replaces_what_was_given() -> None:
    command = Give(id="g9", person_id="ines-abel", detail_ids=("garden-stair-rail",))
    given = [g for g in pressed(WORLD, command).given.values() if g.person_id == "ines-abel"]
    assert [g.detail_ids for g in given] == [("garden-stair-rail",)]


def test_only_a_detail_there_is_can_be_given() -> None:
    command = Give(id="g9", person_id="ines-abel", detail_ids=("attic",))
    assert refused(WORLD, command) == ("change.gone", "detail_ids")


def test_what_is_taken_away_is_not_there_to_take_again() -> None:
    after = pressed(WORLD, TakeAway(person_id="ines-abel"))
    assert "ines-abel" not in {g.person_id for g in after.given.values()}
    assert refused(World(after), TakeAway(person_id="ines-abel")) == (
        "people.nothing_given",
        "person_id",
    )
