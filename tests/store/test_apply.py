"""A change: all of it or nothing, by who may, once."""

from dataclasses import replace
from datetime import datetime

import pytest
from sqlalchemy import insert

from server.core.changes import Actor, ChangedSince, Gone
from server.core.changes.inputs import BadInput
from server.core.changes.people import EndPerson, KeepCrew, KeepPerson
from server.core.changes.places import AddFloor, ChangeProject, KeepPlace, StartProject
from server.core.rights import Hidden, NotTheirs
from server.core.world import Person, Place, Snapshot
from server.settings import Settings
from server.store import OPERATOR, CannotKeep, Store, open_store
from server.store.tables import NOUNS
from tests.store.logged import company_entries
from tests.store.worlds import another_company
from tests.worlds import COMPANY, PROJECT, on

RUFUS = Actor(person_id="rufus-orme", name="Rufus Orme", role="super")
LEAD = Actor(
    person_id="ninepail-plaster-lead", name="Lead", role="crew", crew_id="ninepail-plaster"
)
ATTIC = AddFloor(id="attic", name="Attic")


def fresh(settings: Settings) -> Snapshot:
    """The house as another process reads it."""
    store = open_store(settings)
    read = store.snapshot(PROJECT)
    store.close()
    return read


def test_a_change_is_on_disk_when_apply_returns(house: Store, migrated: Settings) -> None:
    applied = house.apply(RUFUS, PROJECT, ATTIC)
    assert fresh(migrated) == applied.after
    assert applied.after.floors["attic"].name == "Attic"


def test_a_change_counts_both_revisions_up(house: Store) -> None:
    company, project = house.revisions(PROJECT)
    applied = house.apply(RUFUS, PROJECT, ATTIC)
    assert house.revisions(PROJECT) == (company + 1, project + 1)
    assert applied.revision == project + 1


def test_several_commands_are_one_change_with_one_entry(house: Store) -> None:
    before = house.log(PROJECT)
    loft = KeepPlace(id="loft", name="Loft", floor_id="attic")
    applied = house.apply(RUFUS, PROJECT, ATTIC, loft)
    [entry] = house.log(PROJECT)[: -len(before)]
    assert entry.commands == ("AddFloor", "KeepPlace")
    assert entry.said == applied.said
    assert [said.id for said in entry.said] == ["log.floor_added", "log.place_kept"]


def test_a_rule_that_refuses_midway_leaves_nothing(house: Store, migrated: Settings) -> None:
    before, log = fresh(migrated), house.log(PROJECT)
    with pytest.raises(BadInput):
        house.apply(RUFUS, PROJECT, ATTIC, replace(ATTIC, id="second"), key="k")
    assert fresh(migrated) == before == house.snapshot(PROJECT)
    assert house.log(PROJECT) == log
    assert house.apply(RUFUS, PROJECT, ATTIC, key="k").first_at is None


def test_rows_that_are_gone_are_deleted_and_changed_ones_keep_their_id(house: Store) -> None:
    house.apply(RUFUS, PROJECT, ATTIC, KeepPlace(id="loft", name="Loft", floor_id="attic"))
    house.apply(RUFUS, PROJECT, KeepPlace(id="loft", name="Landing", floor_id="attic"))
    place = house.snapshot(PROJECT).places["loft"]
    assert (place.name, place.version) == ("Landing", 2)


def test_the_kept_snapshot_equals_a_fresh_one_down_to_the_order(
    house: Store, migrated: Settings
) -> None:
    for id in ("zenith", "attic", "middle"):
        kept = house.apply(RUFUS, PROJECT, AddFloor(id=id, name=id)).after
        read = fresh(migrated)
        assert kept == read == house.snapshot(PROJECT)
        assert list(kept.floors) == list(read.floors)


def test_a_version_that_somebody_changed_since_is_refused(house: Store) -> None:
    house.apply(RUFUS, PROJECT, ATTIC, KeepPlace(id="loft", name="Loft", floor_id="attic"))
    landing = KeepPlace(id="loft", name="Landing", floor_id="attic", seen={"loft": 1})
    house.apply(RUFUS, PROJECT, landing)
    with pytest.raises(ChangedSince):
        house.apply(RUFUS, PROJECT, replace(landing, name="Bench"))


# -- the company alone ---------------------------------------------------------------------------

CREW = KeepCrew(id="glazing", name="Larch Glazing", trade="plaster")


def test_a_change_of_the_company_alone_counts_only_its_revision(house: Store) -> None:
    company, project = house.revisions(PROJECT)
    applied = house.apply(RUFUS, None, CREW, company_id=COMPANY)
    assert house.revisions(PROJECT) == (company + 1, project)
    assert applied.revision == company + 1
    assert "glazing" in house.snapshot(PROJECT).crews


def test_a_change_of_the_company_alone_is_logged_without_a_project(house: Store) -> None:
    house.apply(RUFUS, None, CREW, company_id=COMPANY)
    entry = company_entries(house, COMPANY)[0]
    assert (entry.commands, entry.project_id, entry.revision) == (("KeepCrew",), None, None)
    assert "KeepCrew" not in [name for row in house.log(PROJECT) for name in row.commands]


def test_a_new_project_begins_its_own_log(house: Store) -> None:
    start = StartProject(
        id="p2", name="Mill Lane", time_zone="America/Denver", start=on("Dec 1"), calendar_id="site"
    )
    applied = house.apply(RUFUS, None, start, ATTIC, company_id=COMPANY)
    assert applied.revision == 1
    assert house.snapshot("p2") == applied.after
    assert [row.commands for row in house.log("p2")] == [("StartProject", "AddFloor")]
    assert [p.id for p in house.projects(COMPANY)] == ["p2", PROJECT]


def test_the_operator_adds_the_first_people(house: Store) -> None:
    ines = KeepPerson(id="ines", name="Ines Halloran", role="super")
    house.apply(OPERATOR, None, ines, company_id=COMPANY)
    entry = company_entries(house, COMPANY)[0]
    assert (entry.person_id, entry.person_name) == (None, "operator")
    assert "ines" in house.snapshot(PROJECT).people


# -- who may -------------------------------------------------------------------------------------


def test_the_super_of_another_company_does_not_see_the_project(house: Store) -> None:
    another_company(house)
    ada = Actor(person_id="ada", name="Ada", role="super")
    with pytest.raises(Hidden):
        house.apply(ada, PROJECT, ATTIC)
    assert house.apply(ada, "other-house", ATTIC).after.floors.keys() == {"attic"}


def test_a_person_who_has_ended_may_not_change_anything(house: Store) -> None:
    house.apply(OPERATOR, None, KeepPerson(id="i", name="Ines", role="super"), company_id=COMPANY)
    house.apply(OPERATOR, None, EndPerson(person_id="rufus-orme"), company_id=COMPANY)
    with pytest.raises(Hidden):
        house.apply(RUFUS, PROJECT, ATTIC)


def test_the_role_is_that_of_the_persons_row_and_not_what_the_session_says(house: Store) -> None:
    with pytest.raises(NotTheirs):
        house.apply(replace(LEAD, role="super"), PROJECT, ATTIC)


def test_a_project_that_is_not_there_is_gone(house: Store) -> None:
    with pytest.raises(Gone):
        house.apply(RUFUS, "nowhere", ATTIC)
    with pytest.raises(Gone):
        house.snapshot("nowhere")
    with pytest.raises(Gone):
        house.apply(RUFUS, None, CREW, company_id="nowhere")


# -- what no row can hold ------------------------------------------------------------------------


def test_an_id_that_another_project_has_is_not_kept(house: Store, migrated: Settings) -> None:
    another_company(house)
    house.apply(OPERATOR, "other-house", ATTIC)
    before = fresh(migrated)
    with pytest.raises(CannotKeep):
        house.apply(RUFUS, PROJECT, ATTIC)
    assert fresh(migrated) == before


def test_text_that_no_database_holds_is_not_kept(house: Store, migrated: Settings) -> None:
    before = fresh(migrated)
    with pytest.raises((CannotKeep, BadInput)):
        house.apply(RUFUS, PROJECT, AddFloor(id="half", name="half a sign: \ud800"))
    assert fresh(migrated) == before


def test_an_enumerated_text_is_one_of_its_values(house: Store) -> None:
    person = replace(house.snapshot(PROJECT).people["rufus-orme"], id="x", role="boss")
    values = {name: getattr(person, name) for name in Person.__dataclass_fields__}
    with pytest.raises(CannotKeep), house.writing() as connection:
        connection.execute(insert(NOUNS[Person]).values(values))


def test_nothing_joins_two_projects(house: Store) -> None:
    another_company(house)
    place = Place(id="loft", project_id="other-house", name="Loft", floor_id="main-floor")
    row = {name: getattr(place, name) for name in Place.__dataclass_fields__}
    with pytest.raises(CannotKeep), house.writing() as connection:
        connection.execute(insert(NOUNS[Place]).values(**row, company_id="other"))


def test_no_project_of_one_company_is_kept_under_another(house: Store) -> None:
    another_company(house)
    place = Place(id="loft", project_id=PROJECT, name="Loft", floor_id="main-floor")
    row = {name: getattr(place, name) for name in Place.__dataclass_fields__}
    with pytest.raises(CannotKeep), house.writing() as connection:
        connection.execute(insert(NOUNS[Place]).values(**row, company_id="other"))


# -- the clock -----------------------------------------------------------------------------------


def test_a_given_time_is_the_time_of_the_entry(house: Store) -> None:
    house.apply(RUFUS, PROJECT, ATTIC, at=on("Dec 3 10:52"))
    assert house.log(PROJECT)[0].at == on("Dec 3 10:52")


def test_a_frozen_clock_is_the_time_of_every_entry_of_the_company(house: Store) -> None:
    other = another_company(house)
    frozen = replace(house.snapshot(other.id).company, id="frozen", frozen_at=on("Dec 3 10:52"))
    calendar = replace(
        house.snapshot(other.id).calendars["other-site"], id="c", company_id="frozen"
    )
    project = replace(other, id="p", company_id="frozen", calendar_id="c")
    house.found_company(frozen, calendar, project)
    house.apply(OPERATOR, "p", ATTIC)
    assert [row.at for row in house.log("p")] == [on("Dec 3 10:52")] * 2


def test_the_log_keeps_the_phone_and_its_clock_beside_the_servers(house: Store) -> None:
    phone_clock = datetime(2025, 12, 3, 10, 40)
    house.apply(RUFUS, PROJECT, ATTIC, device="Rufus's phone", phone_clock=phone_clock)
    entry = house.log(PROJECT)[0]
    assert (entry.device, entry.phone_clock) == ("Rufus's phone", phone_clock)
    assert entry.server_at > datetime(2025, 12, 3)


def test_renaming_the_project_changes_its_row_and_keeps_its_revision_going(house: Store) -> None:
    here = house.snapshot(PROJECT).project
    change = ChangeProject(
        project_id=PROJECT,
        name="Quarry Road, north",
        time_zone=here.time_zone,
        start=here.start,
        calendar_id=here.calendar_id,
    )
    first = house.apply(RUFUS, PROJECT, change)
    second = house.apply(RUFUS, PROJECT, ATTIC)
    assert second.revision == first.revision + 1
    assert house.snapshot(PROJECT).project.name == "Quarry Road, north"
